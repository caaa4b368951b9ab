// SPDX-License-Identifier: MIT
#include "shape/offset_paraboloid.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quantity.h"

namespace dishwright {

PlanOutline OffsetParaboloid::plan() const {
  PlanOutline plan = ring(width, hole_width);
  plan.y_middle = clearance + width / 2;
  return plan;
}

HeightRange OffsetParaboloid::height_range() const {
  const double far_edge = clearance + width;
  return {clearance > 0 ? height(clearance) : 0, height(std::max(std::abs(clearance), far_edge))};
}

Patches OffsetParaboloid::patches() const {
  constexpr double turn = 2 * std::numbers::pi;
  MirrorPatch patch;
  patch.closed = true;
  patch.at = [s = *this](double u, double v) {
    const double from = s.hole_width / 2, to = s.width / 2, rho = from + (to - from) * u;
    const double x = rho * std::cos(turn * v), y = s.clearance + to + rho * std::sin(turn * v), twice = 2 * s.focal_length;
    const Vector3 steep(-x / twice, -y / twice, 1);
    return MirrorPoint{{x, y, (x * x + y * y) / (2 * twice)}, steep.normalized(), turn * rho * (to - from) * steep.norm()};
  };
  return {patch};
}

RimEdges OffsetParaboloid::near_and_far_edge() const {
  const double far_edge = clearance + width;
  return {Vector3(0, clearance, height(clearance)), Vector3(0, far_edge, height(far_edge))};
}

std::vector<ShapeProblem> OffsetParaboloid::problems(const std::string& /*called*/) const {
  if (clearance >= -width / 2 * size_rounding) return {};
  return {
      {"clearance", "the mirror lies on the other side of the axis",
       fmt::format("the near edge is {} beyond the axis, more than half the width of {}", in_both(-clearance), in_both(width)),
       "count the clearance from the axis toward +y, and turn the reflector instead"}};
}

}  // namespace dishwright
