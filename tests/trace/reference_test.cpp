// SPDX-License-Identifier: MIT
// The production tracer ray by ray against the reference tracer: same surface, same place to 1 µm, same direction.
#include "reference_tracer.h"

#include <doctest/doctest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <string>
#include <vector>

#include "trace/story.h"

using namespace dishwright;

namespace {

Target target(const std::string& name, TargetShape shape, const Vector3& at, bool shades = true) {
  Target made;
  made.name = name;
  made.shape = shape;
  made.pose.at = at;
  made.shades = shades;
  return made;
}

Reflector mirror(const std::string& name, ReflectorShape shape, double slope_error = 0, double specular_spread = 0) {
  Reflector made;
  made.name = name;
  made.shape = shape;
  made.slope_error = slope_error;
  made.specular_spread = specular_spread;
  return made;
}

Scene scene(std::vector<Reflector> mirrors, std::vector<Target> targets, double aim_error = 0, double aim_direction = 0) {
  Scene made;
  made.reflectors = std::move(mirrors);
  made.targets = std::move(targets);
  made.sun.aim_error = aim_error;
  made.sun.aim_direction = aim_direction;
  made.trace.paths = 8192;
  made.trace.seed = 12;
  return made;
}

Matrix3 about(const Vector3& axis, double angle) { return Eigen::AngleAxisd(angle, axis).toRotationMatrix(); }

struct Count {
  int paths = 0, reflections = 0, landings = 0, shaded = 0, backs = 0, straight = 0;
};

// Within a micrometre of an edge the two may decide differently; no such path is expected among the few hundred of a test.
void compare_step(const Step& made, const reference::Followed& own, bool spreads) {
  REQUIRE(made.kind == own.kind);
  CHECK(made.surface == own.surface);
  if (made.kind == StepKind::missed) return;
  CHECK((made.point - own.point).norm() < 1e-6);
  CHECK((made.own_point - own.own_point).norm() < 1e-6);
  CHECK((made.normal - own.normal).norm() < 1e-6);
  if (made.kind == StepKind::target) CHECK(made.face == own.face);
  if (made.kind == StepKind::reflected && !spreads) CHECK((made.direction - own.direction).norm() < 1e-6);
}

Count compare_paths(const Scene& made, std::uint64_t paths) {
  Count count;
  for (std::uint64_t n = 0; n < paths; ++n) {
    const PathStory story = replay_path(made, n);
    const StepKind first = made.lamp ? StepKind::from_lamp : StepKind::from_sun;
    if (story.steps.empty() || story.steps.front().kind != first) continue;
    if (story.steps.size() > 1 && story.steps[1].kind == StepKind::not_counted) continue;
    ++count.paths;
    CAPTURE(n);
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
        share *= one.reflectance;
        CHECK(step.power_share == doctest::Approx(share).epsilon(1e-6));
        // The tilted normal is a few slope errors from the true one; exact where there is none.
        CHECK((step.tilted_normal - step.normal).norm() <= 6 * one.slope_error + 1e-6);
      }
      compare_step(step, walked[i], spreads);
      count.reflections += step.kind == StepKind::reflected;
      count.landings += step.kind == StepKind::target;
      count.straight += step.kind == StepKind::target && i == 0;
      count.shaded += step.kind == StepKind::shaded;
      count.backs += step.kind == StepKind::back;
    }
  }
  return count;
}

}  // namespace

TEST_CASE("one mirror of every shape, every target shape") {
  const std::vector<ReflectorShape> mirrors = {Paraboloid{0.6, 1.2, 0.1}, SphereBowl{1.3, 1.2, 0.1}, Trough{0.6, 1.2, 1},
                                               ArcTrough{1.3, 1.2, 1}, Flat{1, 0.8}};
  const std::vector<TargetShape> targets = {DiskTarget{0.2}, RectangleTarget{0.2, 0.3}, TubeTarget{0.1, 0.6}, BallTarget{0.15},
                                            PotTarget{0.18, 0.12}};
  for (std::size_t m = 0; m < mirrors.size(); ++m) {
    CAPTURE(m);
    int landings = 0, shaded = 0;
    for (const TargetShape& shape : targets) {
      const Count count =
          compare_paths(scene({mirror("dish", mirrors[m])}, {target("spot", shape, {0.01, -0.02, 0.58})}, 0.03, 1), 80);
      CHECK(count.paths > 40);
      landings += count.landings;
      shaded += count.shaded;
    }
    CHECK(shaded > 3);
    if (m < 4) CHECK(landings > 60);
  }
}

TEST_CASE("slope error and specular spread") {
  const Scene rough =
      scene({mirror("dish", Paraboloid{0.6, 1.2, 0}, 5e-3)}, {target("spot", BallTarget{0.1}, {0, 0, 0.6}, false)});
  CHECK(compare_paths(rough, 200).landings > 100);
  Scene both =
      scene({mirror("dish", Paraboloid{0.6, 1.2, 0}, 5e-3, 3e-3)}, {target("spot", DiskTarget{0.1}, {0, 0, 0.6}, false)});
  both.reflectors[0].reflectance = 0.83;
  CHECK(compare_paths(both, 200).landings > 100);
}

TEST_CASE("turned and shifted, several mirrors, several bounces") {
  Reflector bowl = mirror("bowl", SphereBowl{0.7, 1.3, 0});
  bowl.pose = {Vector3(3, -1, 2), about(Vector3(1, 2, 0.5).normalized(), 0.35)};
  Reflector plate = mirror("plate", Flat{0.5, 0.5});
  plate.pose = {Vector3(3.1, -1, 2.5), about(Vector3::UnitX(), 2.8)};
  Target pot = target("pot", PotTarget{0.2, 0.15}, {3, -1.1, 2.2});
  pot.pose.turn = about(Vector3::UnitY(), 0.6);
  const Count count = compare_paths(scene({bowl, plate}, {pot}, 0.3, -2), 300);
  CHECK(count.paths > 100);
  CHECK(count.reflections > count.paths);
  CHECK(count.landings > 10);
}

TEST_CASE("backs: a deep dish under a low sun, a disk lit from behind, a tube from its end") {
  const Count dish = compare_paths(
      scene({mirror("dish", Paraboloid{0.25, 1, 0})}, {target("spot", BallTarget{0.05}, {0, 0, 2})}, 1.0, 0.5), 200);
  CHECK(dish.backs > 3);
  Target disk = target("disk", DiskTarget{0.3}, {0, 0, 0.6}, false);
  disk.pose.turn = about(Vector3::UnitX(), std::acos(-1.0));
  const Count turned = compare_paths(scene({mirror("dish", Paraboloid{0.6, 1.2, 0})}, {disk}), 100);
  CHECK(turned.backs > 50);
  Target tube = target("tube", TubeTarget{0.3, 0.2}, {0, 0, 0.75}, false);
  tube.pose.turn = about(Vector3::UnitX(), std::acos(0.0));
  const Count ended = compare_paths(scene({mirror("dish", Paraboloid{0.6, 1.2, 0})}, {tube}), 200);
  CHECK(ended.backs > 3);
}

TEST_CASE("a lamp of every shape: mirrors, straight light, backs, targets that let light through") {
  const auto lit = [](LampShape shape, const Vector3& at, const Matrix3& turn) {
    Reflector bowl = mirror("bowl", SphereBowl{1.3, 1.2, 0.1}, 4e-3);
    bowl.pose = {Vector3(0.1, 0, -0.2), about(Vector3::UnitX(), 0.2)};
    Reflector plate = mirror("plate", Flat{0.6, 0.6});
    plate.pose = {Vector3(0.7, 0, 0.9), about(Vector3::UnitY(), -1.9)};
    Target glass = target("glass", RectangleTarget{0.5, 0.4}, {0, 0.1, 0.3}, false);
    Target pot = target("pot", PotTarget{0.25, 0.2}, {-0.35, 0.1, 0.5});
    Target screen = target("screen", DiskTarget{2}, {0, 0, 2});
    Scene made = scene({bowl, plate}, {screen, glass, pot});
    made.lamp = Lamp{shape, {at, turn}, 60, false};
    return compare_paths(made, 400);
  };
  int straight = 0, reflections = 0;
  for (const LampShape& shape : {LampShape(BallLamp{0.1}), LampShape(DiskLamp{0.2}), LampShape(LineLamp{0.3})}) {
    for (const Matrix3& turn : {Matrix3(Matrix3::Identity()), about(Vector3(1, 2, 0.5).normalized(), 2.2)}) {
      const Count count = lit(shape, {0.02, -0.03, 0.6}, turn);
      CHECK(count.paths == 400);
      CHECK(count.landings > 40);
      CHECK(count.backs > 0);
      CHECK(count.shaded == 0);
      straight += count.straight;
      reflections += count.reflections;
    }
  }
  CHECK(straight > 100);
  CHECK(reflections > 300);
}
