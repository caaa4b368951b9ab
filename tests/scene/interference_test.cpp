// SPDX-License-Identifier: MIT
// Targets that stick in mirrors, by geometry that can be worked out by hand.
#include "scene/interference.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace dishwright;

namespace {

Reflector mirror(ReflectorShape shape, const Vector3& at = Vector3::Zero(), const Matrix3& turn = Matrix3::Identity()) {
  Reflector reflector;
  reflector.shape = std::move(shape);
  reflector.pose = {at, turn};
  return reflector;
}

Target target(TargetShape shape, const Vector3& at, const Matrix3& turn = Matrix3::Identity()) {
  Target t;
  t.shape = shape;
  t.pose = {at, turn};
  return t;
}

bool meet(const Reflector& reflector, const Target& t) { return interference_place(reflector, t).has_value(); }

const ReflectorShape dish = Paraboloid{0.6, 1.2, 0};  // 0.15 deep

std::shared_ptr<const TriangleMesh> square_mesh() {
  auto mesh = std::make_shared<TriangleMesh>();
  mesh->vertices = {{-1, -1, 0}, {1, -1, 0}, {1, 1, 0}, {-1, 1, 0}};
  mesh->triangles = {{0, 1, 2}, {0, 2, 3}};
  return mesh;
}

}  // namespace

TEST_CASE("a ball meets the paraboloid when it is nearer than its radius") {
  // On the axis below z = 2 f the nearest point is the vertex.
  for (const double radius : {0.001, 0.02, 0.3}) {
    CHECK(meet(mirror(dish), target(BallTarget{2 * radius}, {0, 0, radius * 0.999})));
    CHECK_FALSE(meet(mirror(dish), target(BallTarget{2 * radius}, {0, 0, radius * 1.001})));
    CHECK_FALSE(meet(mirror(dish), target(BallTarget{2 * radius}, {0, 0, -radius * 1.02})));
  }
  CHECK(meet(mirror(dish), target(BallTarget{0.1}, {0.62, 0, 0.15})));        // over the rim
  CHECK_FALSE(meet(mirror(dish), target(BallTarget{0.1}, {0.66, 0, 0.15})));  // beyond it
}

TEST_CASE("a pot on the bottom of a bowl sticks in it, above its own width it does not") {
  // A pot 0.2 wide stands free above z = 0.1²/(4·0.6) = 0.0041667.
  CHECK(meet(mirror(dish), target(PotTarget{0.2, 0.1}, {0, 0, 0})));
  CHECK(meet(mirror(dish), target(PotTarget{0.2, 0.1}, {0, 0, 0.0041})));
  CHECK_FALSE(meet(mirror(dish), target(PotTarget{0.2, 0.1}, {0, 0, 0.0042})));
  const ReflectorShape holed = Paraboloid{0.6, 1.2, 0.21};
  CHECK_FALSE(meet(mirror(holed), target(PotTarget{0.2, 0.1}, {0, 0, -0.05})));  // through the hole
}

TEST_CASE("plates near the vertex are sound unless the mirror cuts them") {
  CHECK_FALSE(meet(mirror(dish), target(DiskTarget{0.2}, {0, 0, 0.0042})));
  CHECK(meet(mirror(dish), target(DiskTarget{0.2}, {0, 0, 0.0041})));
  CHECK(meet(mirror(dish), target(RectangleTarget{0.02, 1}, {0, 0, 0.05})));          // long side: 0.5²/2.4 = 0.104
  CHECK_FALSE(meet(mirror(dish), target(RectangleTarget{0.02, 0.6}, {0, 0, 0.05})));  // 0.3²/2.4 = 0.0375
  CHECK(meet(mirror(dish), target(DiskTarget{0.2}, {0, 0, 0.05}, rotation(0, std::acos(0.0), 0))));  // on edge, reaches down
  CHECK(meet(mirror(Flat{1, 1}), target(DiskTarget{0.2}, {0, 0, 0})));
  CHECK_FALSE(meet(mirror(Flat{1, 1}), target(DiskTarget{0.2}, {0, 0, 1e-6})));
}

TEST_CASE("tubes, turned and moved mirrors") {
  const ReflectorShape trough = Trough{0.3, 0.9, 1.5};
  CHECK_FALSE(meet(mirror(trough), target(TubeTarget{0.05, 1.5}, {0, 0, 0.3})));
  CHECK(meet(mirror(trough), target(TubeTarget{0.05, 1.5}, {0.3, 0, 0.08})));  // 0.3²/1.2 = 0.075
  const Matrix3 over = rotation(std::acos(-1.0), 0, 0);
  CHECK(meet(mirror(dish, {0, 0, 2}, over), target(BallTarget{0.02}, {0, 0, 1.995})));
  CHECK_FALSE(meet(mirror(dish, {0, 0, 2}, over), target(BallTarget{0.02}, {0, 0, 1.98})));
}

TEST_CASE("every shape is met where its surface is, and left alone at its focus") {
  Facets facets;
  facets.focal_length = 0.45;
  facets.width = 0.9;
  facets.tile = 0.05;
  const std::vector<double> x = {0, 0.2, 0.5}, y = {0, 0.02, 0.125};
  const std::pair<ReflectorShape, Vector3> on_surface[] = {
      {SphereBowl{0.9, 0.9, 0}, {0.3, 0, 0.9 - std::sqrt(0.81 - 0.09)}},
      {ArcTrough{0.9, 0.9, 1}, {0.3, 0.2, 0.9 - std::sqrt(0.81 - 0.09)}},
      {Cone{0.2, 0.8, 0}, {0, 0.2, 0.1}},
      {OffsetParaboloid{0.5, 0.1, 0.6, 0}, {0.05, 0.4, (0.0025 + 0.16) / 2}},
      {facets, {0.2, 0.1, 0.05 / 1.8}},
      {Petals{0.45, 0.9, 8, false, 0}, {0.3, 0, 0.05}},
      {Profile{std::make_shared<ProfileCurve>(x, y, CurveKind::fair, true), false, 0, 1, 0}, {0, 0.3, 0.045}},
      {Profile{std::make_shared<ProfileCurve>(ProfileCurve::mirrored(x, y, CurveKind::fair)), true, 1, 1, 0}, {-0.3, 0.4, 0.045}},
      {Catenary{1.2, 0.15, 0}, {0, 0.6, 0.15}},
      {Pressed{1.2, 0.12, 0}, {0, 0.3, 0.12 * (1 - 0.75 * 0.75)}},
      {Ellipsoid{0.2, 0.8, 0.4, 0}, {0, 0, 0}},
      {Hyperboloid{0.2, 0.8, 0.4, 0}, {0, 0, 0}},
      {Mesh{square_mesh(), true}, {0.3, -0.4, 0}},
  };
  for (const auto& entry : on_surface) {
    const ReflectorShape& shape = entry.first;
    const Vector3& place = entry.second;
    CAPTURE(shape_word(shape));
    CHECK(meet(mirror(shape), target(BallTarget{0.02}, place)));
    CHECK_FALSE(meet(mirror(shape), target(BallTarget{0.02}, place + Vector3(0, 0, 0.05))));
    CHECK_FALSE(meet(mirror(shape), target(DiskTarget{0.02}, place + Vector3(0, 0, 0.05))));
    const std::optional<Vector3> where =
        interference_place(mirror(shape, {1, 2, 3}), target(BallTarget{0.02}, place + Vector3(1, 2, 3)));
    REQUIRE(where);
    CHECK((*where - place - Vector3(1, 2, 3)).norm() <= 0.0101);
  }
}

TEST_CASE("a mirror is where it was built: a bump reaches the target, and where a dent takes the sheet away there is room") {
  Reflector flat = mirror(Flat{1, 1});
  const Target above = target(DiskTarget{0.1}, {0.2, 0, 0.0085}), below = target(DiskTarget{0.1}, {0.2, 0, -0.0085});
  CHECK_FALSE(meet(flat, above));
  CHECK_FALSE(meet(flat, below));
  // 10 mm high in its middle, 7.5 mm at the edge of the disk.
  flat.flaws.dents = {{0.2, 0, 0.3, -0.01}};
  CHECK(meet(flat, above));
  flat.flaws.dents = {{0.2, 0, 0.3, 0.01}};
  CHECK_FALSE(meet(flat, above));
  CHECK(meet(flat, below));
}
