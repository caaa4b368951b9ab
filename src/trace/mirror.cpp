// SPDX-License-Identifier: MIT
#include "trace/mirror.h"

#include <cmath>

namespace dishwright {

namespace {

/// A unit vector v after small tilts a, b about two axes across it (axes by Duff et al., J. Comput. Graph. Tech. 6(1) (2017)).
inline void tilt(double& x, double& y, double& z, double a, double b) {
  const double sign = std::copysign(1.0, z);
  const double p = -1 / (sign + z), q = x * y * p;
  const double tx = x + a * (1 + sign * x * x * p) + b * q;
  const double ty = y + a * sign * q + b * (sign + y * y * p);
  const double tz = z - a * sign * x - b * y;
  const double scale = 1 / std::sqrt(tx * tx + ty * ty + tz * tz);
  x = tx * scale, y = ty * scale, z = tz * scale;
}

struct Turn {
  double m[3][3];
  explicit Turn(const Matrix3& matrix) {
    for (int i = 0; i < 3; ++i) {
      for (int j = 0; j < 3; ++j) m[i][j] = matrix(i, j);
    }
  }
  double x(double a, double b, double c) const { return m[0][0] * a + m[0][1] * b + m[0][2] * c; }
  double y(double a, double b, double c) const { return m[1][0] * a + m[1][1] * b + m[1][2] * c; }
  double z(double a, double b, double c) const { return m[2][0] * a + m[2][1] * b + m[2][2] * c; }
};

template <bool has_slope, bool has_spread>
double reflect_group(const Reflector& reflector, const Piece& piece, const Arrivals& in, int begin, int end,
                     const MirrorDraws& draws, RayBlock& rays, MirrorNormals* normals) {
  const Quadric<double> q = piece.quadric;
  const double sign = piece.front_sign, share = reflector.reflectance;
  const double slope = reflector.slope_error, spread = reflector.specular_spread;
  const Turn turn(piece.pose.turn);
  const double ax = piece.pose.at.x(), ay = piece.pose.at.y(), az = piece.pose.at.z();
  const int count = end - begin, base = rays.n;
  double absorbed = 0;
#pragma omp simd reduction(+ : absorbed)
  for (int i = 0; i < count; ++i) {
    const int from = begin + i, to = base + i;
    // True normal on the mirror side.
    const double gx = q.a * in.x[from], gy = q.b * in.y[from], gz = q.c * in.z[from] - q.d;
    const double scale = sign / std::sqrt(gx * gx + gy * gy + gz * gz);
    const double nx = gx * scale, ny = gy * scale, nz = gz * scale;
    double mx = nx, my = ny, mz = nz;
    if constexpr (has_slope) tilt(mx, my, mz, slope * draws.slope_a[i], slope * draws.slope_b[i]);
    const double along = in.dx[from] * mx + in.dy[from] * my + in.dz[from] * mz;
    double ux = in.dx[from] - 2 * along * mx, uy = in.dy[from] - 2 * along * my, uz = in.dz[from] - 2 * along * mz;
    if constexpr (has_spread) tilt(ux, uy, uz, spread * draws.spread_a[i], spread * draws.spread_b[i]);
    const bool leaves = (along < 0) & (ux * nx + uy * ny + uz * nz > 0);
    const double kept = leaves ? std::nearbyint(in.weight[from] * share) : 0.0;
    absorbed += in.weight[from] - kept;
    rays.weight[to] = kept;
    rays.ox[to] = turn.x(in.x[from], in.y[from], in.z[from]) + ax;
    rays.oy[to] = turn.y(in.x[from], in.y[from], in.z[from]) + ay;
    rays.oz[to] = turn.z(in.x[from], in.y[from], in.z[from]) + az;
    rays.dx[to] = turn.x(ux, uy, uz);
    rays.dy[to] = turn.y(ux, uy, uz);
    rays.dz[to] = turn.z(ux, uy, uz);
    if (normals != nullptr) {
      normals->nx[to] = turn.x(nx, ny, nz), normals->ny[to] = turn.y(nx, ny, nz), normals->nz[to] = turn.z(nx, ny, nz);
      normals->mx[to] = turn.x(mx, my, mz), normals->my[to] = turn.y(mx, my, mz), normals->mz[to] = turn.z(mx, my, mz);
    }
  }
  return absorbed;
}

}  // namespace

double reflect(const Reflector& reflector, const Piece& piece, const Arrivals& arrivals, int begin, int end,
               const MirrorDraws& draws, float start_gap, RayBlock& rays, MirrorNormals* normals) {
  const bool slope = reflector.slope_error > 0, spread = reflector.specular_spread > 0;
  const auto group = slope ? (spread ? reflect_group<true, true> : reflect_group<true, false>)
                           : (spread ? reflect_group<false, true> : reflect_group<false, false>);
  const double absorbed = group(reflector, piece, arrivals, begin, end, draws, rays, normals);
  for (int i = begin; i < end; ++i) {
    const std::size_t from = static_cast<std::size_t>(i), to = static_cast<std::size_t>(rays.n + i - begin);
    rays.lane[to] = arrivals.lane[from];
    rays.bounces[to] = static_cast<std::uint8_t>(arrivals.bounces[from] + 1);
    rays.crossed[to] = arrivals.crossed[from];
    rays.start_gap[to] = start_gap;
  }
  rays.n += end - begin;
  return absorbed;
}

}  // namespace dishwright
