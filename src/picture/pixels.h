// SPDX-License-Identifier: MIT
// A picture in memory.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "picture/colour_scale.h"

namespace dishwright {

struct Pixels {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgba;  ///< rows from the top; red, green, blue, alpha; not premultiplied

  Colour at(int x, int y) const {
    const std::size_t i = 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x));
    return {rgba[i], rgba[i + 1], rgba[i + 2]};
  }
};

}  // namespace dishwright
