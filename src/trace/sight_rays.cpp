// SPDX-License-Identifier: MIT
#include "trace/sight_rays.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "trace/exact_points.h"
#include "trace/walk.h"

namespace dishwright {

namespace {

constexpr float endless = std::numeric_limits<float>::infinity();

class Follower {
 public:
  Follower(const Scene& scene, const SceneGeometry& geometry)
      : scene_(scene), geometry_(geometry), rays_(std::make_unique<RayBlock>()), met_(std::make_unique<Meetings>()) {
    rays_->n = 1;
  }

  SightRay follow(const Vector3& through) {
    SightRay ray;
    ray.direction = -scene_.sun.direction();
    ray.way.push_back(through - geometry_.world.way_out() * ray.direction);
    start(ray.way.back(), ray.direction);
    for (int flight = 0; flight <= most_bounces; ++flight) {
      geometry_.world.nearest(flight == 0 ? RayMask::way_in : RayMask::everything, *rays_, endless);
      if (rays_->surface[0] < 0) return ray;  // missed
      const Surface& surface = geometry_.list.surfaces[static_cast<std::size_t>(rays_->surface[0])];
      find_point(surface);
      ray.way.push_back(surface.pose.turn * own_point() + surface.pose.at);
      if (!surface.is_mirror()) return ended(ray, surface, flight > 0);
      if (ray.met < 0) ray.met = surface.owner;
      ray.element.push_back(rays_->element[0]);
      if (met_->facing[0] >= 0) break;  // its back
      ray.mirrors.push_back(surface.owner);
      reflect(ray, surface);
    }
    ray.end = SightEnd::uncounted;
    return ray;
  }

 private:
  void start(const Vector3& from, const Vector3& toward) {
    rays_->ox[0] = from.x(), rays_->oy[0] = from.y(), rays_->oz[0] = from.z();
    rays_->dx[0] = toward.x(), rays_->dy[0] = toward.y(), rays_->dz[0] = toward.z();
    rays_->start_gap[0] = 0, rays_->own_surface[0] = -1, rays_->own_again[0] = 0;
  }

  /// The exact point, normal and side.
  void find_point(const Surface& surface) {
    met_->element[0] = rays_->element[0];
    solve(surface,
          {rays_->ox.data(), rays_->oy.data(), rays_->oz.data(), rays_->dx.data(), rays_->dy.data(), rays_->dz.data(),
           rays_->distance.data()},
          1, *met_);
  }
  Vector3 own_point() const { return {met_->x[0], met_->y[0], met_->z[0]}; }

  SightRay& ended(SightRay& ray, const Surface& surface, bool reflected) const {
    ray.target = surface.owner, ray.face = surface.face, ray.landed = own_point();
    const bool front = met_->facing[0] < 0;
    ray.end = !reflected ? SightEnd::shaded : surface.counts() && front ? SightEnd::counted : SightEnd::uncounted;
    return ray;
  }

  /// u = d − 2 (d · n) n/|n|², in the mirror's own frame; then off the surface as the tracer's rays start.
  void reflect(SightRay& ray, const Surface& surface) {
    const Vector3 d(met_->dx[0], met_->dy[0], met_->dz[0]), n(met_->nx[0], met_->ny[0], met_->nz[0]);
    const Vector3 u = d - 2 * d.dot(n) / n.squaredNorm() * n, at = own_point();
    const int index = rays_->surface[0];
    ray.direction = (surface.pose.turn * u).normalized();
    start(ray.way.back(), ray.direction);
    const float error = geometry_.world.grid_error(index);
    const float most = std::max(20 * error, 0.01F * static_cast<float>(surface.reach()));
    const float rise = static_cast<float>(u.dot(n) / n.norm());
    rays_->start_gap[0] = geometry_.world.start_gap(index) + std::min(most, 2 * error / std::max(1e-6F, rise));
    if (surface.kind != SurfaceKind::quadric) return;
    rays_->own_surface[0] = index;
    const RayEquation eq = ray_equation(surface.quadric, at.x(), at.y(), at.z(), u.x(), u.y(), u.z());
    rays_->own_again[0] = static_cast<float>(distance_again(eq.a, eq.b));
  }

  const Scene& scene_;
  const SceneGeometry& geometry_;
  std::unique_ptr<RayBlock> rays_;
  std::unique_ptr<Meetings> met_;
};

}  // namespace

std::vector<SightRay> sight_rays(const Scene& scene, const SceneGeometry& geometry, const std::vector<Vector3>& through) {
  Follower follower(scene, geometry);
  std::vector<SightRay> rays;
  rays.reserve(through.size());
  for (const Vector3& place : through) rays.push_back(follower.follow(place));
  return rays;
}

}  // namespace dishwright
