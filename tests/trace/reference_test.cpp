// SPDX-License-Identifier: MIT
// The production tracer ray by ray against the reference tracer: same surface, same place to 1 µm, same direction.
#include "compare_paths.h"

using namespace dishwright;
using namespace dishwright::test;

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
