// SPDX-License-Identifier: MIT
// Points on mirrors, even in area as seen from the sun's centre.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <utility>

#include "base/simd_math.h"
#include "base/wide.h"
#include "trace/emission.h"
#include "trace/exact_points.h"

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

/// Places even in area on a tile, from two numbers in (0, 1): `x`, `y` hold them before and the place after.
void tile_places(const TileSet& tiles, int n, BlockArray<double>& x, BlockArray<double>& y) {
  const double half = tiles.width / 2, side = tiles.width / std::sqrt(3.0);
  if (tiles.shape == TileShape::square) {
#pragma omp simd
    for (int i = 0; i < n; ++i) x[i] = half * (2 * x[i] - 1), y[i] = half * (2 * y[i] - 1);
  } else if (tiles.shape == TileShape::round) {
    for (int i = 0; i < n; ++i) {
      const double r = half * std::sqrt(x[i]), angle = turn * y[i];
      x[i] = r * std::cos(angle), y[i] = r * std::sin(angle);
    }
  } else {
    // A hexagon is three rhombs with a corner in its middle.
    for (int i = 0; i < n; ++i) {
      const int rhomb = std::min(2, static_cast<int>(3 * x[i]));
      const double u = side * (3 * x[i] - rhomb), v = side * y[i], first = turn * (0.25 + rhomb / 3.0), second = first + turn / 3;
      x[i] = u * std::cos(first) + v * std::cos(second), y[i] = u * std::sin(first) + v * std::sin(second);
    }
  }
}

}  // namespace

// Each tile counts by its area toward the sun's centre.
void Emission::weigh_tiles(Patch& patch, const Surface& surface) const {
  double sum = 0;
  std::vector<double> shares;
  for (const Element& element : *surface.elements) {
    const double cosine = std::abs(element.turn.col(2).dot(patch.sun));
    if (!clear_of_disc(cosine)) return;  // its back may be lit too: drawn from the sky
    sum += cosine;
    shares.push_back(sum);
  }
  patch.way = Way::tiles;
  for (double& share : shares) share /= sum;
  patch.tile_share = ShareGuide(std::move(shares));
  patch.area = sum * tile_area(surface.tiles.shape, surface.tiles.width);
}

void Emission::draw_points(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(patch.surface)];
  switch (patch.way) {
    case Way::round: on_wide_lanes<&Emission::draw_round>(*this, patch, n, a, b, out); break;
    case Way::band: on_wide_lanes<&Emission::draw_band>(*this, patch, n, a, b, out); break;
    case Way::upright: draw_upright(patch, n, a, b, out); return;
    case Way::tiles: draw_tiles(patch, n, a, b, out); return;
    case Way::mask: return;
  }
  quadric_normals(surface, out.n, out.n + n, out);
}

inline void Emission::draw_band(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(patch.surface)];
  const Quadric<double> q = surface.quadric;
  // Even in p = s_z·x − s_x·z(x), the distance across the sun's direction; then x from p.
  const double half = surface.region.x_half, length = 2 * surface.region.y_half;
  const double sx = patch.sun.x(), sz = patch.sun.z(), radius = q.d;
  const double tip = bowl_height(q, q.a * half * half);
  const double p_from = -sz * half - sx * tip, p_to = sz * half - sx * tip;
  double *px = out.x.data() + out.n, *py = out.y.data() + out.n, *pz = out.z.data() + out.n;
  // By value, number by number: the compiler does not vectorise what it must look up in a struct.
  const auto lay = [=, q_a = q.a, q_c = q.c](const auto& x_of) {
#pragma omp simd
    for (int i = 0; i < n; ++i) {
      const double x = x_of(p_from + (p_to - p_from) * a[i]), r2 = q_a * x * x;
      px[i] = std::min(half, std::max(-half, x));
      py[i] = length * (b[i] - 0.5);
      pz[i] = r2 / (radius + std::sqrt(std::max(0.0, radius * radius - q_c * r2)));  // bowl_height()
    }
  };
  if (q.a == 0) {
    lay([=](double p) { return p / sz; });
  } else if (q.c == 0) {
    lay([=](double p) { return 2 * p / (sz + std::sqrt(std::max(0.0, sz * sz - 2 * (sx / radius) * p))); });
  } else {
    lay([=, across = sx * sx + sz * sz](double p) {
      const double sine = (p + sx * radius) / radius;  // of (α + β), times √across
      return radius * (sine * sz - std::sqrt(std::max(0.0, across - sine * sine)) * sx) / across;
    });
  }
}

namespace {

// ψ − g sin ψ = 2π u for weak lean g < 0.2, by Newton's steps for the small turn δ = ψ − 2π u, whose sine and cosine are short
// series: `sine` and `cosine` of 2π u become those of ψ. Each step squares the error, which begins at g².
template <int steps>
void turn_a_little(int n, const float* lean, float* sine, float* cosine) {
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float g = lean[i], s = sine[i], c = cosine[i];
    float shift = 0, s_shift = 0, c_shift = 1;
#pragma GCC unroll 3
    for (int step = 0; step < steps; ++step) {
      const float miss = shift - g * (s * c_shift + c * s_shift);
      shift -= miss / (1 - g * (c * c_shift - s * s_shift));
      const float d2 = shift * shift;
      s_shift = shift * (1 - d2 * (1 / 6.0F) * (1 - d2 * (1 / 20.0F)));
      c_shift = 1 - d2 * 0.5F * (1 - d2 * (1 / 12.0F) * (1 - d2 * (1 / 30.0F)));
    }
    sine[i] = s * c_shift + c * s_shift;
    cosine[i] = c * c_shift - s * s_shift;
  }
}

}  // namespace

// Even in area seen from the sun: r² is even; the azimuth ψ about the leaning direction has density 1 − g cos ψ, g = lean ·
// slope(r), so ψ − g sin ψ = 2π u, solved by Newton steps.
inline void Emission::draw_round(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(patch.surface)];
  const Quadric<double> q = surface.quadric;
  const double hole2 = std::max(0.0, surface.region.r2_from), span = surface.region.r2_to - hole2;
  const int padded = (n + 15) / 16 * 16;
  // First guess of ψ: as if the sun stood on the axis; then Newton's steps.
  BlockArray<float> lean, sine, cosine;
  sincos_of_turns(b, sine.data(), cosine.data(), padded);
  if (patch.kepler_steps > 0) {
#pragma omp simd
    for (int i = 0; i < padded; ++i) {
      const double r2 = hole2 + span * a[i];
      lean[i] = static_cast<float>(patch.lean) * std::sqrt(static_cast<float>(r2 / std::max(1e-30, q.d * q.d - q.c * r2)));
    }
  }
  if (patch.kepler_steps > 3) {
    BlockArray<float> turns;
    std::copy(b, b + padded, turns.begin());
    for (int step = 0; step < patch.kepler_steps; ++step) {
#pragma omp simd
      for (int i = 0; i < padded; ++i) {
        const float miss = turns[i] - lean[i] * sine[i] * static_cast<float>(1 / turn) - b[i];
        turns[i] = std::clamp(turns[i] - miss / (1 - lean[i] * cosine[i]), 0.0F, 1.0F);
      }
      sincos_of_turns(turns.data(), sine.data(), cosine.data(), padded);
    }
  } else if (patch.kepler_steps > 0) {
    const auto weak = patch.kepler_steps == 2 ? turn_a_little<2> : turn_a_little<3>;
    weak(padded, lean.data(), sine.data(), cosine.data());
  }
  // The place in plan: radius by the first number, azimuth turned to where the sun leans.
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

void Emission::draw_upright(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(patch.surface)];
  const Region<double>& region = surface.region;
  double *px = out.x.data() + out.n, *py = out.y.data() + out.n, *pz = out.z.data() + out.n;
  double *nx = out.nx.data() + out.n, *ny = out.ny.data() + out.n, *nz = out.nz.data() + out.n;
  // A place of the plan, even in area: in a ring, or in a rectangle.
  if (std::isfinite(region.r2_to)) {
    const int padded = (n + 15) / 16 * 16;
    const double hole2 = std::max(0.0, region.r2_from), span = region.r2_to - hole2;
    BlockArray<float> sine, cosine;
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
  // Height and normal there.
  if (surface.kind == SurfaceKind::heights) {
    surface.heights->heights(n, px, py, pz, nx, ny);
    for (int i = 0; i < n; ++i) nx[i] = -nx[i], ny[i] = -ny[i], nz[i] = 1;
    return;
  }
  const Quadric<double> q = surface.quadric;
  if (surface.kind == SurfaceKind::quadric) {
    for (int i = 0; i < n; ++i) pz[i] = bowl_height(q, q.a * px[i] * px[i] + q.b * py[i] * py[i]);
    quadric_normals(surface, out.n, out.n + n, out);
    return;
  }
  // Petals: along the middle line of the petal there.
  BlockArray<float> turns;
  turns_of(py, px, turns.data(), n);
  const Element* elements = surface.elements->data();
  const int count = static_cast<int>(surface.elements->size());
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float above = turns[i] * static_cast<float>(count) + 0.5F;
    const int nearest = static_cast<int>(above), petal = nearest < count ? nearest : 0;
    const double c = elements[petal].turn.data()[0], s = elements[petal].turn.data()[1], along = px[i] * c + py[i] * s;
    pz[i] = q.a * along * along / (2 * q.d);
    nx[i] = -along * q.a * c, ny[i] = -along * q.a * s, nz[i] = q.d;
  }
}

void Emission::draw_tiles(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(patch.surface)];
  BlockArray<int> tile_of;
  BlockArray<double> x, y;
  for (int i = 0; i < n; ++i) {
    const double u = a[i];
    const int tile = patch.tile_share.find(u);
    const double from = patch.tile_share.from(tile);
    tile_of[i] = tile;
    x[i] = std::clamp((u - from) / (patch.tile_share.to(tile) - from), 0.0, 1.0), y[i] = b[i];
  }
  tile_places(surface.tiles, n, x, y);
  const Element* elements = surface.elements->data();
  double *px = out.x.data() + out.n, *py = out.y.data() + out.n, *pz = out.z.data() + out.n;
  double *nx = out.nx.data() + out.n, *ny = out.ny.data() + out.n, *nz = out.nz.data() + out.n;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const double *m = elements[tile_of[i]].turn.data(), *at = elements[tile_of[i]].at.data();  // column by column
    px[i] = m[0] * x[i] + m[3] * y[i] + at[0];
    py[i] = m[1] * x[i] + m[4] * y[i] + at[1];
    pz[i] = m[2] * x[i] + m[5] * y[i] + at[2];
    nx[i] = m[6], ny[i] = m[7], nz[i] = m[8];
  }
}

}  // namespace dishwright
