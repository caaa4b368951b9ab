// SPDX-License-Identifier: MIT
#include "trace/emission.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/simd_math.h"
#include "base/wide.h"
#include "trace/tiles_apart.h"

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

/// Slope dz/dr (or dz/dx) at the rim; infinite for a full hemisphere.
double rim_slope(const Surface& surface) {
  const Quadric<double>& q = surface.quadric;
  const double rim = q.b != 0 ? std::sqrt(surface.region.r2_to) : surface.region.x_half;
  if (q.a == 0) return 0;  // flat
  const double below_centre = q.d - q.c * surface.box_high.z();
  return below_centre > 0 ? rim / below_centre : std::numeric_limits<double>::infinity();
}

/// A quadric of revolution, cut about its own axis?
bool is_round(const Surface& surface) { return surface.quadric.b != 0 && surface.region.y_middle == 0; }

/// Do the mirrors' outlines seen from the sun keep clear of one another?
bool outlines_apart(const SurfaceList& list, const Vector3& sun, int surface) {
  const Surface& one = list.surfaces[static_cast<std::size_t>(surface)];
  for (int k = 0; k < list.reflector_count; ++k) {
    if (k == surface) continue;
    const Surface& other = list.surfaces[static_cast<std::size_t>(k)];
    const Vector3 apart = other.middle() - one.middle();
    const double across = (apart - apart.dot(sun) * sun).norm();
    if (across < (one.reach() + other.reach()) * (1 + 1e-9)) return false;
  }
  return true;
}

}  // namespace

Emission::Emission(const Scene& scene, const SurfaceList& list, const World& world)
    : list_(list),
      world_(world),
      disc_(scene.sun.disc, scene.sun.half_angle, scene.sun.aureole_share),
      sun_(scene.sun.direction()) {
  if (scene.lamp) return;  // then nothing comes from the sun
  for (int k = 0; k < list.reflector_count; ++k) {
    Patch patch = look_at(scene, k);
    every_point_counts_ = every_point_counts_ && patch.every_point_counts();
    candidate_area_ += patch.area;
    patches_.push_back(std::move(patch));
  }
  double sum = 0;
  for (const Patch& patch : patches_) {
    sum += patch.area;
    patch_share_.push_back(candidate_area_ > 0 ? sum / candidate_area_ : 0);
  }
}

Emission::Patch Emission::look_at(const Scene& scene, int k) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(k)];
  Patch patch;
  patch.surface = k;
  patch.sun = scene.reflectors[static_cast<std::size_t>(k)].pose.turn.transpose() * sun_;
  patch.east = patch.sun.unitOrthogonal();
  patch.north = patch.sun.cross(patch.east);
  const Vector3& s = patch.sun;
  if (surface.kind == SurfaceKind::tiles) {
    weigh_tiles(patch, surface);
  } else if (surface.kind == SurfaceKind::quadric) {
    look_at_quadric(patch, surface);
  }
  // Height over a plan, under a sun on its axis: every point of the plan counts.
  const bool height_over_plan =
      surface.kind == SurfaceKind::petals || surface.kind == SurfaceKind::heights || surface.region.y_middle != 0;
  if (height_over_plan && s.x() == 0 && s.y() == 0 && s.z() > 0) {
    const Region<double>& region = surface.region;
    const bool round = std::isfinite(region.r2_to);
    patch.way = Way::upright;
    patch.area = round ? std::numbers::pi * (region.r2_to - std::max(0.0, region.r2_from)) : 4 * region.x_half * region.y_half;
  }
  patch.alone = outlines_apart(list_, sun_, k) &&
                (surface.kind != SurfaceKind::tiles || tiles_apart(surface, patch.sun, std::tan(disc_.largest_angle())));
  if (patch.way == Way::mask) make_mask(patch, surface);
  return patch;
}

// Is a surface, met at this cosine by light from the sun's centre, on the same side for all of the disc, with room to spare?
bool Emission::clear_of_disc(double cosine) const {
  constexpr double most = 0.2;  // tan i × the disc's angle
  return cosine > 0 && std::sqrt(std::max(0.0, 1 - cosine * cosine)) * std::tan(disc_.largest_angle()) <= most * cosine;
}

// One side only, everywhere: the leaning sun, with all its disc, is never below the tangent of the rim.
void Emission::look_at_quadric(Patch& patch, const Surface& surface) const {
  const Vector3& s = patch.sun;
  const double slope = rim_slope(surface);
  const bool round = is_round(surface);
  const double lean = round ? std::hypot(s.x(), s.y()) : std::abs(s.x());
  const double level = std::isfinite(slope) ? 1 / std::hypot(1.0, slope) : 0, steep = std::isfinite(slope) ? slope * level : 1;
  const bool on_axis = s.x() == 0 && s.y() == 0;
  const bool one_side = on_axis || clear_of_disc(std::abs(s.z()) * level - lean * steep);
  if (!one_side || (s.z() <= 0 && surface.quadric.a != 0) || (!round && surface.quadric.b != 0)) return;
  if (round) {
    const double hole2 = std::max(0.0, surface.region.r2_from);
    patch.way = Way::round;
    patch.area = std::numbers::pi * (surface.region.r2_to - hole2) * s.z();
    patch.lean = lean / s.z();
    patch.lean_turn = std::atan2(s.y(), s.x()) / turn;
    const double strength = patch.lean * slope;
    if (lean > 0) patch.kepler_steps = strength < 0.02 ? 2 : strength < 0.2 ? 3 : strength < 0.6 ? 5 : 12;
  } else {
    patch.way = Way::band;
    patch.area = 4 * surface.region.x_half * surface.region.y_half * std::abs(s.z());
  }
}

void Emission::start(int n, const DrawBlock& draws, Arrivals& out) const {
  out.clear();
  if (candidate_area_ <= 0) return;
  // Which mirror: by the first number, which is then stretched over that mirror.
  BlockArray<std::uint32_t> lane;
  BlockArray<float> a, b, disc_radius, disc_turn;
  const auto by = [&](Draw purpose) -> const auto& { return draws[static_cast<std::size_t>(purpose)]; };
  if (patches_.size() == 1) {  // all paths, in order
    for (std::size_t i = 0; i < block_size; ++i) lane[i] = static_cast<std::uint32_t>(i);
    add_patch(patches_[0], n, by(Draw::position_a).data(), by(Draw::position_b).data(), by(Draw::disc_radius).data(),
              by(Draw::disc_turn).data(), lane.data(), out);
    return;
  }
  double from = 0;
  for (std::size_t k = 0; k < patches_.size(); ++k) {
    const double to = k + 1 == patches_.size() ? 2.0 : patch_share_[k];
    const float scale = static_cast<float>(patch_share_[k] > from ? 1 / (patch_share_[k] - from) : 0);
    int count = 0;
    for (int i = 0; i < n; ++i) {
      const std::size_t s = static_cast<std::size_t>(i);
      const float u = by(Draw::position_a)[s];
      if (u < from || u >= to) continue;
      const std::size_t t = static_cast<std::size_t>(count++);
      lane[t] = static_cast<std::uint32_t>(i);
      a[t] = std::clamp((u - static_cast<float>(from)) * scale, 0.0F, 1.0F - 0x1p-24F);
      b[t] = by(Draw::position_b)[s];
      disc_radius[t] = by(Draw::disc_radius)[s];
      disc_turn[t] = by(Draw::disc_turn)[s];
    }
    from = patch_share_[k];
    if (count == 0) continue;
    for (std::size_t t = static_cast<std::size_t>(count); t % 16 != 0; ++t) a[t] = b[t] = disc_radius[t] = disc_turn[t] = 0.5F;
    add_patch(patches_[k], count, a.data(), b.data(), disc_radius.data(), disc_turn.data(), lane.data(), out);
  }
}

void Emission::add_patch(const Patch& patch, int n, const float* a, const float* b, const float* disc_radius,
                         const float* disc_turn, const std::uint32_t* lane, Arrivals& out) const {
  Counts counts;
  if (patch.way == Way::mask) {
    draw_from_sky(patch, n, a, b, disc_radius, disc_turn, out, counts);
  } else {
    draw_points(patch, n, a, b, out);
    on_wide_lanes<&Emission::draw_directions>(*this, patch, n, disc_radius, disc_turn, out);
    if (!patch.every_point_counts()) find_free(patch, n, out, counts);
  }
  const std::size_t begin = static_cast<std::size_t>(out.n), end = begin + static_cast<std::size_t>(n);
  std::fill(out.weight.begin() + begin, out.weight.begin() + end, full_weight);
  std::copy(lane, lane + n, out.lane.begin() + begin);
  std::fill(out.bounces.begin() + begin, out.bounces.begin() + end, std::uint8_t{0});
  std::fill(out.crossed.begin() + begin, out.crossed.begin() + end, std::uint64_t{0});
  if (patch.every_point_counts()) {
    out.n += n;
  } else {  // keep those that count
    for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
      if (counts[i] != 0) out.take(out, begin + i, static_cast<std::size_t>(out.n++));
    }
  }
  if (out.n > static_cast<int>(begin)) out.groups.push_back({patch.surface, static_cast<int>(begin), out.n});
}

// What leans away from the sun's centre is small: single precision is enough for it.
inline void Emission::draw_directions(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const int padded = (n + 15) / 16 * 16, begin = out.n;
  BlockArray<float> sin_angle, sine, cosine;
  disc_.sin_angles(a, sin_angle.data(), padded);
  sincos_of_turns(b, sine.data(), cosine.data(), padded);
  const Vector3 sun = patch.sun;
  const Eigen::Vector3f s = sun.cast<float>(), e = patch.east.cast<float>(), f = patch.north.cast<float>();
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    // Tangents of the incidence along east and north, the same for either side of the surface.
    const float gx = static_cast<float>(out.nx[begin + i]), gy = static_cast<float>(out.ny[begin + i]),
                gz = static_cast<float>(out.nz[begin + i]);
    const float along = gx * s.x() + gy * s.y() + gz * s.z();
    const float scale = 1 / (along + std::copysign(1e-12F, along));
    const float te = (gx * e.x() + gy * e.y() + gz * e.z()) * scale;
    const float tn = (gx * f.x() + gy * f.y() + gz * f.z()) * scale;
    const float sa = sin_angle[i], ca = std::sqrt(1 - sa * sa);
    // Azimuth φ + τ (te sin φ − tn cos φ) = v, τ = tan of the ray's angle: two orders of the small shift.
    const float drop = sa * sa / (1 + ca);  // 1 − cos
    const float tau = sa * (1 + drop);
    const float c0 = cosine[i], s0 = sine[i];
    const float h = te * s0 - tn * c0, slope = te * c0 + tn * s0;
    const float shift = std::clamp(tau * h * (1 - tau * slope), -0.3F, 0.3F);
    const float cs = 1 - shift * shift / 2, ss = shift * (1 - shift * shift / 6);
    const float c = sa * (c0 * cs + s0 * ss), w = sa * (s0 * cs - c0 * ss);
    out.dx[begin + i] = -(sun.x() + static_cast<double>(c * e.x() + w * f.x() - drop * s.x()));
    out.dy[begin + i] = -(sun.y() + static_cast<double>(c * e.y() + w * f.y() - drop * s.y()));
    out.dz[begin + i] = -(sun.z() + static_cast<double>(c * e.z() + w * f.z() - drop * s.z()));
  }
}

}  // namespace dishwright
