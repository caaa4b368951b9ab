// SPDX-License-Identifier: MIT
#include "trace/direct.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

/// What rays from the faces of target `owner` meet. Outward, a ray never meets the target itself: where rounding says so, it goes
/// on from there.
void look_out(const TraceContext& context, int owner, RayBlock& rays) {
  constexpr int most_faces = 3;
  for (int round = 0; round < most_faces; ++round) {
    context.world.nearest(RayMask::way_in, rays, std::numeric_limits<float>::infinity());
    bool met_itself = false;
    for (std::size_t i = 0; i < static_cast<std::size_t>(rays.n); ++i) {
      if (rays.surface[i] < context.list.reflector_count ||
          context.list.surfaces[static_cast<std::size_t>(rays.surface[i])].owner != owner)
        continue;
      rays.start_gap[i] = rays.distance[i] * (1 + 1e-6F);
      rays.surface[i] = -1;
      met_itself = true;
    }
    if (!met_itself) return;
  }
}

/// Mean over one replicate of cosine × (1 if the sun is free) on one face.
double free_cosine(const TraceContext& context, int index, std::uint64_t seed, std::uint32_t replicate, std::uint32_t points) {
  const Surface& surface = context.list.surfaces[static_cast<std::size_t>(index)];
  const Vector3 sun = context.scene.sun.direction(), east = sun.unitOrthogonal(), north = sun.cross(east);
  const SobolReplicate sobol(seed, replicate);
  DrawBlock draws;
  RayBlock rays;
  BlockArray<double> cosine;
  BlockArray<float> sin_angle;
  double sum = 0;
  for (std::uint32_t first = 0; first < points; first += block_size) {
    sobol.fill(first, 0, 4, draws);
    context.emission.disc().sin_angles(draws[2].data(), sin_angle.data(), block_size);
    rays.n = 0;
    for (std::size_t i = 0; i < block_size; ++i) {
      const TargetFace::Point point = surface.target_face->point(draws[0][i], draws[1][i]);
      const double sa = sin_angle[i], ca = std::sqrt(1 - sa * sa), v = turn * draws[3][i];
      const Vector3 toward = ca * sun + sa * (std::cos(v) * east + std::sin(v) * north);
      const double along = (surface.pose.turn * point.normal).dot(toward);
      if (along <= 0) continue;
      const Vector3 start = surface.pose.turn * point.place + surface.pose.at;
      const std::size_t k = static_cast<std::size_t>(rays.n++);
      rays.ox[k] = start.x(), rays.oy[k] = start.y(), rays.oz[k] = start.z();
      rays.dx[k] = toward.x(), rays.dy[k] = toward.y(), rays.dz[k] = toward.z();
      // Every face is flat or bulges toward the light: outward, a ray never meets its own face again.
      rays.start_gap[k] = 0;
      rays.own_surface[k] = index, rays.own_again[k] = std::numeric_limits<float>::infinity();
      cosine[k] = along;
    }
    look_out(context, surface.owner, rays);
    for (int i = 0; i < rays.n; ++i) sum += rays.surface[i] < 0 ? cosine[i] : 0.0;
  }
  return sum / points;
}

}  // namespace

Estimate direct_power(const TraceContext& context, int index, std::uint64_t seed, std::uint32_t points) {
  constexpr int replicates = 16;
  const std::uint32_t whole = (points + block_size - 1) / block_size * block_size;
  std::vector<double> mean(replicates, 0);
  for (std::size_t k = 0; k < context.list.surfaces.size(); ++k) {
    const Surface& surface = context.list.surfaces[k];
    if (!surface.counts() || surface.owner != index) continue;
    const double scale = context.scene.sun.beam * surface.target_face->area();
    for (std::uint32_t r = 0; r < replicates; ++r) {
      mean[r] += scale * free_cosine(context, static_cast<int>(k),
                                     mix_bits(seed + 0x64697265U + static_cast<std::uint64_t>(surface.face)), r, whole);
    }
  }
  double total = 0;
  for (const double value : mean) total += value;
  if (total == 0) return {0, std::nullopt, "W"};
  const double error =
      jackknife_error(replicates, [&](int r) { return (total - mean[static_cast<std::size_t>(r)]) / (replicates - 1); });
  return {total / replicates, error, "W"};
}

}  // namespace dishwright
