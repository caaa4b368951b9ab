// SPDX-License-Identifier: MIT
// Which mirror does light from the sun meet first? Looked at from points of mirrors, or from the sky through a mask.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/simd_math.h"
#include "trace/emission.h"
#include "trace/exact_points.h"
#include "trace/mask.h"

namespace dishwright {

// From each drawn point toward that part of the sun which its light comes from.
void Emission::find_free(const Patch& patch, int n, const Arrivals& out, Counts& counts) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(patch.surface)];
  const bool quadric = surface.kind == SurfaceKind::quadric;
  const float gap =
      world_.start_gap(patch.surface) + 20 * world_.grid_error(patch.surface);  // the sun stands high over such a one
  RayBlock rays;
  rays.n = n;
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    const std::size_t from = static_cast<std::size_t>(out.n) + i;
    const Vector3 own(out.x[from], out.y[from], out.z[from]), way(-out.dx[from], -out.dy[from], -out.dz[from]);
    // From the point toward the sun, in the scene's frame.
    const Vector3 start = surface.pose.turn * own + surface.pose.at, toward = surface.pose.turn * way;
    rays.ox[i] = start.x(), rays.oy[i] = start.y(), rays.oz[i] = start.z();
    rays.dx[i] = toward.x(), rays.dy[i] = toward.y(), rays.dz[i] = toward.z();
    rays.start_gap[i] = gap;
    rays.own_surface[i] = quadric ? patch.surface : -1;
    // Where the ray would meet its own quadric again.
    const RayEquation eq = ray_equation(surface.quadric, own.x(), own.y(), own.z(), way.x(), way.y(), way.z());
    rays.own_again[i] = static_cast<float>(distance_again(eq.a, eq.b));
  }
  world_.nearest(RayMask::mirrors, rays, std::numeric_limits<float>::infinity());
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) counts[i] = rays.surface[i] < 0 ? 1 : 0;
}

void Emission::make_mask(Patch& patch, const Surface& surface) const {
  patch.frame_east = sun_.unitOrthogonal();
  patch.frame_north = sun_.cross(patch.frame_east);
  const MaskView view{
      {surface.pose.turn.transpose() * patch.frame_east, surface.pose.turn.transpose() * patch.frame_north, patch.sun},
      (surface.box_low + surface.box_high) / 2,
      surface.reach(),
      std::tan(disc_.largest_angle())};
  const Mask mask = paint_mask(surface, view);
  patch.cell = mask.cell;
  patch.corner = surface.middle() - mask.half * (patch.frame_east + patch.frame_north);
  double marked = 0;
  std::vector<double> cumulative;
  for (int row = 0; row < Mask::side; ++row) {
    const std::size_t begin = patch.column.size();
    for (int column = 0; column < Mask::side; ++column) {
      if (mask.marked(column, row)) patch.column.push_back(column);
    }
    const int count = static_cast<int>(patch.column.size() - begin);
    if (count == 0) continue;
    marked += count;
    patch.row.push_back({row, static_cast<int>(begin), count, 0, 0});
    cumulative.push_back(marked);
  }
  patch.area = marked * patch.cell * patch.cell;
  for (double& value : cumulative) value /= marked;
  patch.row_share = ShareGuide(std::move(cumulative));
  for (std::size_t k = 0; k < patch.row.size(); ++k) {
    patch.row[k].from = patch.row_share.from(static_cast<int>(k));
    patch.row[k].share = patch.row_share.to(static_cast<int>(k)) - patch.row[k].from;
  }
}

// Row by the first number, column by the second; what is left of each places the ray in its cell. The direction leans away from
// the sun's centre.
void Emission::draw_from_sky(const Patch& patch, int n, const float* a, const float* b, const float* disc_radius,
                             const float* disc_turn, Arrivals& out, Counts& counts) const {
  const Surface& surface = list_.surfaces[static_cast<std::size_t>(patch.surface)];
  const int padded = (n + 15) / 16 * 16;
  BlockArray<float> sin_angle, sine, cosine;
  disc_.sin_angles(disc_radius, sin_angle.data(), padded);
  sincos_of_turns(disc_turn, sine.data(), cosine.data(), padded);
  const double away = world_.way_out();
  RayBlock rays;
  rays.n = n;
  // A row by its share of the mask.
  BlockArray<int> row_of;
  for (int k = 0; k < n; ++k) row_of[k] = patch.row_share.find(a[k]);
  const Patch::Row* rows = patch.row.data();
  const int* columns = patch.column.data();
  const Vector3 sun = sun_, ea = patch.frame_east, no = patch.frame_north, corner = patch.corner;
#pragma omp simd
  for (int k = 0; k < n; ++k) {
    // A cell of that row, a place in that cell.
    const Patch::Row& row = rows[row_of[k]];
    const double place = static_cast<double>(b[k]) * row.count;
    const int column = std::min(static_cast<int>(place), row.count - 1);
    const double north = (row.row + (static_cast<double>(a[k]) - row.from) / row.share) * patch.cell;
    const double east = (columns[row.begin + column] + place - column) * patch.cell;
    // A direction within the sun's disc.
    const double sa = sin_angle[k], ca = std::sqrt(1 - sa * sa), e = sa * cosine[k], f = sa * sine[k];
    const double tx = ca * sun.x() + e * ea.x() + f * no.x(), ty = ca * sun.y() + e * ea.y() + f * no.y(),
                 tz = ca * sun.z() + e * ea.z() + f * no.z();
    rays.ox[k] = corner.x() + east * ea.x() + north * no.x() + away * tx;
    rays.oy[k] = corner.y() + east * ea.y() + north * no.y() + away * ty;
    rays.oz[k] = corner.z() + east * ea.z() + north * no.z() + away * tz;
    rays.dx[k] = -tx, rays.dy[k] = -ty, rays.dz[k] = -tz;
    rays.start_gap[k] = 0;
    rays.own_surface[k] = -1, rays.own_again[k] = 0;
  }
  world_.nearest(RayMask::mirrors, rays, std::numeric_limits<float>::infinity());
  // The crossing nearest to what the world found, exact on the surface.
  Meetings met;
  std::copy_n(rays.element.begin(), n, met.element.begin());
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    counts[i] = rays.surface[i] == patch.surface ? 1 : 0;
    if (counts[i] == 0) met.element[i] = 0, rays.distance[i] = static_cast<float>(away);
  }
  solve(surface,
        {rays.ox.data(), rays.oy.data(), rays.oz.data(), rays.dx.data(), rays.dy.data(), rays.dz.data(), rays.distance.data()}, n,
        met);
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    if (!std::isfinite(met.gap[i])) counts[i] = 0;
    if (counts[i] == 0) continue;
    const std::size_t to = static_cast<std::size_t>(out.n) + i;
    out.x[to] = met.x[i], out.y[to] = met.y[i], out.z[to] = met.z[i];
    out.nx[to] = met.nx[i], out.ny[to] = met.ny[i], out.nz[to] = met.nz[i];
    out.dx[to] = met.dx[i], out.dy[to] = met.dy[i], out.dz[to] = met.dz[i];
  }
}

}  // namespace dishwright
