// SPDX-License-Identifier: MIT
#include "report/yard/mirror_hull.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

double crossed(const YardPoint& from, const YardPoint& a, const YardPoint& b) {
  return (a.right - from.right) * (b.up - from.up) - (a.up - from.up) * (b.right - from.right);
}

}  // namespace

std::vector<Vector3> mirror_places(const Reflector& mirror) {
  constexpr int rings = 6, around = 48;
  const PlanOutline plan = plan_of(mirror.shape);
  const HeightRange range = std::visit([](const auto& shape) { return shape.height_range(); }, mirror.shape);
  const Heights surface = built_surface(mirror);
  const double x = (plan.low_x() + plan.high_x()) / 2, y = (plan.low_y() + plan.high_y()) / 2;
  const double half_x = (plan.high_x() - plan.low_x()) / 2, half_y = (plan.high_y() - plan.low_y()) / 2;
  std::vector<Vector3> places;
  for (int ring = 0; ring <= rings; ++ring) {
    for (int k = 0; k < around; ++k) {
      const double share = static_cast<double>(ring) / rings, angle = 2 * std::numbers::pi * k / around;
      double right = std::cos(angle), up = std::sin(angle);
      if (!plan.round) {  // onto the rectangle
        const double most = std::max(std::abs(right), std::abs(up));
        right /= most, up /= most;
      }
      const Vector3 own(x + share * half_x * right, y + share * half_y * up, 0);
      const double height =
          surface ? height_at(*surface, own.x(), own.y()).height : range.low + (range.high - range.low) * share * share;
      places.push_back(mirror.pose.turn * Vector3(own.x(), own.y(), height) + mirror.pose.at);
    }
  }
  return places;
}

std::vector<YardPoint> seen_hull(const std::vector<Vector3>& places, const Vector3& right, const Vector3& up) {
  std::vector<YardPoint> points;
  points.reserve(places.size());
  for (const Vector3& at : places) points.push_back({at.dot(right), at.dot(up)});
  std::sort(points.begin(), points.end(),
            [](const YardPoint& a, const YardPoint& b) { return a.right != b.right ? a.right < b.right : a.up < b.up; });
  std::vector<YardPoint> hull;
  for (const int pass : {0, 1}) {  // below from the left, above from the right
    const std::size_t start = hull.size();
    for (const YardPoint& one : points) {
      while (hull.size() >= start + 2 && crossed(hull[hull.size() - 2], hull.back(), one) <= 0) hull.pop_back();
      hull.push_back(one);
    }
    hull.pop_back();
    if (pass == 0) std::reverse(points.begin(), points.end());
  }
  return hull;
}

}  // namespace dishwright
