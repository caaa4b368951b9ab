// SPDX-License-Identifier: MIT
#include "blur/straight.h"

#include <cmath>
#include <numbers>

#include "base/rule.h"
#include "blur/outline.h"
#include "blur/sun_kernel.h"

namespace dishwright {

namespace {

/// Mean over the sun of the cosine at a face whose normal makes `cosine` with the sun's centre; 0 where the ray comes from behind.
double mean_cosine(const Sun& sun, double cosine) {
  const SunRings rings = sun_rings(sun, 16);
  const double sine = std::sqrt(std::max(0.0, 1 - cosine * cosine));
  double mean = 0;
  for (std::size_t j = 0; j < rings.share.size(); ++j) {
    for (int k = 0; k < 32; ++k) {
      const double side = rings.tangent[j] * std::cos(2 * std::numbers::pi * (k + 0.5) / 32);
      mean += rings.share[j] / 32 * std::max(0.0, cosine + side * sine);
    }
  }
  return mean;
}

/// Share of the front that sees the sun's centre past all mirrors, on n × n places.
double free_share(const Scene& scene, const Target& target, int n) {
  const bool round = std::holds_alternative<DiskTarget>(target.shape);
  const auto* rectangle = std::get_if<RectangleTarget>(&target.shape);
  const double half_x = std::visit([](const auto& s) { return s.width / 2; }, target.shape);
  const double half_y = rectangle != nullptr ? rectangle->length / 2 : half_x;
  const Vector3 sun = scene.sun.direction();
  int seen = 0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      double x = (2 * (i + 0.5) / n - 1) * half_x, y = (2 * (j + 0.5) / n - 1) * half_y;
      if (round) {
        const double radius = half_x * std::sqrt((i + 0.5) / n), angle = 2 * std::numbers::pi * (j + 0.5) / n;
        x = radius * std::cos(angle), y = radius * std::sin(angle);
      }
      const Vector3 place = target.pose.turn * Vector3(x, y, 0) + target.pose.at;
      bool free = true;
      for (const Reflector& mirror : scene.reflectors) {
        const Matrix3 back = mirror.pose.turn.transpose();
        free = free && !Outline(mirror.shape).blocks(back * (place - mirror.pose.at), back * sun);
      }
      seen += free ? 1 : 0;
    }
  }
  return static_cast<double>(seen) / (n * n);
}

}  // namespace

Estimate straight_power(const Scene& scene, const Target& target) {
  const double mean = mean_cosine(scene.sun, -target.pose.turn.col(2).dot(scene.sun.direction()));
  if (mean <= 0) return {0, std::nullopt, "W"};
  const double all = scene.sun.beam * counted_area(target.shape) * mean;
  const double fine = free_share(scene, target, 64), coarse = free_share(scene, target, 45);
  return {all * fine, all * std::abs(fine - coarse), "W"};
}

}  // namespace dishwright
