// SPDX-License-Identifier: MIT
#include "study/light_fan.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scene/mirror_surface.h"
#include "trace/sight_rays.h"

namespace dishwright {

namespace {

constexpr int least_side = 9, most_side = 63;

/// An even grid square to the sun that covers a mirror.
struct SunGrid {
  Vector3 corner, step_u, step_v;  // [m]
  int columns = 0, rows = 0;
  double cell() const { return step_u.norm() * step_v.norm(); }
  Vector3 place(int column, int row) const { return corner + (column + 0.5) * step_u + (row + 0.5) * step_v; }
};

SunGrid grid_over(const Reflector& mirror, const Vector3& sun, double cells) {
  const PlanOutline plan = plan_of(mirror.shape);
  const HeightRange heights = std::visit([](const auto& shape) { return shape.height_range(); }, mirror.shape);
  Vector3 v = sun.cross(mirror.pose.turn.col(0));
  if (v.norm() < 1e-6) v = sun.cross(mirror.pose.turn.col(1));
  v.normalize();
  const Vector3 u = v.cross(sun);
  constexpr double most = std::numeric_limits<double>::max();
  double low_u = most, high_u = -most, low_v = most, high_v = -most;
  for (const double x : {plan.low_x(), plan.high_x()}) {
    for (const double y : {plan.low_y(), plan.high_y()}) {
      for (const double z : {heights.low, heights.high}) {
        const Vector3 at = mirror.pose.turn * Vector3(x, y, z) + mirror.pose.at;
        low_u = std::min(low_u, at.dot(u)), high_u = std::max(high_u, at.dot(u));
        low_v = std::min(low_v, at.dot(v)), high_v = std::max(high_v, at.dot(v));
      }
    }
  }
  const double wide = std::max(high_u - low_u, 1e-9), high = std::max(high_v - low_v, 1e-9);
  SunGrid grid;
  grid.columns = std::clamp(static_cast<int>(std::lround(std::sqrt(cells * wide / high))), least_side, most_side);
  grid.rows = std::clamp(static_cast<int>(std::lround(cells / grid.columns)), least_side, most_side);
  grid.step_u = wide / grid.columns * u, grid.step_v = high / grid.rows * v;
  grid.corner = low_u * u + low_v * v + mirror.pose.at.dot(sun) * sun;
  return grid;
}

/// Two rays off the same pieces of the same mirrors: what lies between them is a smooth tube.
bool same_sheet(const SightRay& a, const SightRay& b) { return a.mirrors == b.mirrors && a.element == b.element; }

class MirrorFan {
 public:
  MirrorFan(const Scene& scene, const SceneGeometry& geometry, std::size_t index, double cells)
      : scene_(scene),
        index_(static_cast<int>(index)),
        sun_(scene.sun.direction()),
        grid_(grid_over(scene.reflectors[index], sun_, cells)) {
    std::vector<Vector3> through;
    for (int row = 0; row < grid_.rows; ++row) {
      for (int column = 0; column < grid_.columns; ++column) through.push_back(grid_.place(column, row));
    }
    rays_ = sight_rays(scene, geometry, through);
  }

  void add_to(LightFan& fan) const {
    const Reflector& mirror = scene_.reflectors[static_cast<std::size_t>(index_)];
    Beamlet beam;
    beam.skin = std::hypot(2 * mirror.slope_error, mirror.specular_spread);
    beam.blur = std::hypot(beam.skin, scene_.sun.half_angle / 2);
    for (int row = 0; row < grid_.rows; ++row) {
      for (int column = 0; column < grid_.columns; ++column) {
        const SightRay* ray = at(column, row);
        if (ray == nullptr) continue;
        beam.from = ray->way.back(), beam.along = ray->direction;
        beam.power = scene_.sun.beam * grid_.cell();
        for (const int one : ray->mirrors) beam.power *= scene_.reflectors[static_cast<std::size_t>(one)].reflectance;
        change(*ray, at(column - 1, row), at(column + 1, row), grid_.step_u, beam.from_u, beam.along_u);
        change(*ray, at(column, row - 1), at(column, row + 1), grid_.step_v, beam.from_v, beam.along_v);
        fan.beams.push_back(beam);
      }
    }
    fan.size = std::max({fan.size, grid_.columns * grid_.step_u.norm(), grid_.rows * grid_.step_v.norm()});
  }

 private:
  /// A ray that this mirror sends out of the scene; null for others.
  const SightRay* at(int column, int row) const {
    if (column < 0 || row < 0 || column >= grid_.columns || row >= grid_.rows) return nullptr;
    const SightRay& ray = rays_[static_cast<std::size_t>(row * grid_.columns + column)];
    const bool ours = ray.reflected() && ray.mirrors.front() == index_ && ray.end == SightEnd::missed;
    return ours ? &ray : nullptr;
  }

  /// How a ray changes over its cell: from its neighbours on the same sheet; alone on it, as off a plane.
  void change(const SightRay& ray, const SightRay* before, const SightRay* behind, const Vector3& step, Vector3& from,
              Vector3& along) const {
    const SightRay* low = before != nullptr && same_sheet(ray, *before) ? before : &ray;
    const SightRay* high = behind != nullptr && same_sheet(ray, *behind) ? behind : &ray;
    const int cells = (low != &ray ? 1 : 0) + (high != &ray ? 1 : 0);
    if (cells > 0) {
      from = (high->way.back() - low->way.back()) / cells, along = (high->direction - low->direction) / cells;
      return;
    }
    along.setZero(), from = step;
    const Vector3 normal = ray.direction + sun_;
    if (ray.mirrors.size() == 1 && normal.norm() > 1e-6) from -= step.dot(normal) / sun_.dot(normal) * sun_;
  }

  const Scene& scene_;
  int index_;
  Vector3 sun_;
  SunGrid grid_;
  std::vector<SightRay> rays_;
};

}  // namespace

LightFan light_fan(const Scene& scene, const SceneGeometry& geometry, int rays) {
  LightFan fan;
  const double each = static_cast<double>(rays) / static_cast<double>(scene.reflectors.size());
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) MirrorFan(scene, geometry, k, each).add_to(fan);
  for (const Beamlet& beam : fan.beams)
    fan.power += beam.power, fan.middle += beam.power * beam.from, fan.along += beam.power * beam.along;
  if (fan.power <= 0) return fan;
  fan.middle /= fan.power;
  if (fan.along.norm() > 1e-6 * fan.power) {
    fan.along.normalize();
  } else {
    fan.along.setZero();
  }
  return fan;
}

}  // namespace dishwright
