// SPDX-License-Identifier: MIT
// Image files as bytes: PNG for people, EXR with the numbers. The encoder of EXR lives in a module that is loaded at its first
// call.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "picture/pixels.h"

namespace dishwright {

/// PNG, 8 bits for red, green and blue, sRGB; alpha is left out. Same bytes for the same picture. Throws WriteError.
std::string png_bytes(const Pixels& pixels);

/// One part of a float image: one channel of 32-bit floats, with texts and numbers beside it.
struct FloatPart {
  std::string name;
  std::string channel;
  int columns = 0, rows = 0;
  std::vector<float> values;  ///< rows from the top
  std::vector<std::pair<std::string, std::variant<std::string, double>>> notes;
};

/// OpenEXR, one part of the file for each given part. Same bytes for the same input. Throws WriteError if the image module is
/// missing or fails.
std::string exr_bytes(const std::vector<FloatPart>& parts);

}  // namespace dishwright
