// SPDX-License-Identifier: MIT
#include "survey/held_against.h"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <cmath>

#include "base/error.h"
#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

[[noreturn]] void refuse(const Scene& scene, const std::string& why, const std::string& fix) {
  throw InputError("the project file's first mirror is " + shape_with_article(scene.reflectors.front().shape) +
                       ", which a survey cannot be held against",
                   why, fix);
}

/// What no depth under a straightedge can say.
void refuse_what_cannot_be(const Scene& scene) {
  const ReflectorShape& shape = scene.reflectors.front().shape;
  if (std::holds_alternative<Measured>(shape))
    refuse(scene, "it was measured already, so nothing says what was meant", "name the project file of the design");
  if (std::holds_alternative<Mesh>(shape))
    refuse(scene, "the triangles of a mesh have no places that a rule could find again",
           "give the shape by its kind and sizes (petals, profile, cone …); or survey a cloud of points without --scene");
  if (std::holds_alternative<Flat>(shape))
    refuse(scene, "a straightedge lies on a flat mirror, so there are no depths to read",
           "lay the straightedge on it in several directions: a gap of 1/16 in under 24 in is a bend of about 10 mrad");
  if (bright_below(shape))
    refuse(scene, "it bulges toward the light, and a straightedge across its rim does not lie over the mirror",
           "check it with a template cut to its curve");
}

/// A trough whose curve lies to one side: the straightedge lies from edge to edge, and so leans.
void set_edge_plane(MeantSurface& surface) {
  const PlanOutline& plan = surface.plan;
  const double left = height_at(*surface.heights, plan.x_from, 0).height,
               right = height_at(*surface.heights, plan.x_to, 0).height, width = plan.x_to - plan.x_from;
  if (std::abs(plan.x_from + plan.x_to) < 1e-9 * width && std::abs(left - right) < 1e-9 * width) return;
  surface.in_rim_plane = false;
  surface.rim_at = Vector3((plan.x_from + plan.x_to) / 2, 0, (left + right) / 2);
  surface.rim_turn = Eigen::AngleAxisd(-std::atan2(right - left, width), Vector3::UnitY()).toRotationMatrix();
}

Meant surface_of(const Reflector& mirror) {
  auto out = std::make_shared<MeantSurface>();
  out->key = shape_word(mirror.shape), out->word = shape_with_article(mirror.shape);
  out->plan = plan_of(mirror.shape);
  out->heights = height_surface(mirror.shape);
  if (const std::optional<Vector3> focus = own_focus(mirror.shape)) out->focal_length = focus->z();
  if (const auto* petals = std::get_if<Petals>(&mirror.shape)) {
    out->pieces = petals->count;
    out->word = fmt::format("a dish of {} petals", petals->count);
  }
  if (mirror.flaws.scallop) {
    Reflector on_ribs = mirror;
    on_ribs.flaws = {};
    on_ribs.flaws.scallop = mirror.flaws.scallop;
    out->heights = flawed_surface(on_ribs);
    out->pieces = mirror.flaws.scallop->ribs, out->ribs = true, out->key = "ribs";
    out->word += fmt::format(" on {} ribs", out->pieces);
  }
  if (const auto* dish = std::get_if<OffsetParaboloid>(&mirror.shape)) set_rim_plane(*out, *dish);
  if (!out->plan.round) set_edge_plane(*out);
  out->size = out->scales() ? out->focal_length : bowl_like(out->heights, out->plan);
  return out;
}

}  // namespace

std::optional<Facets> tiles_of(const Scene& scene) {
  if (scene.reflectors.empty()) return std::nullopt;
  const auto* tiles = std::get_if<Facets>(&scene.reflectors.front().shape);
  return tiles == nullptr ? std::nullopt : std::optional(*tiles);
}

HeldAgainst held_against(const Scene& scene) {
  if (scene.reflectors.empty()) throw InputError("the project file has no mirror", "", "give one with a mirror");
  const Reflector& mirror = scene.reflectors.front();
  const bool ribs = mirror.flaws.scallop.has_value();
  if (std::holds_alternative<Paraboloid>(mirror.shape) && !ribs) return {ShapeKind::paraboloid, nullptr};
  if (std::holds_alternative<SphereBowl>(mirror.shape) && !ribs) return {ShapeKind::sphere, nullptr};
  if (std::holds_alternative<Trough>(mirror.shape) && !ribs) return {ShapeKind::trough, nullptr};
  refuse_what_cannot_be(scene);
  return {ShapeKind::meant, surface_of(mirror)};
}

// The rim lies on z = r²/(4 f) over the circle x² + (y − c)² = (w/2)², where r² = 2 c y − c² + w²/4: a plane of slope c/(2 f).
void set_rim_plane(MeantSurface& surface, const OffsetParaboloid& dish) {
  const double c = dish.clearance + dish.width / 2, f = dish.focal_length, lean = std::atan(c / (2 * f));
  surface.in_rim_plane = false;
  surface.rim_at = Vector3(0, c, (c * c + dish.width * dish.width / 4) / (4 * f));
  surface.rim_turn = Eigen::AngleAxisd(lean, Vector3::UnitX()).toRotationMatrix();
}

}  // namespace dishwright
