// SPDX-License-Identifier: MIT
#include "trace/lamp.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/simd_math.h"
#include "base/wide.h"

namespace dishwright {

namespace {

constexpr int padded(int n) { return (n + 15) / 16 * 16; }

/// Sine and cosine of 2π·u to unit length.
struct Turns {
  BlockArray<double> sine, cosine;
  Turns(const float* u, int n) {
    BlockArray<float> s, c;
    sincos_of_turns(u, s.data(), c.data(), padded(n));
#pragma omp simd
    for (int i = 0; i < n; ++i) {
      const double a = s[i], b = c[i], scale = 1 / std::sqrt(a * a + b * b);
      sine[i] = a * scale, cosine[i] = b * scale;
    }
  }
};

/// Start and direction of one path in the lamp's own frame.
struct OwnRay {
  double x, y, z, u, v, w;
};

/// Even on a disc of the lamp's radius: the place, and how high its ball is there.
struct DiscPlace {
  double x, y, left;
};
inline DiscPlace on_disc(double radius, double share, double sine, double cosine) {
  const double r = radius * std::sqrt(share);
  return {r * cosine, r * sine, radius * std::sqrt(1 - share)};
}

/// From the middle of the ball's outline across the ray: along the meridian and along the parallel.
inline OwnRay from_ball(double share, double sine, double cosine, const DiscPlace& at) {
  const double z = 2 * share - 1, r = 2 * std::sqrt(share * (1 - share));
  return {at.x * z * cosine - at.y * sine + at.left * r * cosine,
          at.x * z * sine + at.y * cosine + at.left * r * sine,
          at.left * z - at.x * r,
          r * cosine,
          r * sine,
          z};
}

inline OwnRay from_disk(double share, double sine, double cosine, const DiscPlace& at) {
  const double r = std::sqrt(share);
  return {at.x, at.y, 0, r * cosine, r * sine, -std::sqrt(1 - share)};
}

/// `along` is the cosine to the line.
inline OwnRay from_line(double along, double sine, double cosine, double place) {
  const double r = std::sqrt(1 - along * along);
  return {0, place, 0, r * cosine, along, r * sine};
}

/// Rays in the frame, from what own(i) says of each in the lamp's.
template <class Own>
void lay_out(const Pose& pose, int n, const Own& own, RayBlock& rays) {
  const Matrix3 m = pose.turn;
  const Vector3 at = pose.at;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const OwnRay ray = own(i);
    rays.ox[i] = m(0, 0) * ray.x + m(0, 1) * ray.y + m(0, 2) * ray.z + at.x();
    rays.oy[i] = m(1, 0) * ray.x + m(1, 1) * ray.y + m(1, 2) * ray.z + at.y();
    rays.oz[i] = m(2, 0) * ray.x + m(2, 1) * ray.y + m(2, 2) * ray.z + at.z();
    rays.dx[i] = m(0, 0) * ray.u + m(0, 1) * ray.v + m(0, 2) * ray.w;
    rays.dy[i] = m(1, 0) * ray.u + m(1, 1) * ray.v + m(1, 2) * ray.w;
    rays.dz[i] = m(2, 0) * ray.u + m(2, 1) * ray.v + m(2, 2) * ray.w;
  }
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

namespace {

void start_rays(const Lamp& lamp, int n, const DrawBlock& draws, RayBlock& rays) {
  const auto by = [&](Draw purpose) { return draws[static_cast<std::size_t>(purpose)].data(); };
  const float *direction = by(Draw::disc_radius), *a = by(Draw::position_a), *b = by(Draw::position_b);
  const Turns around(by(Draw::disc_turn), n), place(b, n);
  rays.n = n;
  if (const BallLamp* ball = std::get_if<BallLamp>(&lamp.shape)) {
    const double radius = ball->width / 2;
    const auto own = [&](int i) {
      return from_ball(direction[i], around.sine[i], around.cosine[i], on_disc(radius, a[i], place.sine[i], place.cosine[i]));
    };
    lay_out(lamp.pose, n, own, rays);
  } else if (const DiskLamp* disk = std::get_if<DiskLamp>(&lamp.shape)) {
    const double radius = disk->width / 2;
    const auto own = [&](int i) {
      return from_disk(direction[i], around.sine[i], around.cosine[i], on_disc(radius, a[i], place.sine[i], place.cosine[i]));
    };
    lay_out(lamp.pose, n, own, rays);
  } else {
    const double length = std::get<LineLamp>(lamp.shape).length;
    BlockArray<double> along;
    for (int i = 0; i < n; ++i) along[i] = line_cosine(direction[i]);
    const auto own = [&](int i) { return from_line(along[i], around.sine[i], around.cosine[i], (a[i] - 0.5) * length); };
    lay_out(lamp.pose, n, own, rays);
  }
  for (int i = 0; i < n; ++i) {
    rays.weight[i] = full_weight;
    rays.start_gap[i] = 0;
    rays.own_surface[i] = -1, rays.own_again[i] = 0;
    rays.lane[i] = static_cast<std::uint32_t>(i);
    rays.bounces[i] = 0;
    rays.crossed[i] = 0;
  }
}

}  // namespace

void start_from_lamp(const Lamp& lamp, int n, const DrawBlock& draws, RayBlock& rays) {
  on_wide_lanes<start_rays>(lamp, n, draws, rays);
}

}  // namespace dishwright
