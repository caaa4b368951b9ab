// SPDX-License-Identifier: MIT
// What the image module and the program agree on. Plain C data, because the module is loaded by name when an image is written.
#pragma once

#include <cstddef>

extern "C" {

/// A text or a number that is stored beside the pixels.
struct ImageNote {
  const char* name;
  const char* text;  ///< null: `number` counts
  double number;
};

/// One part of an image with floats: one channel, rows from the top.
struct ImagePart {
  const char* name;
  const char* channel;
  int columns, rows;
  const float* values;
  const ImageNote* notes;
  int note_count;
};

/// Receives the encoded file. Called once on success.
using TakeBytes = void (*)(void* receiver, const char* bytes, std::size_t count);

/// Returns 0, or 1 with a message in `error`.
int dishwright_encode_exr(const ImagePart* parts, int part_count, TakeBytes take, void* receiver, char* error,
                          std::size_t error_size);
}
