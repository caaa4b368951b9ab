// SPDX-License-Identifier: MIT
#include "trace/emission.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/lanes.h"

namespace dishwright {

struct Emission::Points {
  Lane<double> x, y, z;  // own frame
  Lane<std::uint8_t> counts;
};

namespace {

constexpr double turn = 2 * std::numbers::pi;

/// Slope dz/dr (or dz/dx) at the rim; infinite for a full hemisphere.
double rim_slope(const Piece& piece) {
  const Quadric<double>& q = piece.quadric;
  const double rim = q.b != 0 ? std::sqrt(piece.region.r2_to) : piece.region.x_half;
  if (q.a == 0) return 0;  // flat
  const double below_centre = q.d - q.c * piece.box_high.z();
  return below_centre > 0 ? rim / below_centre : std::numeric_limits<double>::infinity();
}

bool is_round(const Piece& piece) { return piece.quadric.b != 0; }

/// Do the mirrors' outlines seen from the sun keep clear of one another?
bool outlines_apart(const PieceList& list, const Vector3& sun, int piece) {
  const Piece& one = list.pieces[static_cast<std::size_t>(piece)];
  for (int k = 0; k < list.reflector_count; ++k) {
    if (k == piece) continue;
    const Piece& other = list.pieces[static_cast<std::size_t>(k)];
    const Vector3 apart = other.middle() - one.middle();
    const double across = (apart - apart.dot(sun) * sun).norm();
    if (across < (one.reach() + other.reach()) * (1 + 1e-9)) return false;
  }
  return true;
}

}  // namespace

Emission::Emission(const Scene& scene, const PieceList& list, const World& world)
    : list_(list),
      world_(world),
      disc_(scene.sun.disc, scene.sun.half_angle, scene.sun.aureole_share),
      sun_(scene.sun.direction()) {
  if (scene.lamp) return;  // then nothing comes from the sun
  for (int k = 0; k < list.reflector_count; ++k) {
    Patch patch = look_at(scene, k);
    if (!patch.exact) make_mask(patch, list.pieces[static_cast<std::size_t>(k)]);
    every_point_counts_ = every_point_counts_ && patch.exact;
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
  const Piece& piece = list_.pieces[static_cast<std::size_t>(k)];
  Patch patch;
  patch.piece = k;
  patch.sun = scene.reflectors[static_cast<std::size_t>(k)].pose.turn.transpose() * sun_;
  patch.east = patch.sun.unitOrthogonal();
  patch.north = patch.sun.cross(patch.east);
  const Vector3& s = patch.sun;
  const double slope = rim_slope(piece);
  // One side only, everywhere: the leaning sun is never below the tangent of the rim.
  const double lean = is_round(piece) ? std::hypot(s.x(), s.y()) : std::abs(s.x());
  const bool one_side = lean == 0 || (std::isfinite(slope) && lean * slope < std::abs(s.z()) * (1 - 1e-9));
  patch.exact = one_side && (s.z() > 0 || piece.quadric.a == 0) && outlines_apart(list_, sun_, k);
  if (!patch.exact) return patch;
  if (is_round(piece)) {
    const double hole2 = std::max(0.0, piece.region.r2_from);
    patch.area = std::numbers::pi * (piece.region.r2_to - hole2) * s.z();
    patch.lean = lean / s.z();
    patch.lean_turn = std::atan2(s.y(), s.x()) / turn;
    const double strength = patch.lean * slope;
    if (lean > 0) patch.kepler_steps = strength < 0.02 ? 2 : strength < 0.2 ? 3 : strength < 0.6 ? 5 : 12;
  } else {
    patch.area = 4 * piece.region.x_half * piece.region.y_half * std::abs(s.z());
  }
  return patch;
}

// Cells of 1/128 of the mirror's outline box; a cell is kept if one of four probes in it or in a neighbour meets the mirror.
void Emission::make_mask(Patch& patch, const Piece& piece) const {
  constexpr int side = 128;
  patch.frame_east = sun_.unitOrthogonal();
  patch.frame_north = sun_.cross(patch.frame_east);
  const double half = piece.reach() * (1 + 1e-6);
  patch.east_from = piece.middle().dot(patch.frame_east) - half;
  patch.north_from = piece.middle().dot(patch.frame_north) - half;
  patch.cell_east = patch.cell_north = 2 * half / side;
  std::vector<std::uint8_t> meets(static_cast<std::size_t>(side * side), 0);
  const double away = 2 * world_.reach() + 1;
  RayBlock rays;
  for (int row = 0; row < side; ++row) {
    rays.n = 0;
    for (int probe = 0; probe < side * 4; ++probe) {
      const int column = probe / 4;
      const double east = patch.east_from + (column + 0.25 + 0.5 * (probe % 2)) * patch.cell_east;
      const double north = patch.north_from + (row + 0.25 + 0.5 * (probe / 2 % 2)) * patch.cell_north;
      const Vector3 start = east * patch.frame_east + north * patch.frame_north + away * sun_;
      const std::size_t i = static_cast<std::size_t>(rays.n++);
      rays.ox[i] = start.x(), rays.oy[i] = start.y(), rays.oz[i] = start.z();
      rays.dx[i] = -sun_.x(), rays.dy[i] = -sun_.y(), rays.dz[i] = -sun_.z();
      rays.start_gap[i] = 0;
    }
    world_.nearest(Among::mirrors, rays, std::numeric_limits<float>::infinity());
    for (int probe = 0; probe < side * 4; ++probe) {
      if (rays.piece[static_cast<std::size_t>(probe)] == patch.piece) meets[static_cast<std::size_t>(row * side + probe / 4)] = 1;
    }
  }
  double marked = 0;
  std::vector<double> cumulative;
  for (int row = 0; row < side; ++row) {
    std::vector<int> columns;
    for (int column = 0; column < side; ++column) {
      bool near = false;
      for (int r = std::max(0, row - 1); r <= std::min(side - 1, row + 1); ++r) {
        for (int c = std::max(0, column - 1); c <= std::min(side - 1, column + 1); ++c) {
          near = near || meets[static_cast<std::size_t>(r * side + c)] != 0;
        }
      }
      if (near) columns.push_back(column);
    }
    if (columns.empty()) continue;
    marked += static_cast<double>(columns.size());
    patch.row_of.push_back(row);
    patch.columns.push_back(std::move(columns));
    cumulative.push_back(marked);
  }
  for (const double value : cumulative) patch.row_share.push_back(value / marked);
  patch.area = marked * patch.cell_east * patch.cell_north;
}

void Emission::start(int n, const DrawBlock& draws, Arrivals& out) const {
  out.clear();
  if (candidate_area_ <= 0) return;
  // Which mirror: by the first number, which is then stretched over that mirror.
  Lane<std::uint32_t> lane;
  Lane<float> a, b, disc_radius, disc_turn;
  const auto by = [&](Draw purpose) -> const auto& { return draws[static_cast<std::size_t>(purpose)]; };
  if (patches_.size() == 1) {  // all paths, in order
    Points points;
    for (std::size_t i = 0; i < block_size; ++i) lane[i] = static_cast<std::uint32_t>(i);
    draw_points(patches_[0], n, by(Draw::position_a).data(), by(Draw::position_b).data(), points);
    add_directions(patches_[0], n, by(Draw::disc_radius).data(), by(Draw::disc_turn).data(), lane.data(), points, out);
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
    Points points;
    const Patch& patch = patches_[k];
    draw_points(patch, count, a.data(), b.data(), points);
    add_directions(patch, count, disc_radius.data(), disc_turn.data(), lane.data(), points, out);
  }
}

void Emission::draw_points(const Patch& patch, int n, const float* a, const float* b, Points& points) const {
  if (patch.exact) {
    draw_exact(patch, n, a, b, points);
  } else {
    draw_masked(patch, n, a, b, points);
  }
}

void Emission::draw_exact(const Patch& patch, int n, const float* a, const float* b, Points& points) const {
  const Piece& piece = list_.pieces[static_cast<std::size_t>(patch.piece)];
  const Quadric<double> q = piece.quadric;
  for (int i = 0; i < n; ++i) points.counts[static_cast<std::size_t>(i)] = 1;
  if (is_round(piece)) {
    draw_round(patch, n, a, b, points);
    return;
  }
  // Even in p = s_z·x − s_x·z(x), the distance across the sun's direction; then x from p.
  const double half = piece.region.x_half, length = 2 * piece.region.y_half;
  const double sx = patch.sun.x(), sz = patch.sun.z(), radius = q.d;
  const double tip = bowl_height(q, q.a * half * half);
  const double p_from = -sz * half - sx * tip, p_to = sz * half - sx * tip;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const double p = p_from + (p_to - p_from) * a[i];
    double x;
    if (q.a == 0) {
      x = p / sz;
    } else if (q.c == 0) {
      x = 2 * p / (sz + std::sqrt(std::max(0.0, sz * sz - 2 * (sx / q.d) * p)));
    } else {
      const double across = sx * sx + sz * sz;
      const double sine = (p + sx * radius) / radius;  // of (α + β), times √across
      x = radius * (sine * sz - std::sqrt(std::max(0.0, across - sine * sine)) * sx) / across;
    }
    points.x[static_cast<std::size_t>(i)] = std::clamp(x, -half, half);
    points.y[static_cast<std::size_t>(i)] = length * (b[i] - 0.5);
    points.z[static_cast<std::size_t>(i)] = bowl_height(q, q.a * x * x);
  }
}

// Even in area seen from the sun: r² is even; the azimuth ψ about the leaning direction has density 1 − g cos ψ, g = lean · slope(r),
// so ψ − g sin ψ = 2π u, solved by Newton steps.
void Emission::draw_round(const Patch& patch, int n, const float* a, const float* b, Points& points) const {
  const Piece& piece = list_.pieces[static_cast<std::size_t>(patch.piece)];
  const Quadric<double> q = piece.quadric;
  const double hole2 = std::max(0.0, piece.region.r2_from), span = piece.region.r2_to - hole2;
  const int padded = (n + 15) / 16 * 16;
  Lane<float> turns, sine, cosine;
  std::copy(b, b + padded, turns.begin());
  sincos_of_turns(turns.data(), sine.data(), cosine.data(), padded);
  for (int step = 0; step < patch.kepler_steps; ++step) {
#pragma omp simd
    for (int i = 0; i < padded; ++i) {
      const float r2 = static_cast<float>(hole2 + span * a[i]);
      const float depth = static_cast<float>(std::sqrt(std::max(1e-30, q.d * q.d - q.c * r2)));
      const float g = static_cast<float>(patch.lean) * std::sqrt(r2) / depth;
      const float miss = turns[i] - g * sine[i] * static_cast<float>(1 / turn) - b[i];
      turns[i] = std::clamp(turns[i] - miss / (1 - g * cosine[i]), 0.0F, 1.0F);
    }
    sincos_of_turns(turns.data(), sine.data(), cosine.data(), padded);
  }
  const double c = std::cos(turn * patch.lean_turn), s = std::sin(turn * patch.lean_turn);
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const double r2 = hole2 + span * a[i];
    const double r = std::sqrt(r2);
    points.x[i] = r * (c * cosine[i] - s * sine[i]);
    points.y[i] = r * (s * cosine[i] + c * sine[i]);
    points.z[i] = bowl_height(q, r2);
  }
}

void Emission::draw_masked(const Patch& patch, int n, const float* a, const float* b, Points& points) const {
  const Piece& piece = list_.pieces[static_cast<std::size_t>(patch.piece)];
  const double away = 2 * world_.reach() + 1;
  RayBlock rays;
  rays.n = n;
  for (int i = 0; i < n; ++i) {
    // Row by the first number, column by the second; what is left of each places the point in its cell.
    const std::size_t k = static_cast<std::size_t>(i);
    const double u = a[i];
    const std::size_t row = std::min<std::size_t>(
        static_cast<std::size_t>(std::upper_bound(patch.row_share.begin(), patch.row_share.end(), u) - patch.row_share.begin()),
        patch.row_share.size() - 1);
    const double row_from = row == 0 ? 0 : patch.row_share[row - 1];
    const std::vector<int>& columns = patch.columns[row];
    const double place = b[i] * static_cast<double>(columns.size());
    const std::size_t column = std::min(static_cast<std::size_t>(place), columns.size() - 1);
    const double north =
        patch.north_from + (patch.row_of[row] + (u - row_from) / (patch.row_share[row] - row_from)) * patch.cell_north;
    const double east = patch.east_from + (columns[column] + place - static_cast<double>(column)) * patch.cell_east;
    const Vector3 start = east * patch.frame_east + north * patch.frame_north + away * sun_;
    rays.ox[k] = start.x(), rays.oy[k] = start.y(), rays.oz[k] = start.z();
    rays.dx[k] = -sun_.x(), rays.dy[k] = -sun_.y(), rays.dz[k] = -sun_.z();
    rays.start_gap[k] = 0;
  }
  world_.nearest(Among::mirrors, rays, std::numeric_limits<float>::infinity());
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    points.counts[i] = rays.piece[i] == patch.piece ? 1 : 0;
    const Vector3 start(rays.ox[i], rays.oy[i], rays.oz[i]);
    const Vector3 own = piece.pose.turn.transpose() * (start - piece.pose.at);
    const Vector3& s = patch.sun;
    // The crossing nearest to what the world found, exact on the surface.
    const Quadric<double>& q = piece.quadric;
    const double t = root_near(ray_equation(q, own.x(), own.y(), own.z(), -s.x(), -s.y(), -s.z()), rays.distance[i]);
    if (!std::isfinite(t)) points.counts[i] = 0;
    const Vector3 point = own - (std::isfinite(t) ? t : 0) * s;
    points.x[i] = point.x(), points.y[i] = point.y(), points.z[i] = point.z();
  }
}

void Emission::append_all(int n, const std::uint32_t* lane, const Points& points, const Lane<double>& dx, const Lane<double>& dy,
                          const Lane<double>& dz, Arrivals& out) {
  const int base = out.n;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    out.x[base + i] = points.x[i], out.y[base + i] = points.y[i], out.z[base + i] = points.z[i];
    out.dx[base + i] = dx[i], out.dy[base + i] = dy[i], out.dz[base + i] = dz[i];
    out.weight[base + i] = full_weight;
  }
  for (int i = 0; i < n; ++i) {
    const std::size_t k = static_cast<std::size_t>(base + i);
    out.lane[k] = lane[i];
    out.bounces[k] = 0;
    out.crossed[k] = 0;
  }
  out.n += n;
}

void Emission::append_counting(int n, const std::uint32_t* lane, const Points& points, const Lane<double>& dx,
                               const Lane<double>& dy, const Lane<double>& dz, Arrivals& out) {
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    if (points.counts[i] == 0) continue;
    const std::size_t k = static_cast<std::size_t>(out.n++);
    out.x[k] = points.x[i], out.y[k] = points.y[i], out.z[k] = points.z[i];
    out.dx[k] = dx[i], out.dy[k] = dy[i], out.dz[k] = dz[i];
    out.weight[k] = full_weight;
    out.lane[k] = lane[i];
    out.bounces[k] = 0;
    out.crossed[k] = 0;
  }
}

void Emission::add_directions(const Patch& patch, int n, const float* a, const float* b, const std::uint32_t* lane,
                              const Points& points, Arrivals& out) const {
  const Quadric<double> q = list_.pieces[static_cast<std::size_t>(patch.piece)].quadric;
  const int padded = (n + 15) / 16 * 16;
  Lane<float> sin_angle, sine, cosine;
  disc_.sin_angles(a, sin_angle.data(), padded);
  sincos_of_turns(b, sine.data(), cosine.data(), padded);
  const Vector3 s = patch.sun, e = patch.east, f = patch.north;
  Lane<double> dx, dy, dz;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    // Tangents of the incidence along east and north; the gradient is as good as the normal, either side.
    const double gx = q.a * points.x[i], gy = q.b * points.y[i], gz = q.c * points.z[i] - q.d;
    const double along = gx * s.x() + gy * s.y() + gz * s.z();
    const double scale = 1 / (std::abs(along) + 1e-12);
    const double sign = along < 0 ? -1.0 : 1.0;
    const double te = sign * (gx * e.x() + gy * e.y() + gz * e.z()) * scale;
    const double tn = sign * (gx * f.x() + gy * f.y() + gz * f.z()) * scale;
    const double sa = sin_angle[i], ca = std::sqrt(1 - sa * sa);
    // Azimuth φ + τ (te sin φ − tn cos φ) = v, τ = tan of the ray's angle: two orders of the small shift.
    const double tau = sa / ca;
    const double c0 = cosine[i], s0 = sine[i];
    const double h = te * s0 - tn * c0, slope = te * c0 + tn * s0;
    const double shift = std::clamp(tau * h * (1 - tau * slope), -0.3, 0.3);
    const double cs = 1 - shift * shift / 2, ss = shift * (1 - shift * shift / 6);
    const double c = c0 * cs + s0 * ss, w = s0 * cs - c0 * ss;
    dx[i] = -(ca * s.x() + sa * (c * e.x() + w * f.x()));
    dy[i] = -(ca * s.y() + sa * (c * e.y() + w * f.y()));
    dz[i] = -(ca * s.z() + sa * (c * e.z() + w * f.z()));
  }
  const int begin = out.n;
  if (patch.exact) {
    append_all(n, lane, points, dx, dy, dz, out);
  } else {
    append_counting(n, lane, points, dx, dy, dz, out);
  }
  if (out.n > begin) out.groups.push_back({patch.piece, begin, out.n});
}

}  // namespace dishwright
