// SPDX-License-Identifier: MIT
#include "shape/profile.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace dishwright {

std::vector<ShapeValue> Profile::values() const {
  std::vector<ShapeValue> all = {length, width, hole_width, trough ? 1.0 : 0.0};
  for (const ProfileCurve::Span& span : curve->spans()) {
    for (const double value : {span.from, span.to, span.c0, span.c1, span.c2, span.c3}) all.emplace_back(value);
  }
  return all;
}

PlanOutline Profile::plan() const {
  if (!trough) return ring(width, hole_width);
  PlanOutline plan = rectangle(width, length);
  // The curve may lie to one side of the axis.
  plan.x_from = curve->start(), plan.x_to = curve->rim();
  return plan;
}

// Beyond its rim it goes on straight.
Heights Profile::heights() const {
  return heights_from([curve = curve, trough = trough](double x, double y) {
    const double place = trough ? x : std::hypot(x, y), on = std::clamp(place, curve->start(), curve->rim());
    const ProfileCurve::Span& span = curve->span_at(on);
    const double slope = span.slope(on), per = place > 0 ? slope / place : 0;
    return HeightAt{span.height(on) + slope * (place - on), trough ? slope : per * x, trough ? 0 : per * y};
  });
}

Patches Profile::patches() const {
  const auto part = [this](double from, double to) {
    const Curve across = curve_of(from, to, [c = curve](double x) {
      const double inside = std::clamp(x, c->start(), c->rim());
      return std::pair(c->height(inside), c->slope(inside));
    });
    return trough ? drawn_out(across, length) : turned(across);
  };
  const double first = trough ? curve->start() : hole_width / 2;
  if (curve->kind() == CurveKind::fair) return part(first, curve->rim());
  Patches all;
  for (const ProfileCurve::Span& span : curve->spans()) {
    if (span.to > first) all.push_back(part(std::max(first, span.from), span.to).front());
  }
  return all;
}

std::string Profile::details(const LengthWords& /*say*/) const {
  return fmt::format(", a {} after {} points joined by a {}", trough ? "trough" : "dish", curve->spans().size() + 1,
                     curve->kind() == CurveKind::fair ? "smooth curve" : "chain of straight lines");
}

}  // namespace dishwright
