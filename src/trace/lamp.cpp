// SPDX-License-Identifier: MIT
#include "trace/lamp.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/simd_math.h"

namespace dishwright {

namespace {

constexpr int padded(int n) { return (n + 15) / 16 * 16; }

/// Sine and cosine of 2π·u to unit length.
struct Turns {
  BlockArray<double> sine, cosine;
  Turns(const float* u, int n) {
    BlockArray<float> s, c;
    sincos_of_turns(u, s.data(), c.data(), padded(n));
    for (int i = 0; i < n; ++i) {
      const double a = s[i], b = c[i], scale = 1 / std::sqrt(a * a + b * b);
      sine[i] = a * scale, cosine[i] = b * scale;
    }
  }
};

/// Start and direction of one path in the lamp's own frame.
struct OwnRay {
  Vector3 from, along;
};

/// A point even on a disc of this radius.
struct DiscPoint {
  double x, y, left;  // left: √(radius² − x² − y²)
  DiscPoint(double radius, double u, double sine, double cosine)
      : x(radius * std::sqrt(u) * cosine), y(radius * std::sqrt(u) * sine), left(radius * std::sqrt(1 - u)) {}
};

OwnRay from_ball(double u, double sine, double cosine, const DiscPoint& on_outline) {
  const double z = 2 * u - 1, r = 2 * std::sqrt(u * (1 - u));
  const Vector3 along(r * cosine, r * sine, z);
  // Across the ray: along the meridian and along the parallel.
  const Vector3 meridian(z * cosine, z * sine, -r), parallel(-sine, cosine, 0);
  return {on_outline.x * meridian + on_outline.y * parallel + on_outline.left * along, along};
}

OwnRay from_disk(double u, double sine, double cosine, const DiscPoint& place) {
  const double sin_angle = std::sqrt(u);
  return {Vector3(place.x, place.y, 0), Vector3(sin_angle * cosine, sin_angle * sine, -std::sqrt(1 - u))};
}

OwnRay from_line(double length, double u, double sine, double cosine, double place) {
  const double y = line_cosine(u), r = std::sqrt(1 - y * y);
  return {Vector3(0, (place - 0.5) * length, 0), Vector3(r * cosine, y, r * sine)};
}

}  // namespace

// With c = cos(g/2), g from 0 to 2π: g − sin g = 2π (1 − u). The half above π mirrors the half below.
double line_cosine(double u) {
  const double turn = 2 * std::numbers::pi, rest = turn * std::min(u, 1 - u);
  double g = std::cbrt(6 * rest);  // below the root; the next step lies above it, then Newton's steps only fall
  for (int i = 0; i < 8; ++i) {
    const double half = std::sin(g / 2), slope = 2 * half * half;
    if (slope <= 0) break;
    g = std::min(g - (g - std::sin(g) - rest) / slope, std::numbers::pi);
  }
  const double c = std::cos(g / 2);
  return u < 0.5 ? -c : c;
}

void start_from_lamp(const Lamp& lamp, int n, const DrawBlock& draws, RayBlock& rays) {
  const auto by = [&](Draw purpose) { return draws[static_cast<std::size_t>(purpose)].data(); };
  const float *direction = by(Draw::disc_radius), *a = by(Draw::position_a), *b = by(Draw::position_b);
  const Turns around(by(Draw::disc_turn), n), place(b, n);
  const BallLamp* ball = std::get_if<BallLamp>(&lamp.shape);
  const DiskLamp* disk = std::get_if<DiskLamp>(&lamp.shape);
  const double width = ball != nullptr ? ball->width : disk != nullptr ? disk->width : 0;
  const Matrix3 turn = lamp.pose.turn;
  rays.n = n;
  for (int i = 0; i < n; ++i) {
    const DiscPoint point(width / 2, a[i], place.sine[i], place.cosine[i]);
    const double u = direction[i], s = around.sine[i], c = around.cosine[i];
    const OwnRay own = ball != nullptr   ? from_ball(u, s, c, point)
                       : disk != nullptr ? from_disk(u, s, c, point)
                                         : from_line(std::get<LineLamp>(lamp.shape).length, u, s, c, a[i]);
    const Vector3 from = turn * own.from + lamp.pose.at, along = turn * own.along;
    rays.ox[i] = from.x(), rays.oy[i] = from.y(), rays.oz[i] = from.z();
    rays.dx[i] = along.x(), rays.dy[i] = along.y(), rays.dz[i] = along.z();
    rays.weight[i] = full_weight;
    rays.start_gap[i] = 0;
    rays.own_surface[i] = -1, rays.own_again[i] = 0;
    rays.lane[i] = static_cast<std::uint32_t>(i);
    rays.bounces[i] = 0;
    rays.crossed[i] = 0;
  }
}

}  // namespace dishwright
