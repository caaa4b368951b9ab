// SPDX-License-Identifier: MIT
#include "scene/scene.h"
#include "approx.h"
#include "scene/shape_words.h"

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
  check_near(*own_focus(OffsetParaboloid{0.6, 0.1, 1, 0}), {0, 0, 0.6});
  check_near(*own_focus(Petals{0.45, 0.9, 12, true, 0}), {0, 0, 0.45});
  // Half the radius of curvature at the vertex; a of this catenary from 45-digit bisection (Python's decimal module).
  CHECK(own_focus(Catenary{1.2, 0.15, 0})->z() == testing::approx(1.22421398059424337 / 2).epsilon(1e-14));
  Facets facets;
  facets.focal_length = 0.45;
  for (const FacetFrame frame : {FacetFrame::paraboloid, FacetFrame::sphere}) {
    facets.frame = frame;
    check_near(*own_focus(facets), {0, 0, 0.45});
  }
  facets.frame = FacetFrame::flat;
  CHECK_FALSE(own_focus(facets).has_value());
  for (const ReflectorShape& shape : {ReflectorShape(Cone{0.2, 1, 0}), ReflectorShape(Ellipsoid{1, 2, 1, 0}),
                                      ReflectorShape(Hyperboloid{1, 2, 1, 0}), ReflectorShape(Profile{}), ReflectorShape(Mesh{})})
    CHECK_FALSE(own_focus(shape).has_value());
}

TEST_CASE("the two foci of ellipsoid and hyperboloid") {
  check_near(own_two_foci(Ellipsoid{1, 2, 1, 0})->first, {0, 0, 1});
  check_near(own_two_foci(Ellipsoid{1, 2, 1, 0})->second, {0, 0, 2});
  check_near(own_two_foci(Hyperboloid{1, 2, 1, 0})->first, {0, 0, 1});
  check_near(own_two_foci(Hyperboloid{1, 2, 1, 0})->second, {0, 0, -2});
  CHECK_FALSE(own_two_foci(Paraboloid{1, 1, 0}).has_value());
}

TEST_CASE("widths of shapes and holes") {
  auto mesh = std::make_shared<TriangleMesh>();
  mesh->low = Vector3(-1, -3, 0);
  mesh->high = Vector3(1, 2, 9);
  CHECK(rim_width(Mesh{mesh, true}) == 5);
  CHECK(rim_width(Trough{0.3, 0.9, 1.5}) == 0.9);
  CHECK(rim_width(OffsetParaboloid{0.6, 0.1, 1.1, 0}) == 1.1);
  CHECK(hole_width(Cone{0.2, 1, 0.3}) == 0.3);
  CHECK(hole_width(Flat{1, 1}) == 0);
}

TEST_CASE("counted areas, by elementary geometry") {
  CHECK(counted_area(DiskTarget{2}) == testing::approx(pi));
  CHECK(counted_area(RectangleTarget{2, 3}) == testing::approx(6));
  CHECK(counted_area(TubeTarget{2, 3}) == testing::approx(6 * pi));
  CHECK(counted_area(BallTarget{2}) == testing::approx(4 * pi));
  CHECK(counted_area(PotTarget{2, 3}) == testing::approx(pi + 6 * pi));
}

TEST_CASE("words for shapes") {
  CHECK(shape_word(ReflectorShape(ArcTrough{})) == "arc trough");
  CHECK(shape_word(ReflectorShape(SphereBowl{})) == "sphere");
  CHECK(shape_word(TargetShape(PotTarget{})) == "pot");
}

TEST_CASE("shapes as a sentence calls them") {
  CHECK(the_shape("paraboloid") == "the paraboloid");
  CHECK(the_shape("arc trough") == "the arc trough");
  CHECK(the_shape("flat") == "the flat mirror");
  CHECK(the_shape("petals") == "the dish of petals");
  CHECK(the_shape("pressed") == "the pressed sheet");
  CHECK(the_shape("kettle") == "the kettle");
}
