// SPDX-License-Identifier: MIT
#include "scene/validate.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

#include "base/quantity.h"
#include "scene/check_light.h"
#include "scene/check_waves.h"
#include "scene/interference.h"
#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

constexpr std::size_t most_things = 64;  // reflectors, and targets, of one scene
constexpr double farthest = 10e3;        // from the frame's origin [m]

void check_hole(const std::string& key, double hole, double width, std::vector<SceneProblem>& problems) {
  if (hole < width) return;
  problems.push_back({key + ".hole_width", "the hole is as wide as the dish or wider",
                      fmt::format("the hole is {}, the dish {}: no mirror is left", in_both(hole), in_both(width)),
                      "make hole_width smaller than width, or take it out"});
}

double size_of(const PlanOutline& plan) { return std::max(plan.high_x() - plan.low_x(), plan.high_y() - plan.low_y()); }

void check_dent(const std::string& key, const Dent& dent, PlanOutline plan, std::vector<SceneProblem>& problems) {
  plan.inner = 0;
  const bool outside = !plan.covers(dent.x, dent.y);
  if (outside) {
    problems.push_back({key, fmt::format("the dent at x = {}, y = {} is outside the mirror", in_both(dent.x), in_both(dent.y)),
                        "the place is counted from the mirror's own origin", "move its `at` within the rim"});
  }
  const double finest = size_of(plan) / 60;
  if (dent.width < finest)
    problems.push_back({key, fmt::format("a dent {} wide is finer than can be resolved", in_both(dent.width)),
                        fmt::format("a mirror of this size is followed down to {}", in_both(finest)),
                        "make it wider, or stand for many small ones with slope_error"});
  if (std::abs(dent.depth) > dent.width / 3)
    problems.push_back(
        {key, "a dent is deeper than a third of its width", "such a hole is no dent any more", "make it shallower or wider"});
}

void check_roughness(const std::string& key, const Roughness& rough, double size, std::vector<SceneProblem>& problems) {
  const double c = rough.correlation, slope = std::numbers::sqrt2 * rough.rms / c;
  if (c < size / 40)
    problems.push_back(
        {key + ".surface_correlation", fmt::format("bumps {} in reach are finer than can be resolved", in_both(c)),
         fmt::format("a mirror of this size is followed down to {}", in_both(size / 40)),
         fmt::format("make it longer, or stand for fine bumps with slope_error = \"{:.3g} mrad\" in light", 1e3 * slope)});
  if (c > size / 3)
    problems.push_back({key + ".surface_correlation", fmt::format("bumps {} in reach are too wide to be bumps", in_both(c)),
                        fmt::format("a third of the mirror is {}", in_both(size / 3)),
                        "make it shorter, or bend the mirror with sag_x, twist or waviness"});
  if (slope > 0.4)
    problems.push_back({key + ".surface_rms",
                        fmt::format("the bumps lean by {:.0f} mrad rms, steeper than a skin can be", 1e3 * slope),
                        "their rms slope is 1.41 x surface_rms / surface_correlation",
                        "make surface_rms smaller or surface_correlation longer"});
}

void check_flaws(const std::string& key, const Reflector& reflector, std::vector<SceneProblem>& problems) {
  const PlanOutline plan = plan_of(reflector.shape);
  const double size = size_of(plan), half = (plan.high_x() - plan.low_x()) / 2;
  if (const auto& wave = reflector.flaws.waviness) {
    if (wave->period < size / 30)
      problems.push_back({key + ".waviness", fmt::format("waves {} long are shorter than can be resolved", in_both(wave->period)),
                          fmt::format("a mirror of this size is followed down to {}", in_both(size / 30)),
                          "make the period longer, or stand for short waves with slope_error"});
    if (wave->amplitude > wave->period / 8)
      problems.push_back({key + ".waviness", "the waves are steeper than a skin can be",
                          "the amplitude is more than 1/8 of the period", "make the amplitude smaller or the period longer"});
  }
  for (const Dent& dent : reflector.flaws.dents) check_dent(key + ".dents", dent, plan, problems);
  if (reflector.flaws.roughness) check_roughness(key, *reflector.flaws.roughness, size, problems);
  const double half_y = (plan.high_y() - plan.low_y()) / 2;
  for (const auto& [axis, sag, reach] :
       {std::tuple{"_x", reflector.flaws.rim_sag_x, half}, std::tuple{"_y", reflector.flaws.rim_sag_y, half_y}}) {
    if (std::abs(sag) > reach / 2)
      problems.push_back({key + ".rim_sag" + axis,
                          fmt::format("the rim hangs by {}, more than a quarter of the width", in_both(sag)), "no skin does that",
                          "make it smaller"});
  }
  if (reflector.flaws.scallop && reflector.flaws.scallop->depth > half / 2)
    problems.push_back({key + ".scallop", "the skin hangs through by more than a quarter of the width", "no skin does that",
                        "make the depth smaller"});
  const double radius = std::visit(
      [](const auto& s) {
        if constexpr (requires { s.radius; }) return s.radius;
        return 0.0;
      },
      reflector.shape);
  if (radius > 0 && half > 0.95 * radius)
    problems.push_back(
        {key, "the rim stands upright, and flaws are heights",
         fmt::format("the width is {}, flaws need 1.9 x radius = {} at most", in_both(2 * half), in_both(1.9 * radius)),
         "make the width smaller, or leave the flaws out"});
}

/// A mesh that the formula for its leak holds for, at the highest frequency.
void check_wire_mesh(const Scene& scene, const Reflector& reflector, std::vector<SceneProblem>& problems) {
  constexpr double thickest = 1.0 / 6, widest = 1.0 / 3;
  if (!reflector.wire_mesh || !scene.radio || scene.radio->frequencies.empty()) return;
  const WireMesh& mesh = *reflector.wire_mesh;
  const std::string key = "reflector." + reflector.name + ".wire_mesh";
  if (mesh.wire >= thickest * mesh.pitch) {
    problems.push_back(
        {key + ".wire", "the wire is too thick for its pitch",
         fmt::format("what leaks is known for wires below 1/6 of the pitch, here {}", in_both(thickest * mesh.pitch)),
         "for a denser mesh take wire_mesh out and give wave_reflectance"});
  }
  const double shortest = light_speed / *std::max_element(scene.radio->frequencies.begin(), scene.radio->frequencies.end());
  if (mesh.pitch >= widest * shortest) {
    problems.push_back({key + ".pitch", "the mesh is too wide for the wave",
                        fmt::format("what leaks is known below 1/3 of the wavelength, here {}", in_both(widest * shortest)),
                        "make the pitch smaller, or the frequency lower"});
  }
}

/// An equal dish that faces this one, without one standing in the other.
void check_facing(const Scene& scene, std::vector<SceneProblem>& problems) {
  if (!scene.sound || !scene.sound->facing) return;
  if (scene.reflectors.size() != 1) {
    problems.push_back({"sound.facing", fmt::format("it is for one mirror, and the file has {}", scene.reflectors.size()),
                        "the second dish is made like the first", "keep one reflector, or take facing out"});
    return;
  }
  const Reflector& dish = scene.reflectors.front();
  const double nearest = rim_width(dish.shape) + 2 * (scene.targets.front().pose.at - dish.pose.at).norm();
  if (*scene.sound->facing >= nearest) return;
  problems.push_back({"sound.facing", "the two dishes would stand in each other",
                      fmt::format("width and twice the way to the target make {}", in_both(nearest)),
                      "make facing larger than that"});
}

void check_reflector(const Reflector& reflector, std::vector<SceneProblem>& problems) {
  const std::string key = "reflector." + reflector.name;
  const ReflectorShape& shape = reflector.shape;
  std::visit(
      [&](const auto& s) {
        if constexpr (requires { s.problems(key); }) {
          for (const ShapeProblem& one : s.problems(key)) problems.push_back({key + "." + one.key, one.what, one.why, one.fix});
        }
      },
      shape);
  if (hole_width(shape) > 0) check_hole(key, hole_width(shape), rim_width(shape), problems);
}

/// A target that sticks in a mirror. Looked at only where every thing by itself makes sense.
void check_contact(const Scene& scene, std::vector<SceneProblem>& problems) {
  for (const Target& target : scene.targets) {
    if (is_point(target.shape)) continue;
    for (const Reflector& reflector : scene.reflectors) {
      const std::optional<Vector3> place = interference_place(reflector, target);
      if (!place) continue;
      const auto inches = [](double metres) { return format_quantity(metres, Dimension::length, &all_units().front()); };
      problems.push_back({"target." + target.name,
                          fmt::format("target.{} touches reflector.{} or sticks in it", target.name, reflector.name),
                          fmt::format("they meet at x = {}, y = {}, z = {}; a mirror and a target cannot be in one place",
                                      inches(place->x()), inches(place->y()), inches(place->z())),
                          "move the target with at or offset, or make it smaller"});
      break;
    }
  }
}

void check_distance(const std::string& key, const Pose& pose, std::vector<SceneProblem>& problems) {
  const double distance = pose.at.norm();
  if (distance <= farthest * size_rounding) return;
  problems.push_back({key, fmt::format("{} stands {} from the origin", key, in_both(distance)),
                      "everything in a scene lies within 10 km of the frame's origin", "move it closer with at or offset"});
}

void check_count(const std::string& kind, std::size_t count, std::vector<SceneProblem>& problems) {
  if (count == 0) {
    const std::string purpose =
        kind == "reflector" ? "there is no mirror to send the light" : "there is nothing to catch the light";
    const std::string name = kind == "reflector" ? "dish" : "pot";
    problems.push_back({kind, fmt::format("there is no {}", kind), purpose,
                        fmt::format("add a table [{}.{}] with its shape; `dishwright new` writes an example", kind, name)});
  }
  if (count > most_things) {
    problems.push_back({kind, fmt::format("there are {} {}s", count, kind),
                        fmt::format("one scene holds {} {}s at most", most_things, kind), "split the scene into several files"});
  }
}

}  // namespace

std::vector<SceneProblem> validate_scene(const Scene& scene) {
  std::vector<SceneProblem> problems;
  check_count("reflector", scene.reflectors.size(), problems);
  check_count("target", scene.targets.size(), problems);

  std::map<std::string, std::string> taken;  // name → the table that has it
  const auto check_name = [&](const std::string& kind, const std::string& name) {
    const std::string key = kind + "." + name;
    const auto [first, is_new] = taken.emplace(name, key);
    if (is_new) return;
    problems.push_back({key, fmt::format("the name {} is used twice: {} and {}", name, first->second, key),
                        "results are listed by name, so each needs its own",
                        fmt::format("rename one, such as [{}.{}-2]", kind, name)});
  };
  if (scene.lamp) check_distance("lamp", scene.lamp->pose, problems);
  for (const Reflector& reflector : scene.reflectors) {
    check_name("reflector", reflector.name);
    check_reflector(reflector, problems);
    check_wire_mesh(scene, reflector, problems);
    check_distance("reflector." + reflector.name, reflector.pose, problems);
  }
  for (const Reflector& reflector : scene.reflectors) {
    if (reflector.flaws.any()) check_flaws("reflector." + reflector.name, reflector, problems);
  }
  for (const Target& target : scene.targets) {
    check_name("target", target.name);
    check_distance("target." + target.name, target.pose, problems);
  }
  if (problems.empty()) check_facing(scene, problems);
  if (problems.empty()) check_contact(scene, problems);
  if (problems.empty()) check_light(scene, problems);
  if (problems.empty()) problems = wave_problems(scene);
  return problems;
}

}  // namespace dishwright
