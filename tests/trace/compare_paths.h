// SPDX-License-Identifier: MIT
// Scenes in one line, and the production tracer's paths walked again by the reference tracer.
#pragma once

#include <doctest/doctest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "approx.h"
#include "reference_tracer.h"
#include "trace/path_history.h"

namespace dishwright::test {

inline Target target(const std::string& name, TargetShape shape, const Vector3& at, bool shades = true) {
  Target made;
  made.name = name;
  made.shape = shape;
  made.pose.at = at;
  made.shades = shades;
  return made;
}

inline Reflector mirror(const std::string& name, ReflectorShape shape, double slope_error = 0, double specular_spread = 0) {
  Reflector made;
  made.name = name;
  made.shape = shape;
  made.slope_error = slope_error;
  made.specular_spread = specular_spread;
  return made;
}

inline Scene scene(std::vector<Reflector> mirrors, std::vector<Target> targets, double aim_error = 0, double aim_direction = 0) {
  Scene made;
  made.reflectors = std::move(mirrors);
  made.targets = std::move(targets);
  made.sun.aim_error = aim_error;
  made.sun.aim_direction = aim_direction;
  made.trace.paths = 8192;
  made.trace.seed = 12;
  return made;
}

inline Matrix3 about(const Vector3& axis, double angle) { return Eigen::AngleAxisd(angle, axis).toRotationMatrix(); }

struct Count {
  int paths = 0, reflections = 0, landings = 0, shaded = 0, backs = 0, straight = 0;
};

// Within a micrometre of an edge the two may decide differently; no such path is expected among the few hundred of a test.
inline void compare_step(const Step& made, const reference::Followed& own, bool spreads) {
  REQUIRE(made.kind == own.kind);
  CHECK(made.surface == own.surface);
  if (made.kind == StepKind::missed) return;
  CHECK((made.point - own.point).norm() < 1e-6);
  CHECK((made.own_point - own.own_point).norm() < 1e-6);
  CHECK((made.normal - own.normal).norm() < 1e-6);
  if (made.kind == StepKind::target) CHECK(made.face == own.face);
  if (made.kind == StepKind::reflected && !spreads) CHECK((made.direction - own.direction).norm() < 1e-6);
}

/// Where both searches can look, both bring every path to the same places: to the last digit, but for petals and heights.
inline void compare_searches(const Scene& made, const std::vector<PathHistory>& by_tree) {
  const SurfaceList list = make_surfaces(made);
  if (!direct_can(list)) return;
  double most = 0;
  for (const Surface& surface : list.surfaces) most = surface.kind == SurfaceKind::quadric ? most : 1e-9;
  const std::vector<PathHistory> direct = replay_paths(made, by_tree.size(), SearchBy::direct);
  for (std::size_t k = 0; k < direct.size(); ++k) {
    CAPTURE(k);
    const std::vector<Step>&one = direct[k].steps, &other = by_tree[k].steps;
    REQUIRE(one.size() == other.size());
    for (std::size_t i = 0; i < one.size(); ++i) {
      CHECK(one[i].kind == other[i].kind);
      CHECK(one[i].surface == other[i].surface);
      CHECK((one[i].point - other[i].point).norm() <= most);
      CHECK((one[i].direction - other[i].direction).norm() <= most);
    }
  }
}

inline Count compare_paths(const Scene& made, std::uint64_t paths) {
  Count count;
  const std::vector<PathHistory> stories = replay_paths(made, paths, SearchBy::tree);
  compare_searches(made, stories);
  for (const PathHistory& story : stories) {
    const StepKind first = made.lamp ? StepKind::from_lamp : StepKind::from_sun;
    if (story.steps.empty() || story.steps.front().kind != first) continue;
    if (story.steps.size() > 1 && story.steps[1].kind == StepKind::not_counted) continue;
    ++count.paths;
    CAPTURE(story.path);
    // The start lies within the sun's disc about the sun's centre.
    const double off = std::acos(std::min(1.0, -story.steps.front().direction.dot(made.sun.direction())));
    CHECK((made.lamp || off <= made.sun.half_angle * 1.001 + 1e-7));
    const std::vector<reference::Followed> walked = reference::walk_given_start(made, story);
    REQUIRE(walked.size() + 1 == story.steps.size());
    double share = 1;
    for (std::size_t i = 0; i < walked.size(); ++i) {
      const Step& step = story.steps[i + 1];
      bool spreads = false;
      for (const Reflector& one : made.reflectors) {
        if (one.name != step.surface || step.kind != StepKind::reflected) continue;
        spreads = one.specular_spread > 0;
        // Light that a slope would turn into the mirror ends there.
        if (step.power_share == 0) {
          CHECK(step.direction.dot(step.normal) <= 1e-9);
          share = 0;
        }
        share *= one.reflectance;
        CHECK(step.power_share == testing::approx(share).epsilon(1e-6));
        // The tilted normal is a few slope errors from the true one; exact where there is none.
        CHECK((step.tilted_normal - step.normal).norm() <= 6 * one.slope_error + 1e-6);
      }
      compare_step(step, walked[i], spreads);
      count.reflections += step.kind == StepKind::reflected;
      count.landings += step.kind == StepKind::target;
      count.straight += step.kind == StepKind::target && i == 0;
      count.shaded += step.kind == StepKind::shaded;
      count.backs += step.kind == StepKind::back;
      if (share == 0) break;
    }
  }
  return count;
}

}  // namespace dishwright::test
