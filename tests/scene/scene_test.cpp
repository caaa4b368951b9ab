// SPDX-License-Identifier: MIT
#include "scene/scene.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace dishwright;

namespace {

constexpr double pi = std::numbers::pi;

void check_near(const Vector3& got, const Vector3& expected) {
  CAPTURE(got.transpose());
  CHECK((got - expected).norm() < 1e-14);
}

}  // namespace

TEST_CASE("the sun leans to the side that aim_direction names") {
  Sun sun;
  check_near(sun.direction(), {0, 0, 1});
  sun.aim_error = pi / 6;
  check_near(sun.direction(), {0.5, 0, std::sqrt(3.0) / 2});
  sun.aim_direction = pi / 2;
  check_near(sun.direction(), {0, 0.5, std::sqrt(3.0) / 2});
}

TEST_CASE("rotation is about the fixed x, then y, then z axes") {
  check_near(rotation(pi / 2, 0, 0) * Vector3(0, 1, 0), {0, 0, 1});
  check_near(rotation(0, pi / 2, 0) * Vector3(0, 0, 1), {1, 0, 0});
  check_near(rotation(0, 0, pi / 2) * Vector3(1, 0, 0), {0, 1, 0});
  // y → z by the turn about x, then z → x by the turn about y, then x → y by the turn about z.
  check_near(rotation(pi / 2, pi / 2, pi / 2) * Vector3(0, 1, 0), {0, 1, 0});
  check_near(rotation(pi / 2, pi / 2, 0) * Vector3(0, 1, 0), {1, 0, 0});
}

TEST_CASE("paraxial focus of each shape") {
  check_near(*own_focus(Paraboloid{0.6, 1.2, 0}), {0, 0, 0.6});
  check_near(*own_focus(SphereBowl{1.2, 1.2, 0}), {0, 0, 0.6});
  check_near(*own_focus(Trough{0.3, 0.9, 1.5}), {0, 0, 0.3});
  check_near(*own_focus(ArcTrough{0.6, 0.9, 1.5}), {0, 0, 0.3});
  CHECK_FALSE(own_focus(Flat{1, 1}).has_value());
}

TEST_CASE("counted areas, by elementary geometry") {
  CHECK(counted_area(DiskTarget{2}) == doctest::Approx(pi));
  CHECK(counted_area(RectangleTarget{2, 3}) == doctest::Approx(6));
  CHECK(counted_area(TubeTarget{2, 3}) == doctest::Approx(6 * pi));
  CHECK(counted_area(BallTarget{2}) == doctest::Approx(4 * pi));
  CHECK(counted_area(PotTarget{2, 3}) == doctest::Approx(pi + 6 * pi));
}

TEST_CASE("words for shapes") {
  CHECK(shape_word(ReflectorShape(ArcTrough{})) == "arc trough");
  CHECK(shape_word(ReflectorShape(SphereBowl{})) == "sphere");
  CHECK(shape_word(TargetShape(PotTarget{})) == "pot");
}
