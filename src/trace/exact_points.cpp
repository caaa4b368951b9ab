// SPDX-License-Identifier: MIT
#include "trace/exact_points.h"

#include <Eigen/Geometry>
#include <cmath>
#include <limits>

#include "base/wide.h"

namespace dishwright {

namespace {

/// Rays in the own frame of the surface: their starts in x, y, z, their directions in dx, dy, dz.
void to_own_frame(const Surface& surface, const RayColumns& rays, int count, Meetings& out) {
  const Matrix3 m = surface.pose.turn.transpose();
  const Vector3 at = surface.pose.at;
  if (m.isIdentity(0)) {
#pragma omp simd
    for (int i = 0; i < count; ++i) {
      out.at[i] = rays.distance[i];
      out.x[i] = rays.ox[i] - at.x(), out.y[i] = rays.oy[i] - at.y(), out.z[i] = rays.oz[i] - at.z();
      out.dx[i] = rays.dx[i], out.dy[i] = rays.dy[i], out.dz[i] = rays.dz[i];
    }
    return;
  }
#pragma omp simd
  for (int i = 0; i < count; ++i) {
    const double px = rays.ox[i] - at.x(), py = rays.oy[i] - at.y(), pz = rays.oz[i] - at.z();
    const double dx = rays.dx[i], dy = rays.dy[i], dz = rays.dz[i];
    out.at[i] = rays.distance[i];
    out.x[i] = m(0, 0) * px + m(0, 1) * py + m(0, 2) * pz;
    out.y[i] = m(1, 0) * px + m(1, 1) * py + m(1, 2) * pz;
    out.z[i] = m(2, 0) * px + m(2, 1) * py + m(2, 2) * pz;
    out.dx[i] = m(0, 0) * dx + m(0, 1) * dy + m(0, 2) * dz;
    out.dy[i] = m(1, 0) * dx + m(1, 1) * dy + m(1, 2) * dz;
    out.dz[i] = m(2, 0) * dx + m(2, 1) * dy + m(2, 2) * dz;
  }
}

template <bool flat>
void solve_quadric(const Surface& surface, int count, Meetings& out) {
  const Quadric<double> q = surface.quadric;
  const double sign = surface.front_sign;
#pragma omp simd
  for (int i = 0; i < count; ++i) {
    const double u = out.dx[i], v = out.dy[i], w = out.dz[i], found = out.at[i];
    // From the place that the world found: from afar a small thing's radius drowns in the distance.
    const double x = out.x[i] + found * u, y = out.y[i] + found * v, z = out.z[i] + found * w;
    double best;
    if constexpr (flat) {
      best = (q.e - 2 * q.d * z) / (2 * q.d * w);
    } else {
      best = root_near(ray_equation(q, x, y, z, u, v, w), 0);
    }
    // The point, and the gradient there, which is the normal.
    const double hx = x + best * u, hy = y + best * v, hz = z + best * w;
    const double nx = sign * (q.a * hx), ny = sign * (q.b * hy), nz = sign * (q.c * hz - q.d);
    out.gap[i] = best;
    out.x[i] = hx, out.y[i] = hy, out.z[i] = hz;
    out.nx[i] = nx, out.ny[i] = ny, out.nz[i] = nz;
    out.facing[i] = nx * u + ny * v + nz * w;
  }
}

/// Puts ray i's exact distance and normal down.
void put(Meetings& out, std::size_t i, double t, const Vector3& normal) {
  out.gap[i] = t - static_cast<double>(out.at[i]);
  out.x[i] += t * out.dx[i], out.y[i] += t * out.dy[i], out.z[i] += t * out.dz[i];
  out.nx[i] = normal.x(), out.ny[i] = normal.y(), out.nz[i] = normal.z();
  out.facing[i] = normal.x() * out.dx[i] + normal.y() * out.dy[i] + normal.z() * out.dz[i];
}

/// Petals: turned about the reflector's own axis, each by its azimuth.
void solve_petals(const Surface& surface, int count, Meetings& out) {
  const Quadric<double> q = surface.quadric;
  const double sign = surface.front_sign;
  const Element* elements = surface.elements->data();
#pragma omp simd
  for (int i = 0; i < count; ++i) {
    const double c = elements[out.element[i]].turn(0, 0), s = elements[out.element[i]].turn(1, 0);
    const double x = c * out.x[i] + s * out.y[i], y = c * out.y[i] - s * out.x[i], z = out.z[i];
    const double u = c * out.dx[i] + s * out.dy[i], v = c * out.dy[i] - s * out.dx[i], w = out.dz[i];
    const double found = static_cast<double>(out.at[i]), t = root_near(ray_equation(q, x, y, z, u, v, w), found);
    const double nx = sign * q.a * (x + t * u), nz = sign * (q.c * (z + t * w) - q.d);
    out.gap[i] = t - found;
    out.x[i] += t * out.dx[i], out.y[i] += t * out.dy[i], out.z[i] = z + t * w;
    out.nx[i] = c * nx, out.ny[i] = s * nx, out.nz[i] = nz;
    out.facing[i] = out.nx[i] * out.dx[i] + out.ny[i] * out.dy[i] + nz * w;
  }
}

void solve_tiles(const Surface& surface, int count, Meetings& out) {
  for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i) {
    // Into the frame of that tile.
    const Element& element = (*surface.elements)[out.element[i]];
    const Vector3 normal = element.turn.col(2), start(out.x[i], out.y[i], out.z[i]), way(out.dx[i], out.dy[i], out.dz[i]);
    put(out, i, normal.dot(element.at - start) / normal.dot(way), normal);
  }
}

/// Newton's steps along the rays from where the world saw them meet; a ray at a kink of the surface may need halving instead.
void solve_heights(const Surface& surface, int count, Meetings& out) {
  constexpr int steps = 8;
  BlockArray<double> t, x, y, height, slope_x, slope_y, step;
  const double size = surface.reach(), most = 0.01 * size;
  for (int i = 0; i < count; ++i) t[i] = static_cast<double>(out.at[i]);
  const auto look = [&] {
#pragma omp simd
    for (int i = 0; i < count; ++i) x[i] = out.x[i] + t[i] * out.dx[i], y[i] = out.y[i] + t[i] * out.dy[i];
    surface.heights->heights(count, x.data(), y.data(), height.data(), slope_x.data(), slope_y.data());
  };
  for (int k = 0; k < steps; ++k) {
    look();
    double largest = 0;
#pragma omp simd reduction(max : largest)
    for (int i = 0; i < count; ++i) {
      const double above = out.z[i] + t[i] * out.dz[i] - height[i];
      const double rate = out.dz[i] - slope_x[i] * out.dx[i] - slope_y[i] * out.dy[i];
      // Kinks make whole steps swing to and fro: later steps are shorter.
      const double full = -above / rate, share = k < 5 ? 1.0 : 0.5;
      step[i] = std::clamp(share * full, -most, most);
      t[i] += step[i];
      largest = std::max(largest, std::abs(step[i]));
    }
    if (largest <= 1e-13 * size) break;
  }
  look();
  for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i) {
    const double above = out.z[i] + t[i] * out.dz[i] - height[i];
    const bool on = std::abs(above) <= 1e-7 * size;  // NaN is not
    put(out, i, on ? t[i] : std::numeric_limits<double>::quiet_NaN(), Vector3(-slope_x[i], -slope_y[i], 1));
  }
}

void solve_triangles(const Surface& surface, int count, Meetings& out) {
  const TriangleMesh& mesh = *surface.mesh;
  const std::size_t rays = static_cast<std::size_t>(count);
  for (std::size_t i = 0; i < rays; ++i) {
    // A fine mesh does not fit the near memory: ask for what the next rays need.
    if (i + 16 < rays) __builtin_prefetch(&mesh.triangles[out.element[i + 16]]);
    if (i + 8 < rays) {
      for (const std::uint32_t corner : mesh.triangles[out.element[i + 8]]) {
        __builtin_prefetch(&mesh.vertices[corner]);
        if (surface.smooth) __builtin_prefetch(&mesh.normals[corner]);
      }
    }
    const auto& index = mesh.triangles[out.element[i]];
    const Vector3 &a = mesh.vertices[index[0]], &b = mesh.vertices[index[1]], &c = mesh.vertices[index[2]];
    const Vector3 ab = b - a, ac = c - a, own(out.x[i], out.y[i], out.z[i]), way(out.dx[i], out.dy[i], out.dz[i]);
    Vector3 normal = ab.cross(ac);  // counter-clockwise seen from the bright side
    // Where the ray meets the triangle's plane.
    const double t = normal.dot(a - own) / normal.dot(way);
    if (surface.smooth) {
      // Weights of the corners at the point; a little outside by rounding does no harm.
      const Vector3 flat = normal, ap = own + t * way - a;
      const double area = flat.squaredNorm(), wb = flat.dot(ap.cross(ac)) / area, wc = flat.dot(ab.cross(ap)) / area;
      normal = (1 - wb - wc) * mesh.normals[index[0]] + wb * mesh.normals[index[1]] + wc * mesh.normals[index[2]];
    }
    put(out, i, t, normal);
  }
}

}  // namespace

void solve(const Surface& surface, const RayColumns& rays, int count, Meetings& out) {
  on_wide_lanes<to_own_frame>(surface, rays, count, out);
  switch (surface.kind) {
    case SurfaceKind::quadric: {
      const bool flat = surface.quadric.a == 0 && surface.quadric.b == 0 && surface.quadric.c == 0;
      flat ? on_wide_lanes<solve_quadric<true>>(surface, count, out) : on_wide_lanes<solve_quadric<false>>(surface, count, out);
      break;
    }
    case SurfaceKind::petals: solve_petals(surface, count, out); break;
    case SurfaceKind::tiles: solve_tiles(surface, count, out); break;
    case SurfaceKind::heights: solve_heights(surface, count, out); break;
    case SurfaceKind::triangles: solve_triangles(surface, count, out); break;
  }
}

}  // namespace dishwright
