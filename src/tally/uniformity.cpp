// SPDX-License-Identifier: MIT
#include "tally/uniformity.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

int UniformityCircle::part(double at_x, double at_y) const {
  const double u = (at_x - x) / radius, v = (at_y - y) / radius, r = std::hypot(u, v);
  if (!(r < 1)) return -1;
  const int ring = std::min(static_cast<int>(r * rings), rings - 1), pieces = 2 * ring + 1;  // the rings before hold ring² parts
  const double turns = std::atan2(v, u) / (2 * std::numbers::pi);
  const int piece = static_cast<int>((turns < 0 ? turns + 1 : turns) * pieces);
  return ring * ring + std::min(piece, pieces - 1);
}

UniformityCircle uniformity_circle(const Scene& scene, const Target& target, const TargetScale& aim) {
  UniformityCircle circle;
  if (!scene.lamp || !aim.window.any) return circle;
  circle.x = aim.centre_x, circle.y = aim.centre_y, circle.radius = aim.r50;
  const TargetBody body = body_of(target.shape);
  if (!body.is_plate()) return circle;
  const TargetFace& face = body.faces()[0];
  circle.any = face.form == FaceForm::disc
                   ? std::hypot(circle.x, circle.y) + circle.radius <= face.radius
                   : std::abs(circle.x) + circle.radius <= face.half_x && std::abs(circle.y) + circle.radius <= face.half_y;
  return circle;
}

double uniformity(const std::array<double, UniformityCircle::parts>& sum, std::size_t darkest) {
  double all = 0;
  for (const double part : sum) all += part;
  return all > 0 ? UniformityCircle::parts * sum[darkest] / all : 0;
}

}  // namespace dishwright
