// SPDX-License-Identifier: MIT
#include "scene/check.h"

#include <fmt/format.h>

#include <map>

#include "base/quantity.h"

namespace dishwright {

namespace {

constexpr std::size_t most_things = 64;  // reflectors, and targets, of one scene
constexpr double farthest = 10e3;        // from the frame's origin [m]
constexpr double rounding = 1 + 1e-9;    // a hemisphere of 24 in radius and 48 in width is whole

std::string in_both(double metres) {
  static const std::vector<Unit>& units = all_units();
  return fmt::format("{} ({})", format_quantity(metres, Dimension::length, &units.front()),
                     format_quantity(metres, Dimension::length, nullptr));
}

void check_hole(const std::string& key, double hole, double width, std::vector<SenseProblem>& problems) {
  if (hole < width) return;
  problems.push_back({key + ".hole_width", "the hole is as wide as the dish or wider",
                      fmt::format("the hole is {}, the dish {}: no mirror is left", in_both(hole), in_both(width)),
                      "make hole_width smaller than width, or take it out"});
}

void check_bowl(const std::string& key, double radius, double width, std::vector<SenseProblem>& problems) {
  if (width <= 2 * radius * rounding) return;
  problems.push_back({key + ".width", "the bowl is wider than the circle it is cut from",
                      fmt::format("the width is {}, the circle only 2 x radius = {}", in_both(width), in_both(2 * radius)),
                      fmt::format("make width {} at most, or make radius larger", in_both(2 * radius))});
}

void check_reflector(const Reflector& reflector, std::vector<SenseProblem>& problems) {
  const std::string key = "reflector." + reflector.name;
  if (const auto* dish = std::get_if<Paraboloid>(&reflector.shape)) check_hole(key, dish->hole_width, dish->width, problems);
  if (const auto* bowl = std::get_if<SphereBowl>(&reflector.shape)) {
    check_bowl(key, bowl->radius, bowl->width, problems);
    check_hole(key, bowl->hole_width, bowl->width, problems);
  }
  if (const auto* arc = std::get_if<ArcTrough>(&reflector.shape)) check_bowl(key, arc->radius, arc->width, problems);
}

void check_distance(const std::string& key, const Pose& pose, std::vector<SenseProblem>& problems) {
  const double distance = pose.at.norm();
  if (distance <= farthest * rounding) return;
  problems.push_back({key, fmt::format("{} stands {} from the origin", key, in_both(distance)),
                      "everything in a scene lies within 10 km of the frame's origin", "move it closer with at or offset"});
}

void check_count(const std::string& kind, std::size_t count, std::vector<SenseProblem>& problems) {
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

std::vector<SenseProblem> check_sense(const Scene& scene) {
  std::vector<SenseProblem> problems;
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
    check_distance("reflector." + reflector.name, reflector.pose, problems);
  }
  for (const Target& target : scene.targets) {
    check_name("target", target.name);
    check_distance("target." + target.name, target.pose, problems);
  }
  return problems;
}

}  // namespace dishwright
