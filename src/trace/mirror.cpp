// SPDX-License-Identifier: MIT
#include "trace/mirror.h"

#include <algorithm>
#include <cmath>

#include "base/wide.h"

namespace dishwright {

namespace {

/// A unit vector v after small tilts a, b about two axes across it (axes by [duff2017]).
inline void tilt(double& x, double& y, double& z, double a, double b) {
  const double sign = std::copysign(1.0, z);
  const double p = -1 / (sign + z), q = x * y * p;
  const double tx = x + a * (1 + sign * x * x * p) + b * q;
  const double ty = y + a * sign * q + b * (sign + y * y * p);
  const double tz = z - a * sign * x - b * y;
  const double scale = 1 / std::sqrt(tx * tx + ty * ty + tz * tz);
  x = tx * scale, y = ty * scale, z = tz * scale;
}

/// own → frame; most mirrors are not turned at all.
template <bool turned>
struct Turn {
  double m[3][3];
  explicit Turn(const Matrix3& matrix) {
    for (int i = 0; i < 3; ++i) {
      for (int j = 0; j < 3; ++j) m[i][j] = matrix(i, j);
    }
  }
  double x(double a, double b, double c) const { return turned ? m[0][0] * a + m[0][1] * b + m[0][2] * c : a; }
  double y(double a, double b, double c) const { return turned ? m[1][0] * a + m[1][1] * b + m[1][2] * c : b; }
  double z(double a, double b, double c) const { return turned ? m[2][0] * a + m[2][1] * b + m[2][2] * c : c; }
};

/// A normal g of any length after small slopes a, b about two tangent axes: the tilt itself is small, single precision is enough
/// for it.
struct Tilted {
  double x, y, z;
};
inline Tilted tilted(double gx, double gy, double gz, float a, float b) {
  const float x = static_cast<float>(gx), y = static_cast<float>(gy), z = static_cast<float>(gz);
  const float length = std::sqrt(x * x + y * y + z * z), sign = std::copysign(1.0F, z), up = sign * length + z;
  const float p = -1 / up, q = x * y * p;
  return {gx + static_cast<double>(a * (length + sign * x * x * p) + b * q),
          gy + static_cast<double>(a * sign * q + b * (sign * length + y * y * p)),
          gz - static_cast<double>(a * sign * x + b * y)};
}

template <bool has_slope, bool has_spread, bool turned>
Shares reflect_group(const Reflector& reflector, const Surface& surface, const Arrivals& in, int begin, int end,
                     const MirrorDraws& draws, RayBlock& rays) {
  const double share = reflector.reflectance, spread = reflector.specular_spread;
  const float slope = static_cast<float>(reflector.slope_error);
  const Turn<turned> turn(surface.pose.turn);
  const double ax = surface.pose.at.x(), ay = surface.pose.at.y(), az = surface.pose.at.z();
  const int count = end - begin, base = rays.n;
  const float qa = static_cast<float>(surface.quadric.a), qb = static_cast<float>(surface.quadric.b),
              qc = static_cast<float>(surface.quadric.c);
  const double inward = surface.front_sign;
  double absorbed = 0, reflected = 0;
#pragma omp simd reduction(+ : absorbed, reflected)
  for (int i = 0; i < count; ++i) {
    const int from = begin + i, to = base + i;
    const double nx = in.nx[from], ny = in.ny[from], nz = in.nz[from];
    // Slope error tilts the normal.
    Tilted m{nx, ny, nz};
    if constexpr (has_slope) m = tilted(nx, ny, nz, slope * draws.slope_a[i], slope * draws.slope_b[i]);
    // Law of reflection about that normal, which need not have length 1: u = d − 2 (d · m) m/|m|².
    const double along = in.dx[from] * m.x + in.dy[from] * m.y + in.dz[from] * m.z;
    const double step = 2 * along / (m.x * m.x + m.y * m.y + m.z * m.z);
    double ux = in.dx[from] - step * m.x, uy = in.dy[from] - step * m.y, uz = in.dz[from] - step * m.z;
    // The skin's own spread tilts the ray itself.
    if constexpr (has_spread) tilt(ux, uy, uz, spread * draws.spread_a[i], spread * draws.spread_b[i]);
    // Light that came from behind, or that the tilts turned into the mirror, is lost to it.
    const double rise = ux * nx + uy * ny + uz * nz;
    const bool leaves = (along < 0) & (rise > 0);
    // Of a quadric, where it is met again; the normal is its gradient. Other surfaces make no use of it.
    const float fx = static_cast<float>(ux), fy = static_cast<float>(uy), fz = static_cast<float>(uz);
    rays.own_again[to] = distance_again(qa * fx * fx + qb * fy * fy + qc * fz * fz, static_cast<float>(inward * rise));
    // The skin keeps its share, in whole numbers of weight, so that the ledger adds up exactly.
    const double kept = leaves ? std::nearbyint(in.weight[from] * share) : 0.0;
    absorbed += in.weight[from] - kept;
    reflected += kept;
    rays.weight[to] = kept;
    // From the mirror's own frame into the scene's.
    rays.ox[to] = turn.x(in.x[from], in.y[from], in.z[from]) + ax;
    rays.oy[to] = turn.y(in.x[from], in.y[from], in.z[from]) + ay;
    rays.oz[to] = turn.z(in.x[from], in.y[from], in.z[from]) + az;
    rays.dx[to] = turn.x(ux, uy, uz);
    rays.dy[to] = turn.y(ux, uy, uz);
    rays.dz[to] = turn.z(ux, uy, uz);
  }
  return {absorbed, reflected};
}

/// The normals of those reflections, told again for replay.
void note_normals(const Reflector& reflector, const Surface& surface, const Arrivals& in, int begin, int end,
                  const MirrorDraws& draws, int base, MirrorNormals& normals) {
  const float slope = static_cast<float>(reflector.slope_error);
  for (int i = 0; i < end - begin; ++i) {
    const std::size_t from = static_cast<std::size_t>(begin + i), to = static_cast<std::size_t>(base + i),
                      k = static_cast<std::size_t>(i);
    const Vector3 n(in.nx[from], in.ny[from], in.nz[from]);
    const Tilted m = tilted(n.x(), n.y(), n.z(), slope * draws.slope_a[k], slope * draws.slope_b[k]);
    const Vector3 true_normal = surface.pose.turn * n.normalized();
    const Vector3 mirror_normal = slope > 0 ? Vector3(surface.pose.turn * Vector3(m.x, m.y, m.z).normalized()) : true_normal;
    normals.nx[to] = true_normal.x(), normals.ny[to] = true_normal.y(), normals.nz[to] = true_normal.z();
    normals.mx[to] = mirror_normal.x(), normals.my[to] = mirror_normal.y(), normals.mz[to] = mirror_normal.z();
  }
}

/// Rays off a height over a plane, until each is clear of the grid on which that is looked for; at most a hundredth of the
/// mirror, or some errors.
void clear_of_grid(const Surface& surface, const Arrivals& in, int begin, int end, float error, RayBlock& rays) {
  const Matrix3 own = surface.pose.turn.transpose();
  const float most = std::max(20 * error, 0.01F * static_cast<float>(surface.reach()));
  for (int i = begin; i < end; ++i) {
    const std::size_t from = static_cast<std::size_t>(i), to = static_cast<std::size_t>(rays.n + i - begin);
    const Vector3 normal(in.nx[from], in.ny[from], in.nz[from]);
    const double rise = (own * Vector3(rays.dx[to], rays.dy[to], rays.dz[to])).dot(normal) / normal.norm();
    rays.start_gap[to] += std::min(most, 2 * error / std::max(1e-6F, static_cast<float>(rise)));
  }
}

template <bool slope, bool spread, bool turned>
Shares on_lanes(const Reflector& reflector, const Surface& surface, const Arrivals& in, int begin, int end,
                const MirrorDraws& draws, RayBlock& rays) {
  return on_wide_lanes<reflect_group<slope, spread, turned>>(reflector, surface, in, begin, end, draws, rays);
}

template <bool turned>
auto pick(bool slope, bool spread) {
  return slope ? (spread ? on_lanes<true, true, turned> : on_lanes<true, false, turned>)
               : (spread ? on_lanes<false, true, turned> : on_lanes<false, false, turned>);
}

}  // namespace

Shares reflect(const Reflector& reflector, const Surface& surface, const Arrivals& arrivals, int begin, int end,
               const MirrorDraws& draws, const StartKnown& start, RayBlock& rays, MirrorNormals* normals) {
  const bool slope = reflector.slope_error > 0, spread = reflector.specular_spread > 0, turned = !surface.pose.turn.isIdentity(0);
  if (normals != nullptr) note_normals(reflector, surface, arrivals, begin, end, draws, rays.n, *normals);
  const auto group = turned ? pick<true>(slope, spread) : pick<false>(slope, spread);
  const Shares shares = group(reflector, surface, arrivals, begin, end, draws, rays);
  const auto from = begin, count = end - begin;
  std::copy_n(arrivals.lane.begin() + from, count, rays.lane.begin() + rays.n);
  std::copy_n(arrivals.crossed.begin() + from, count, rays.crossed.begin() + rays.n);
  std::transform(arrivals.bounces.begin() + from, arrivals.bounces.begin() + end, rays.bounces.begin() + rays.n,
                 [](std::uint8_t bounces) { return static_cast<std::uint8_t>(bounces + 1); });
  std::fill_n(rays.start_gap.begin() + rays.n, count, start.gap);
  std::fill_n(rays.own_surface.begin() + rays.n, count, start.own_surface);
  if (start.grid_error > 0) clear_of_grid(surface, arrivals, begin, end, start.grid_error, rays);
  rays.n += count;
  return shares;
}

}  // namespace dishwright
