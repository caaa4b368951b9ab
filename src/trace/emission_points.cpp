// SPDX-License-Identifier: MIT
// Points on mirrors, even in area as seen from the sun's centre.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

#include "base/lanes.h"
#include "trace/emission.h"
#include "trace/surface.h"

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

/// A place even in area on a tile, from two numbers in (0, 1).
Vector3 tile_place(const TileSet& tiles, double a, double b) {
  const double half = tiles.width / 2;
  if (tiles.shape == TileShape::square) return {half * (2 * a - 1), half * (2 * b - 1), 0};
  if (tiles.shape == TileShape::round) {
    const double r = half * std::sqrt(a);
    return {r * std::cos(turn * b), r * std::sin(turn * b), 0};
  }
  // A hexagon is three rhombs with a corner in its middle.
  const double side = tiles.width / std::sqrt(3.0);
  const int rhomb = std::min(2, static_cast<int>(3 * a));
  const double u = side * (3 * a - rhomb), v = side * b, first = turn * (0.25 + rhomb / 3.0), second = first + turn / 3;
  return {u * std::cos(first) + v * std::cos(second), u * std::sin(first) + v * std::sin(second), 0};
}

}  // namespace

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

// Each tile counts by its area toward the sun's centre.
void Emission::weigh_tiles(Patch& patch, const Piece& piece) const {
  patch.way = Way::tiles;
  double sum = 0;
  for (const Element& element : *piece.elements) {
    sum += std::abs(element.turn.col(2).dot(patch.sun));
    patch.tile_share.push_back(sum);
  }
  for (double& share : patch.tile_share) share /= sum;
  patch.area = sum * tile_area(piece.tiles.shape, piece.tiles.width);
}

void Emission::draw_points(const Patch& patch, int n, const float* a, const float* b, Arrivals& out, Counts& counts) const {
  const Piece& piece = list_.pieces[static_cast<std::size_t>(patch.piece)];
  switch (patch.way) {
    case Way::round: draw_round(patch, n, a, b, out); break;
    case Way::band: draw_band(patch, n, a, b, out); break;
    case Way::upright: draw_upright(patch, n, a, b, out); return;
    case Way::tiles: draw_tiles(patch, n, a, b, out, counts); return;
    case Way::mask: draw_masked(patch, n, a, b, out, counts); return;
  }
  quadric_normals(piece, out.n, out.n + n, out);
}

void Emission::draw_band(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const Piece& piece = list_.pieces[static_cast<std::size_t>(patch.piece)];
  const Quadric<double> q = piece.quadric;
  // Even in p = s_z·x − s_x·z(x), the distance across the sun's direction; then x from p.
  const double half = piece.region.x_half, length = 2 * piece.region.y_half;
  const double sx = patch.sun.x(), sz = patch.sun.z(), radius = q.d;
  const double tip = bowl_height(q, q.a * half * half);
  const double p_from = -sz * half - sx * tip, p_to = sz * half - sx * tip;
  double *px = out.x.data() + out.n, *py = out.y.data() + out.n, *pz = out.z.data() + out.n;
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
    px[i] = std::clamp(x, -half, half);
    py[i] = length * (b[i] - 0.5);
    pz[i] = bowl_height(q, q.a * x * x);
  }
}

// Even in area seen from the sun: r² is even; the azimuth ψ about the leaning direction has density 1 − g cos ψ, g = lean · slope(r),
// so ψ − g sin ψ = 2π u, solved by Newton steps.
void Emission::draw_round(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
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
  const float c = static_cast<float>(std::cos(turn * patch.lean_turn)), s = static_cast<float>(std::sin(turn * patch.lean_turn));
  const float from = static_cast<float>(hole2), reach = static_cast<float>(span);
  double *px = out.x.data() + out.n, *py = out.y.data() + out.n, *pz = out.z.data() + out.n;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float r = std::sqrt(from + reach * a[i]);
    px[i] = static_cast<double>(r * (c * cosine[i] - s * sine[i]));
    py[i] = static_cast<double>(r * (s * cosine[i] + c * sine[i]));
  }
  // The height belongs to that very place, so that the point is on the surface to the last digit.
  const double per = 1 / (2 * q.d);
  if (q.c == 0) {
#pragma omp simd
    for (int i = 0; i < n; ++i) pz[i] = (px[i] * px[i] + py[i] * py[i]) * per;
  } else {
#pragma omp simd
    for (int i = 0; i < n; ++i) pz[i] = bowl_height(q, px[i] * px[i] + py[i] * py[i]);
  }
}

void Emission::draw_masked(const Patch& patch, int n, const float* a, const float* b, Arrivals& out, Counts& counts) const {
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
  // The crossing nearest to what the world found, exact on the surface.
  Meetings met;
  std::copy_n(rays.element.begin(), n, met.element.begin());
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    counts[i] = rays.piece[i] == patch.piece ? 1 : 0;
    if (counts[i] == 0) met.element[i] = 0, rays.distance[i] = static_cast<float>(away);
  }
  solve(piece,
        {rays.ox.data(), rays.oy.data(), rays.oz.data(), rays.dx.data(), rays.dy.data(), rays.dz.data(), rays.distance.data()}, n,
        met);
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    if (!std::isfinite(met.gap[i])) counts[i] = 0;
    if (counts[i] == 0) continue;
    const std::size_t to = static_cast<std::size_t>(out.n) + i;
    out.x[to] = met.x[i], out.y[to] = met.y[i], out.z[to] = met.z[i];
    out.nx[to] = met.nx[i], out.ny[to] = met.ny[i], out.nz[to] = met.nz[i];
  }
}

void Emission::draw_upright(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const Piece& piece = list_.pieces[static_cast<std::size_t>(patch.piece)];
  const Region<double>& region = piece.region;
  double *px = out.x.data() + out.n, *py = out.y.data() + out.n, *pz = out.z.data() + out.n;
  double *nx = out.nx.data() + out.n, *ny = out.ny.data() + out.n, *nz = out.nz.data() + out.n;
  if (std::isfinite(region.r2_to)) {
    const int padded = (n + 15) / 16 * 16;
    const double hole2 = std::max(0.0, region.r2_from), span = region.r2_to - hole2;
    Lane<float> sine, cosine;
    sincos_of_turns(b, sine.data(), cosine.data(), padded);
    for (int i = 0; i < n; ++i) {
      const double r = std::sqrt(hole2 + span * a[i]);
      px[i] = region.x_middle + r * cosine[i], py[i] = region.y_middle + r * sine[i];
    }
  } else {
    for (int i = 0; i < n; ++i) {
      px[i] = region.x_middle + region.x_half * (2 * a[i] - 1);
      py[i] = region.y_middle + region.y_half * (2 * b[i] - 1);
    }
  }
  if (piece.surface == SurfaceKind::relief) {
    piece.relief->heights(n, px, py, pz, nx, ny);
    for (int i = 0; i < n; ++i) nx[i] = -nx[i], ny[i] = -ny[i], nz[i] = 1;
    return;
  }
  const Quadric<double> q = piece.quadric;
  if (piece.surface == SurfaceKind::quadric) {
    for (int i = 0; i < n; ++i) pz[i] = bowl_height(q, q.a * px[i] * px[i] + q.b * py[i] * py[i]);
    quadric_normals(piece, out.n, out.n + n, out);
    return;
  }
  for (int i = 0; i < n; ++i) {
    pz[i] = petal_height(piece.petals, px[i], py[i]);
    const Vector3 normal = petal_normal(piece.petals, px[i], py[i]);
    nx[i] = normal.x(), ny[i] = normal.y(), nz[i] = normal.z();
  }
}

// A point counts if no other mirror stands between it and the sun's centre.
void Emission::draw_tiles(const Patch& patch, int n, const float* a, const float* b, Arrivals& out, Counts& counts) const {
  const Piece& piece = list_.pieces[static_cast<std::size_t>(patch.piece)];
  RayBlock rays;
  rays.n = n;
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    const double u = a[i];
    const auto after = std::upper_bound(patch.tile_share.begin(), patch.tile_share.end() - 1, u);
    const std::size_t tile = static_cast<std::size_t>(after - patch.tile_share.begin());
    const double from = tile == 0 ? 0 : patch.tile_share[tile - 1];
    const Element& element = (*piece.elements)[tile];
    const double within = std::clamp((u - from) / (patch.tile_share[tile] - from), 0.0, 1.0);
    const Vector3 point = element.turn * tile_place(piece.tiles, within, b[i]) + element.at, normal = element.turn.col(2);
    const std::size_t to = static_cast<std::size_t>(out.n) + i;
    out.x[to] = point.x(), out.y[to] = point.y(), out.z[to] = point.z();
    out.nx[to] = normal.x(), out.ny[to] = normal.y(), out.nz[to] = normal.z();
    const Vector3 start = piece.pose.turn * point + piece.pose.at;
    rays.ox[i] = start.x(), rays.oy[i] = start.y(), rays.oz[i] = start.z();
    rays.dx[i] = sun_.x(), rays.dy[i] = sun_.y(), rays.dz[i] = sun_.z();
    rays.start_gap[i] = world_.start_gap(patch.piece);
  }
  world_.nearest(Among::mirrors, rays, std::numeric_limits<float>::infinity());
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) counts[i] = rays.piece[i] < 0 ? 1 : 0;
}

}  // namespace dishwright
