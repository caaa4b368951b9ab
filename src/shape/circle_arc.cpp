// SPDX-License-Identifier: MIT
#include "shape/circle_arc.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/quantity.h"

namespace dishwright {

double circle_height(double radius, double x) { return radius - std::sqrt(std::max(0.0, radius * radius - x * x)); }

std::vector<ShapeProblem> wider_than_circle(double radius, double width) {
  if (width <= 2 * radius * size_rounding) return {};
  return {{"width", "the bowl is wider than the circle it is cut from",
           fmt::format("the width is {}, the circle only 2 x radius = {}", in_both(width), in_both(2 * radius)),
           fmt::format("make width {} at most, or make radius larger", in_both(2 * radius))}};
}

}  // namespace dishwright
