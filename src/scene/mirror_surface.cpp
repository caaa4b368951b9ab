// SPDX-License-Identifier: MIT
#include "scene/mirror_surface.h"

#include <algorithm>
#include <cmath>

#include "shape/flaws.h"

namespace dishwright {

std::optional<Quadric<double>> shape_quadric(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) -> std::optional<Quadric<double>> {
        if constexpr (requires { s.quadric(); }) return s.quadric();
        return std::nullopt;
      },
      shape);
}

bool bright_below(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) {
        return requires { requires std::decay_t<decltype(s)>::bright_below; };
      },
      shape);
}

bool may_show_back(const ReflectorShape& shape) {
  const auto quadric = shape_quadric(shape);
  return bright_below(shape) || (quadric && quadric->a == 0 && quadric->b == 0 && quadric->c == 0);
}

Heights surface_heights(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) -> Heights {
        if constexpr (requires { s.heights(); }) return s.heights();
        if constexpr (requires { s.quadric(); }) return std::make_shared<QuadricSurface>(s.quadric());
        return nullptr;
      },
      shape);
}

Heights height_surface(const ReflectorShape& shape) { return bright_below(shape) ? nullptr : surface_heights(shape); }

PlanOutline plan_of(const ReflectorShape& shape) {
  return std::visit([](const auto& s) { return s.plan(); }, shape);
}

std::optional<double> rim_depth(const ReflectorShape& shape) {
  const auto quadric = shape_quadric(shape);
  const PlanOutline plan = plan_of(shape);
  if (!quadric || (plan.round && (plan.x_middle != 0 || plan.y_middle != 0))) return std::nullopt;
  const double half = plan.outer, beneath = quadric->d * quadric->d - quadric->c * half * half;
  return beneath > 0 ? std::optional(bowl_height(*quadric, quadric->a * half * half)) : std::nullopt;
}

Heights flawed_surface(const Reflector& reflector) {
  const Flaws& flaws = reflector.flaws;
  Heights base = height_surface(reflector.shape);
  if (const auto* dish = std::get_if<Paraboloid>(&reflector.shape)) {  // x²/(1 + sag_x) + y²/(1 + sag_y) = 4 f z
    Quadric<double> quadric = dish->quadric();
    quadric.a /= 1 + flaws.sag_x, quadric.b /= 1 + flaws.sag_y;
    base = std::make_shared<QuadricSurface>(quadric);
  }
  if (base == nullptr) return nullptr;
  return std::make_shared<FlawedSurface>(std::move(base), flaws, plan_of(reflector.shape));
}

Heights built_surface(const Reflector& reflector) {
  if (reflector.flaws.any()) {
    if (Heights flawed = flawed_surface(reflector)) return flawed;
  }
  return surface_heights(reflector.shape);
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
