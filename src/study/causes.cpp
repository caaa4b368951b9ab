// SPDX-License-Identifier: MIT
#include "study/causes.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "study/caught_share.h"

namespace dishwright {

namespace {

constexpr std::uint64_t most_paths = 65'536;
constexpr double at_focus = 1e-3;  // of the focal length: nearer than that the target is where it belongs

/// The paraboloid or trough that a shape stands for; empty where it is one, or has no focus.
std::optional<ReflectorShape> ideal_of(const ReflectorShape& shape) {
  const auto dish = [](double focal_length, double width, double hole) {
    return ReflectorShape(Paraboloid{focal_length, width, hole});
  };
  if (const auto* s = std::get_if<SphereBowl>(&shape)) return dish(s->radius / 2, s->width, s->hole_width);
  if (const auto* s = std::get_if<Petals>(&shape)) return dish(s->focal_length, s->width, s->hole_width);
  if (const auto* s = std::get_if<ArcTrough>(&shape)) return ReflectorShape(Trough{s->radius / 2, s->width, s->length});
  if (const auto focus = own_focus(shape); focus && focus->z() > 0) {
    if (std::holds_alternative<Pressed>(shape) || std::holds_alternative<Catenary>(shape))
      return dish(focus->z(), rim_width(shape), hole_width(shape));
    if (const auto* s = std::get_if<Facets>(&shape)) return dish(focus->z(), s->width, s->hole_width);
  }
  return std::nullopt;
}

/// The scene with that made right; empty where it is right already, or where nobody can say what right is.
std::optional<Scene> made_right(const Scene& scene, Cause cause) {
  Scene right = scene;
  bool changed = false;
  const auto each = [&](const auto& mend) {
    for (Reflector& mirror : right.reflectors) changed = mend(mirror) || changed;
  };
  switch (cause) {
    case Cause::aim: changed = right.sun.aim_error > 0, right.sun.aim_error = 0; break;
    case Cause::place: {
      const Reflector& first = right.reflectors.front();
      const auto focus = own_focus(first.shape);
      if (!focus) break;
      const Vector3 at = first.pose.turn * *focus + first.pose.at;
      changed = (right.targets.front().pose.at - at).norm() > at_focus * focus->norm();
      right.targets.front().pose.at = at;
      break;
    }
    case Cause::slope: each([](Reflector& m) { return std::exchange(m.slope_error, 0) > 0; }); break;
    case Cause::spread: each([](Reflector& m) { return std::exchange(m.specular_spread, 0) > 0; }); break;
    case Cause::flaws:
      each([](Reflector& m) {
        const bool any = m.flaws.any();
        m.flaws = Flaws{};
        return any;
      });
      break;
    case Cause::shape:
      each([](Reflector& m) {
        const auto ideal = ideal_of(m.shape);
        if (ideal) m.shape = *ideal;
        return ideal.has_value();
      });
      break;
    case Cause::sun_disc: changed = right.sun.half_angle > 0, right.sun.half_angle = 0; break;
  }
  return changed ? std::optional<Scene>(std::move(right)) : std::nullopt;
}

}  // namespace

const char* cause_name(Cause cause) {
  switch (cause) {
    case Cause::aim: return "aim_error";
    case Cause::place: return "place";
    case Cause::slope: return "slope_error";
    case Cause::spread: return "specular_spread";
    case Cause::flaws: return "flaws";
    case Cause::shape: return "shape";
    case Cause::sun_disc: return "sun_disc";
  }
  return "";
}

Causes find_causes(const Scene& scene, int threads, const Watch& watch) {
  Causes out;
  if (scene.is_wave() || scene.lamp || scene.targets.empty()) return out;
  const std::uint64_t paths = std::min(scene.trace.paths, most_paths);
  GeometryCache geometries;
  const auto share_of = [&](const Scene& one) {
    end_if_stopped(watch);
    Watch own;
    return caught_share(one, paths, threads, own, &geometries);
  };
  out.share = share_of(scene);
  for (const Cause cause : {Cause::aim, Cause::slope, Cause::spread, Cause::sun_disc, Cause::place, Cause::flaws, Cause::shape}) {
    const std::optional<Scene> right = made_right(scene, cause);
    if (!right) continue;
    CauseCost cost{cause, share_of(*right), {}};
    cost.gain = difference(cost.share, out.share);
    out.costs.push_back(std::move(cost));
  }
  std::stable_sort(out.costs.begin(), out.costs.end(),
                   [](const CauseCost& a, const CauseCost& b) { return a.gain.value > b.gain.value; });
  for (CauseCost& cost : out.costs) cost.share.without_one.clear(), cost.gain.without_one.clear();
  out.share.without_one.clear();
  return out;
}

}  // namespace dishwright
