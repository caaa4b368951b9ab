// SPDX-License-Identifier: MIT
// Surfaces that are a height over a plane: revolved curves, flawed dishes, measured ones.
#pragma once

#include <memory>
#include <utility>

namespace dishwright {

/// A surface z = h(x, y) over a round or rectangular plan, in its own frame; the bright side faces +z.
class HeightSurface {
 public:
  HeightSurface() = default;
  HeightSurface(const HeightSurface&) = default;
  HeightSurface& operator=(const HeightSurface&) = default;
  virtual ~HeightSurface() = default;
  /// Heights h [m] and slopes ∂h/∂x, ∂h/∂y [1] at n places [m]. Goes on smoothly a little beyond the rim (1 % of the width), so
  /// that a search may overstep it.
  virtual void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const = 0;
};

using Heights = std::shared_ptr<const HeightSurface>;

/// Height and slopes over one place.
struct HeightAt {
  double height = 0;                ///< [m]
  double slope_x = 0, slope_y = 0;  ///< ∂h/∂x, ∂h/∂y [1]
};

/// A surface from a function (x, y) → HeightAt.
template <class Function>
Heights heights_from(Function at) {
  class Made : public HeightSurface {
   public:
    explicit Made(Function function) : at_(std::move(function)) {}
    void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override {
      for (int i = 0; i < n; ++i) {
        const HeightAt one = at_(x[i], y[i]);
        h[i] = one.height, slope_x[i] = one.slope_x, slope_y[i] = one.slope_y;
      }
    }

   private:
    Function at_;
  };
  return std::make_shared<Made>(std::move(at));
}

/// Of a surface over one place.
inline HeightAt height_at(const HeightSurface& surface, double x, double y) {
  HeightAt at;
  surface.heights(1, &x, &y, &at.height, &at.slope_x, &at.slope_y);
  return at;
}

}  // namespace dishwright
