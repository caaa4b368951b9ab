// SPDX-License-Identifier: MIT
#include "shape/ellipsoid.h"

#include <fmt/format.h>

#include "base/quantity.h"

namespace dishwright {

std::vector<ShapeProblem> Ellipsoid::problems(const std::string& /*called*/) const {
  const std::string radius = format_quantity(near_focus, Dimension::length, &all_units().front());
  auto all = wrong_foci(near_focus, far_focus, "such an ellipsoid is a sphere",
                        fmt::format("write shape = \"sphere\" with radius = \"{}\"", radius));
  const double widest = ellipsoid_widest(near_focus, far_focus);
  if (!all.empty() || width <= widest * size_rounding) return all;
  return {
      {"width", "the mirror is wider than the ellipsoid it is cut from",
       fmt::format("the width is {}, the ellipsoid only 2 x sqrt(near_focus x far_focus) = {}", in_both(width), in_both(widest)),
       fmt::format("make width {} at most, or move the foci", in_both(widest))}};
}

}  // namespace dishwright
