// SPDX-License-Identifier: MIT
#include "shape/pressed.h"

namespace dishwright {

// With q = r²/R²: z = depth q (2 − q), which loses no digits near the middle; ∂z/∂x = (4 depth/R²) (1 − q) x.
Heights Pressed::heights() const {
  return heights_from([depth = depth, rim2 = width * width / 4](double x, double y) {
    const double q = (x * x + y * y) / rim2, slope = 4 * depth / rim2 * (1 - q);
    return HeightAt{depth * q * (2 - q), slope * x, slope * y};
  });
}

}  // namespace dishwright
