// SPDX-License-Identifier: MIT
#include "scene/mirror_surface.h"

#include <algorithm>
#include <cmath>
#include <type_traits>

#include "shape/catenary.h"
#include "shape/conic.h"
#include "shape/surfaces.h"

namespace dishwright {

Quadric<double> quadric_of(const Paraboloid& s) { return {1, 1, 0, 2 * s.focal_length, 0}; }
Quadric<double> quadric_of(const OffsetParaboloid& s) { return {1, 1, 0, 2 * s.focal_length, 0}; }
Quadric<double> quadric_of(const SphereBowl& s) { return {1, 1, 1, s.radius, 0}; }
Quadric<double> quadric_of(const Trough& s) { return {1, 0, 0, 2 * s.focal_length, 0}; }
Quadric<double> quadric_of(const ArcTrough& s) { return {1, 0, 1, s.radius, 0}; }
Quadric<double> quadric_of(const Flat& /*s*/) { return {0, 0, 0, 0.5, 0}; }
Quadric<double> quadric_of(const Cone& s) {
  const double slope = 2 * s.depth / s.width;
  return {1, 1, -1 / (slope * slope), 0, 0};
}
Quadric<double> quadric_of(const Hyperboloid& s) { return hyperboloid_conic(s.near_focus, s.far_focus).quadric(); }
Quadric<double> quadric_of(const Ellipsoid& s) { return ellipsoid_conic(s.near_focus, s.far_focus).quadric(); }

std::optional<Quadric<double>> shape_quadric(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) -> std::optional<Quadric<double>> {
        if constexpr (requires { quadric_of(s); }) return quadric_of(s);
        return std::nullopt;
      },
      shape);
}

std::shared_ptr<const HeightSurface> height_surface(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) -> std::shared_ptr<const HeightSurface> {
        using Shape = std::decay_t<decltype(s)>;
        if constexpr (std::is_same_v<Shape, Profile>) return std::make_shared<ProfileSurface>(s.curve, s.trough);
        if constexpr (std::is_same_v<Shape, Catenary>)
          return std::make_shared<CatenarySurface>(catenary_parameter(s.width, s.depth));
        if constexpr (std::is_same_v<Shape, Petals>) return std::make_shared<PetalSurface>(s);
        if constexpr (std::is_same_v<Shape, Measured>) return s.surface;
        constexpr bool bright_below = std::is_same_v<Shape, Hyperboloid>;
        if constexpr (!bright_below && requires { quadric_of(s); }) return std::make_shared<QuadricSurface>(quadric_of(s));
        return nullptr;
      },
      shape);
}

PlanOutline plan_of(const ReflectorShape& shape) {
  PlanOutline plan;
  plan.inner = hole_width(shape) / 2, plan.outer = rim_width(shape) / 2;
  std::visit(
      [&plan](const auto& s) {
        using Shape = std::decay_t<decltype(s)>;
        if constexpr (requires { s.length; }) {
          plan.round = s.length <= 0;
          plan.x_from = -s.width / 2, plan.x_to = s.width / 2, plan.y_from = -s.length / 2, plan.y_to = s.length / 2;
        }
        if constexpr (std::is_same_v<Shape, OffsetParaboloid>) plan.y_middle = s.clearance + s.width / 2;
        if constexpr (std::is_same_v<Shape, Profile>) {
          plan.round = !s.trough;
          if (s.trough) plan.x_from = s.curve->start(), plan.x_to = s.curve->rim();
        }
        if constexpr (std::is_same_v<Shape, Measured>) {
          plan.x_middle = s.middle_x, plan.y_middle = s.middle_y;
          plan.x_from += s.middle_x, plan.x_to += s.middle_x, plan.y_from += s.middle_y, plan.y_to += s.middle_y;
        }
      },
      shape);
  return plan;
}

std::shared_ptr<const HeightSurface> flawed_surface(const Reflector& reflector) {
  const Flaws& flaws = reflector.flaws;
  std::shared_ptr<const HeightSurface> base = height_surface(reflector.shape);
  if (const auto* dish = std::get_if<Paraboloid>(&reflector.shape)) {  // x²/(1 + sag_x) + y²/(1 + sag_y) = 4 f z
    Quadric<double> quadric = quadric_of(*dish);
    quadric.a /= 1 + flaws.sag_x, quadric.b /= 1 + flaws.sag_y;
    base = std::make_shared<QuadricSurface>(quadric);
  }
  if (base == nullptr) return nullptr;
  return std::make_shared<FlawedSurface>(std::move(base), flaws, plan_of(reflector.shape));
}

double half_path_rms(const Reflector& reflector) {
  const auto truth = height_surface(reflector.shape), flawed = flawed_surface(reflector);
  if (!reflector.flaws.any() || truth == nullptr || flawed == nullptr) return 0;
  const PlanOutline plan = plan_of(reflector.shape);
  constexpr int across = 200;
  double count = 0, sum = 0, squares = 0;
  for (int i = 0; i < across; ++i) {
    for (int j = 0; j < across; ++j) {
      const double x = plan.low_x() + (plan.high_x() - plan.low_x()) * (i + 0.5) / across,
                   y = plan.low_y() + (plan.high_y() - plan.low_y()) * (j + 0.5) / across;
      if (!plan.covers(x, y)) continue;
      double height = 0, flawed_height = 0, slope_x = 0, slope_y = 0, ignored_x = 0, ignored_y = 0;
      truth->heights(1, &x, &y, &height, &slope_x, &slope_y);
      flawed->heights(1, &x, &y, &flawed_height, &ignored_x, &ignored_y);
      const double half_path = (flawed_height - height) / (1 + slope_x * slope_x + slope_y * slope_y);
      count += 1, sum += half_path, squares += half_path * half_path;
    }
  }
  return count > 0 ? std::sqrt(std::max(0.0, squares / count - std::pow(sum / count, 2))) : 0;
}

}  // namespace dishwright
