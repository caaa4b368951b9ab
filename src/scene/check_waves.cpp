// SPDX-License-Identifier: MIT
#include "scene/check_waves.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quantity.h"
#include "scene/feed_axis.h"
#include "scene/interference.h"
#include "scene/mirror_patches.h"
#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

constexpr double touching = 1e-3;     // of the mirror's width: nearer things touch it
constexpr double least_share = 2e-3;  // of the mirrors' area: with less of them between the two ends there is no way by them
const char* const no_way = "what bends round a rim is left out, so nothing could be said of this place";

/// Where a wave comes from or goes to.
struct End {
  bool far = false;
  Vector3 where = Vector3::Zero();  // a place [m], or far away the unit vector there
  std::string target;               // name of the target that stands there; empty for another place
  Vector3 way_from(const Vector3& place) const { return far ? where : Vector3(where - place); }
};

struct Way {
  End source, end;
};

End at_target(const Target& target) { return {false, target.pose.at, target.name}; }

End far_end(const Scene& scene) {
  const auto direction = [](const auto& waves) { return far_direction(waves.aim_error, waves.aim_direction); };
  return {true, scene.radio ? direction(*scene.radio) : direction(*scene.sound), ""};
}

/// All ways by the mirrors that the figures are about, one for each target.
std::vector<Way> ways_of(const Scene& scene) {
  std::vector<Way> ways;
  for (std::size_t k = 0; k < scene.targets.size(); ++k) {
    const End target = at_target(scene.targets[k]);
    if (scene.radio || (scene.sound->from == Sound::From::target && k == 0)) {
      ways.push_back({target, far_end(scene)});
    } else if (scene.sound->from == Sound::From::target) {
      ways.push_back({at_target(scene.targets.front()), target});
    } else {
      const bool far = scene.sound->from == Sound::From::far;
      ways.push_back({far ? far_end(scene) : End{false, scene.sound->place, ""}, target});
    }
  }
  return ways;
}

/// Does a mirror that is a height over its plan stand between a place of its own and another place, own frame? Looked at in steps
/// of 1/24 of the way. Always no for other shapes.
class OwnShadow {
 public:
  explicit OwnShadow(const ReflectorShape& shape) : surface_(height_surface(shape)), plan_(plan_of(shape)) {}
  bool hides(const Vector3& place, const Vector3& way, bool from_front) const {
    constexpr int steps = 24;
    for (int k = 1; surface_ != nullptr && k <= steps; ++k) {
      const Vector3 p = place + k / static_cast<double>(steps) * way;
      if (!plan_.covers(p.x(), p.y())) continue;
      double height = 0, slope_x = 0, slope_y = 0;
      const double x = p.x(), y = p.y();
      surface_->heights(1, &x, &y, &height, &slope_x, &slope_y);
      if ((p.z() > height) != from_front) return true;
    }
    return false;
  }

 private:
  std::shared_ptr<const HeightSurface> surface_;
  PlanOutline plan_;
};

/// Shares of the mirrors' area [1].
struct Sides {
  double source_before = 0, end_before = 0;  // whose front (the bright side) the source sees, and the end
  double both = 0, backs = 0;                // seen by both from one side, and by both from the back
};

/// An end as a mirror sees it, in the mirror's own frame.
End seen_from(const Reflector& mirror, const End& end) {
  const Matrix3 back = mirror.pose.turn.transpose();
  return {end.far, back * (end.far ? end.where : Vector3(end.where - mirror.pose.at)), end.target};
}

/// Does an end see the front (1), the back (-1) or nothing (0) of a place on the mirror? A far end sees all of it, as the sum has
/// it.
int seen_side(const End& end, const MirrorPoint& point, const OwnShadow& shadow) {
  const Vector3 way = end.way_from(point.place);
  const double cosine = point.normal.dot(way);
  if (cosine == 0 || (!end.far && shadow.hides(point.place, way, cosine > 0))) return 0;
  return cosine > 0 ? 1 : -1;
}

Sides sides_of(const Scene& scene, const Way& way) {
  Sides sides;
  double whole = 0;
  for (const Reflector& mirror : scene.reflectors) {
    const std::vector<MirrorPatch> patches = shape_patches(mirror.shape);
    const OwnShadow shadow(mirror.shape);
    const End source = seen_from(mirror, way.source), end = seen_from(mirror, way.end);
    const int steps = std::clamp(static_cast<int>(24 / std::sqrt(static_cast<double>(patches.size()))), 1, 24);
    for (const MirrorPatch& patch : patches) {
      for (int k = 0; k < steps * steps; ++k) {
        const int row = k / steps, column = k % steps;
        const MirrorPoint point = patch.at((row + 0.5) / steps, (column + 0.5) / steps);
        const double area = point.area / (steps * steps);
        const int from_source = seen_side(source, point, shadow), from_end = seen_side(end, point, shadow);
        whole += area;
        sides.source_before += from_source > 0 ? area : 0, sides.end_before += from_end > 0 ? area : 0;
        sides.both += from_source * from_end > 0 ? area : 0, sides.backs += from_source < 0 && from_end < 0 ? area : 0;
      }
    }
  }
  for (double* share : {&sides.source_before, &sides.end_before, &sides.both, &sides.backs}) *share /= std::max(whole, 1e-300);
  return sides;
}

/// From a place to a patch, about [m]: the nearest of a grid, then ever smaller steps from there.
double distance_to(const MirrorPatch& patch, const Vector3& place, int steps) {
  const auto distance = [&](double u, double v) {
    return (patch.at(std::clamp(u, 0.0, 1.0), std::clamp(v, 0.0, 1.0)).place - place).norm();
  };
  double nearest = INFINITY, u = 0, v = 0;
  const auto try_place = [&](double at_u, double at_v) {
    const double there = distance(at_u, at_v);
    if (!(there < nearest)) return false;
    nearest = there, u = std::clamp(at_u, 0.0, 1.0), v = std::clamp(at_v, 0.0, 1.0);
    return true;
  };
  for (int row = 0; row <= steps; ++row) {
    for (int column = 0; column <= steps; ++column)
      try_place(static_cast<double>(row) / steps, static_cast<double>(column) / steps);
  }
  for (double step = 1.0 / steps; step > 1e-6;) {
    const double from_u = u, from_v = v;
    bool moved = false;
    for (const auto& [du, dv] : {std::pair(1, 0), {-1, 0}, {0, 1}, {0, -1}})
      moved = try_place(from_u + du * step, from_v + dv * step) || moved;
    if (!moved) step /= 2;
  }
  return nearest;
}

double distance_to(const Reflector& mirror, const Vector3& place) {
  const Vector3 own = mirror.pose.turn.transpose() * (place - mirror.pose.at);
  const std::vector<MirrorPatch> patches = shape_patches(mirror.shape);
  const int steps = std::clamp(static_cast<int>(48 / std::sqrt(static_cast<double>(patches.size()))), 2, 48);
  double nearest = INFINITY;
  for (const MirrorPatch& patch : patches) nearest = std::min(nearest, distance_to(patch, own, steps));
  return nearest;
}

std::string inches(double metres) { return format_quantity(metres, Dimension::length, &all_units().front()); }

std::string wave_word(const Scene& scene) { return scene.radio ? "the wave" : "the sound"; }

std::string mirrors_of(const Scene& scene) {
  return scene.reflectors.size() == 1 ? "reflector." + scene.reflectors.front().name : "the mirrors";
}

/// "move it before the mirror, such as at = "focus of dish"".
std::string fix_of_target(const Scene& scene) {
  const Reflector& mirror = scene.reflectors.front();
  const bool focus = own_focus(mirror.shape).has_value();
  return focus ? fmt::format("move it before the mirror, such as at = \"focus of {}\"", mirror.name)
               : "move it before the mirror";
}

void check_touch(const Scene& scene, const std::string& key, const std::string& what, const Vector3& place,
                 std::vector<SceneProblem>& problems) {
  for (const Reflector& mirror : scene.reflectors) {
    const double nearest = touching * rim_width(mirror.shape);
    if (distance_to(mirror, place) >= nearest) continue;
    problems.push_back({key, fmt::format("{} touches reflector.{}", what, mirror.name),
                        fmt::format("a wave is summed over the mirror from a distance, here {} at least", inches(nearest)),
                        "move it off the mirror"});
    return;
  }
}

/// Sound that comes from where it is to be heard.
void check_apart(const Way& way, const Target& target, std::vector<SceneProblem>& problems) {
  if (way.source.far || way.end.far) return;
  const double apart = (way.source.where - way.end.where).norm();
  constexpr double one_place = 1e-3;  // [m]
  if (apart > one_place && !is_inside(target, way.source.where)) return;
  const bool speaker = !way.source.target.empty();
  problems.push_back(
      {speaker ? "target." + target.name + ".at" : "sound.from",
       fmt::format("the sound comes from target.{} itself", target.name),
       "a gain is told against the straight way, and there is none",
       speaker ? "move the target away from the speaker" : "move one of the two; a speaker in the focus is from = \"focus\""});
}

/// The wave meets one side of every mirror, and the other end sees the other.
void check_sides(const Scene& scene, const Way& way, std::vector<SceneProblem>& problems) {
  const Sides sides = sides_of(scene, way);
  if (sides.both >= least_share) return;
  const std::string mirrors = mirrors_of(scene), wave = wave_word(scene);
  const bool source_behind = sides.source_before < 0.5, end_behind = sides.end_before < 0.5;
  const std::string end = way.end.far ? "the far side" : "target." + way.end.target;
  const std::string why = fmt::format("{} meets the {} of {}, and {} sees the {} only; {}", wave,
                                      source_behind ? "back" : "front", mirrors, end, source_behind ? "front" : "back", no_way);
  // The one of the two that stands behind is to move; where neither does, the target.
  const bool blame_source = source_behind && !end_behind;
  const End& wrong = blame_source ? way.source : way.end;
  if (wrong.far) {
    const Reflector& mirror = scene.reflectors.front();
    problems.push_back(
        {"reflector." + mirror.name + ".turn", fmt::format("{} turns its back to the far side", mirrors), why, "turn it round"});
  } else if (!wrong.target.empty()) {
    const bool in_plane = !source_behind && !end_behind;
    problems.push_back({"target." + wrong.target + ".at",
                        in_plane ? fmt::format("target.{} cannot see the part of {} that {} meets", wrong.target, mirrors, wave)
                                 : fmt::format("target.{} stands behind {}", wrong.target, mirrors),
                        why, fix_of_target(scene)});
  } else {
    problems.push_back({"sound.from", fmt::format("the sound comes from behind {}", mirrors), why,
                        "move the place before the mirror, or turn the mirror round"});
  }
}

}  // namespace

std::vector<SceneProblem> wave_problems(const Scene& scene) {
  std::vector<SceneProblem> problems;
  if (!scene.is_wave() || scene.reflectors.empty()) return problems;
  if (scene.sound && scene.sound->from == Sound::From::place)
    check_touch(scene, "sound.from", "the source of the sound", scene.sound->place, problems);
  for (const Target& target : scene.targets) {
    const std::string key = "target." + target.name + ".at", name = "target." + target.name;
    if (is_point(target.shape)) check_touch(scene, key, name, target.pose.at, problems);
    if (!scene.radio || !feed_axis(scene.reflectors.front(), target.pose.at).isZero()) continue;
    problems.push_back(
        {key, fmt::format("the feed at {} has nowhere to look", name),
         fmt::format("a feed looks at the vertex of reflector.{}, and it stands there", scene.reflectors.front().name),
         fix_of_target(scene)});
  }
  if (!problems.empty()) return problems;
  const std::vector<Way> ways = ways_of(scene);
  for (std::size_t k = 0; k < ways.size(); ++k) check_apart(ways[k], scene.targets[k], problems);
  if (!problems.empty()) return problems;
  for (const Way& way : ways) check_sides(scene, way, problems);
  return problems;
}

double distance_to_mirrors(const Scene& scene, const Vector3& place) {
  double nearest = INFINITY;
  for (const Reflector& mirror : scene.reflectors) nearest = std::min(nearest, distance_to(mirror, place));
  return nearest;
}

std::vector<std::string> odd_waves(const Scene& scene) {
  std::vector<std::string> odd;
  if (!scene.is_wave() || scene.reflectors.empty()) return odd;
  const std::string mirrors = mirrors_of(scene), wave = wave_word(scene);
  const auto& frequencies = scene.radio ? scene.radio->frequencies : scene.sound->frequencies;
  if (frequencies.empty()) return odd;
  const std::vector<Way> ways = ways_of(scene);
  for (std::size_t k = 0; k < ways.size(); ++k) {
    const std::string name = "target." + scene.targets[k].name;
    const Sides sides = sides_of(scene, ways[k]);
    if (sides.backs > 0.5 * sides.both)
      odd.push_back(
          fmt::format("{} goes by the back of {}, the side that is dark in light: {} and the other end are both behind it", wave,
                      mirrors, name));
    if (sides.both < 0.5)
      odd.push_back(fmt::format("only {:.2g} % of {} stands between {} and the other end: one of them sees the rest from behind",
                                100 * sides.both, mirrors, name));
    const bool near = !ways[k].source.far && !ways[k].end.far;
    if (near && (ways[k].source.where - ways[k].end.where).norm() < 0.2 * distance_to_mirrors(scene, ways[k].end.where))
      odd.push_back(fmt::format("the sound comes from {} beside {}, far nearer than any mirror, which can hardly help",
                                inches((ways[k].source.where - ways[k].end.where).norm()), name));
  }
  return odd;
}

}  // namespace dishwright
