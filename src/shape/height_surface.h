// SPDX-License-Identifier: MIT
// Surfaces that are a height over a plane: revolved curves, flawed dishes, measured ones.
#pragma once

namespace dishwright {

/// A surface z = h(x, y) over a round or rectangular plan, in its own frame; the bright side faces +z.
class HeightSurface {
 public:
  HeightSurface() = default;
  HeightSurface(const HeightSurface&) = default;
  HeightSurface& operator=(const HeightSurface&) = default;
  virtual ~HeightSurface() = default;
  /// Heights h [m] and slopes ∂h/∂x, ∂h/∂y [1] at n places [m]. Goes on smoothly a little beyond the rim (1 % of the width), so that a
  /// search may overstep it.
  virtual void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const = 0;
};

}  // namespace dishwright
