// SPDX-License-Identifier: MIT
// Scenes of light that cannot be, and scenes that can but are surely not meant.
#include "scene/check_light.h"

#include <doctest/doctest.h>

#include <Eigen/Geometry>
#include <cmath>

using namespace dishwright;

namespace {

const double pi = std::acos(-1.0);
Matrix3 about_x(double angle) { return Eigen::AngleAxisd(angle, Vector3::UnitX()).toRotationMatrix(); }

Reflector mirror(const std::string& name, ReflectorShape shape, const Vector3& at = Vector3::Zero(),
                 const Matrix3& turn = Matrix3::Identity()) {
  Reflector made;
  made.name = name;
  made.shape = std::move(shape);
  made.pose = {at, turn};
  return made;
}

Target target(TargetShape shape, const Vector3& at, const Matrix3& turn = Matrix3::Identity()) {
  Target made;
  made.name = "spot";
  made.shape = shape;
  made.pose = {at, turn};
  return made;
}

Scene scene(std::vector<Reflector> mirrors, const Target& spot) {
  Scene made;
  made.reflectors = std::move(mirrors);
  made.targets = {spot};
  return made;
}

Scene lit(LampShape lamp, const Vector3& at, const Matrix3& turn = Matrix3::Identity()) {
  Scene made = scene({mirror("dish", Paraboloid{0.6, 1.2, 0})}, target(RectangleTarget{3, 3}, {0, 0, 7}));
  made.lamp = Lamp{lamp, {at, turn}, 60, false};
  return made;
}

/// Keys of what is refused.
std::vector<std::string> refused(const Scene& made) {
  std::vector<std::string> keys;
  for (const SceneProblem& problem : validate_scene(made)) {
    CHECK_FALSE(problem.why.empty());
    CHECK_FALSE(problem.fix.empty());
    keys.push_back(problem.key);
  }
  return keys;
}
using Keys = std::vector<std::string>;

bool odd(const Scene& made, const std::string& part) {
  for (const std::string& one : light_oddities(made)) {
    if (one.find(part) != std::string::npos) return true;
  }
  return false;
}

std::shared_ptr<const TriangleMesh> square_mesh(double half) {
  auto mesh = std::make_shared<TriangleMesh>();
  mesh->vertices = {{-half, -half, 0}, {half, -half, 0}, {half, half, 0}, {-half, half, 0}};
  mesh->triangles = {{0, 1, 2}, {0, 2, 3}};
  mesh->normals.assign(4, Vector3::UnitZ());
  return mesh;
}

}  // namespace

TEST_CASE("lamps and mirrors: round it, in it, cut by it, on it, and well clear of it") {
  CHECK(refused(lit(BallLamp{10}, {0, 0, 0})) == Keys{"lamp"});          // the mirror stands inside
  CHECK(refused(lit(BallLamp{0.1}, {0.3, 0, 0.0375})) == Keys{"lamp"});  // z = r²/(4 f) there: half of it behind the mirror
  CHECK(refused(lit(BallLamp{0.1}, {0, 0, 0.049})) == Keys{"lamp"});
  CHECK(refused(lit(BallLamp{0.1}, {0, 0, 0.051})).empty());
  CHECK(refused(lit(DiskLamp{0.4}, {0, 0, 0.01})) == Keys{"lamp"});  // the bowl rises to 0.0167 at its edge
  CHECK(refused(lit(DiskLamp{0.4}, {0, 0, 0.02})).empty());
  CHECK(refused(lit(LineLamp{0.4}, {0, 0, 0.01})) == Keys{"lamp"});
  CHECK(refused(lit(LineLamp{0.4}, {0, 0, 0.02})).empty());
  CHECK(refused(lit(LineLamp{0.4}, {0, 0, 0.1}, about_x(pi / 2))) == Keys{"lamp"});  // upright, its lower end below the vertex
  CHECK(refused(lit(LineLamp{0.4}, {0, 0, 0.21}, about_x(pi / 2))).empty());
}

TEST_CASE("line lamps through tiles and triangles") {
  for (const double z : {0.0, 0.35}) {
    Scene made = lit(LineLamp{0.4}, {0.02, 0.03, z}, about_x(pi / 2));
    Facets facets;
    facets.frame = FacetFrame::flat;
    facets.focal_length = 0.6, facets.width = 1, facets.tile = 0.2, facets.gap = 0.01;
    made.reflectors[0].shape = facets;
    CHECK(refused(made).empty() == (z > 0.2));
    made.reflectors[0].shape = Mesh{square_mesh(0.5), true};
    CHECK(refused(made).empty() == (z > 0.2));
  }
}

TEST_CASE("lamps and targets") {
  const auto with = [](LampShape lamp, const Vector3& at, TargetShape shape, const Matrix3& turn = Matrix3::Identity()) {
    Scene made = lit(lamp, at);
    made.targets = {target(shape, {0, 0, 2}, turn)};
    return refused(made);
  };
  CHECK(with(BallLamp{0.1}, {0, 0, 2}, BallTarget{1}) == Keys{"lamp"});  // inside
  CHECK(with(BallLamp{1}, {0, 0, 2}, BallTarget{0.1}) == Keys{"lamp"});  // the other way round
  CHECK(with(BallLamp{1}, {0.2, 0, 2.1}, DiskTarget{0.1}) == Keys{"lamp"});
  CHECK(with(BallLamp{0.1}, {0, 0, 2.049}, RectangleTarget{1, 1}) == Keys{"lamp"});
  CHECK(with(BallLamp{0.1}, {0, 0, 2.05}, RectangleTarget{1, 1}).empty());  // lies on it
  CHECK(with(BallLamp{0.1}, {0, 0.54, 2}, RectangleTarget{1, 1}) == Keys{"lamp"});
  CHECK(with(BallLamp{0.1}, {0, 0.56, 2}, RectangleTarget{1, 1}).empty());
  CHECK(with(BallLamp{0.1}, {0, 0, 2.1}, PotTarget{0.3, 0.2}) == Keys{"lamp"});
  CHECK(with(BallLamp{0.1}, {0, 0, 1.9}, PotTarget{0.3, 0.2}).empty());
  CHECK(with(LineLamp{0.4}, {0, 0, 2}, TubeTarget{0.1, 1}) == Keys{"lamp"});
  CHECK(with(LineLamp{0.4}, {0, 0, 2.06}, TubeTarget{0.1, 1}).empty());
  CHECK(with(LineLamp{0.4}, {0, 0, 2.1}, DiskTarget{1}).empty());
  CHECK(with(LineLamp{0.4}, {0, 0, 2.1}, DiskTarget{1}, about_x(pi / 2)) == Keys{"lamp"});  // goes through it
  CHECK(with(DiskLamp{0.4}, {0, 0, 2.1}, RectangleTarget{1, 1}, about_x(pi / 2)) == Keys{"lamp"});
  CHECK(with(DiskLamp{0.4}, {0, 0, 2.1}, RectangleTarget{1, 1}).empty());
  CHECK(with(DiskLamp{0.4}, {0, 0, 2}, DiskTarget{0.05}) == Keys{"lamp"});  // one in the other
  CHECK(with(DiskLamp{0.4}, {0.13, 0.07, 2.03}, BallTarget{0.05}).empty());
  CHECK(with(DiskLamp{0.4}, {0.13, 0.07, 2.02}, BallTarget{0.05}) == Keys{"lamp"});
}

TEST_CASE("two mirrors in one place are refused, mirrors that share an edge are not") {
  const Target spot = target(BallTarget{0.1}, {0, 0, 3});
  const ReflectorShape dish = Paraboloid{0.6, 1.2, 0};
  const auto two = [&](ReflectorShape a, ReflectorShape b, const Vector3& at, const Matrix3& turn = Matrix3::Identity()) {
    return scene({mirror("a", std::move(a)), mirror("b", std::move(b), at, turn)}, spot);
  };
  CHECK(refused(two(dish, dish, {0, 0, 0})) == Keys{"reflector.b"});
  CHECK(refused(two(dish, dish, {0, 0, 1e-6})) == Keys{"reflector.b"});
  CHECK(refused(two(dish, Paraboloid{0.6, 0.3, 0}, {0, 0, 0})) == Keys{"reflector.b"});
  CHECK(refused(two(dish, OffsetParaboloid{0.6, 0.1, 0.3, 0}, {0, 0, 0})) == Keys{"reflector.b"});  // a part of it
  CHECK(refused(two(Flat{1, 1}, Flat{1, 1}, {0, 0, 0}, about_x(pi))) == Keys{"reflector.b"});       // back to back
  CHECK(refused(two(Flat{1, 1}, Flat{1, 1}, {0.8, 0.3, 0})) == Keys{"reflector.b"});
  CHECK(refused(two(Flat{1, 1}, Mesh{square_mesh(0.2), true}, {0.1, 0, 0})) == Keys{"reflector.b"});
  CHECK(refused(two(Mesh{square_mesh(0.2), true}, Mesh{square_mesh(0.2), true}, {0.1, 0, 0})) == Keys{"reflector.b"});
  CHECK(refused(two(Flat{1, 1}, Flat{1, 1}, {1, 0, 0})).empty());
  CHECK(refused(two(Flat{1, 1}, Flat{1, 1}, {0, 0.5, 0.5}, about_x(pi / 2))).empty());
  CHECK(refused(two(dish, Paraboloid{0.6, 1.2, 0}, {0, 0, 0.01})).empty());
  CHECK(refused(two(dish, Hyperboloid{0.2, 0.7, 0.3, 0}, {0, 0, 0.4})).empty());

  CHECK(odd(two(dish, dish, {0, 0, 0.001}), "reflector.a and reflector.b nearly lie on each other"));
  CHECK_FALSE(odd(two(dish, dish, {0, 0, 0.02}), "nearly"));
  CHECK_FALSE(odd(two(Flat{1, 1}, Flat{1, 1}, {1, 0, 0}), "nearly"));
}

TEST_CASE("what is too small for its distance") {
  const auto far = [](double width, double distance) {
    return refused(scene({mirror("dish", Flat{1, 1})}, target(BallTarget{width}, {0, 0, distance})));
  };
  CHECK(far(0.01, 1010) == Keys{"target.spot"});
  CHECK(far(0.01, 990).empty());
  CHECK(refused(scene({mirror("dish", Flat{1e-3, 1e-3}), mirror("other", Flat{1, 1}, {0, 300, 0})},
                      target(DiskTarget{1}, {0, 0, 5}))) == Keys{"reflector.dish"});
}

TEST_CASE("odd, but possible: told, and only where it is certain") {
  const ReflectorShape dish = Paraboloid{0.6, 1.2, 0};  // 0.15 deep, its rim rises by 26.6°
  const auto with = [&](TargetShape shape, const Vector3& at, const Matrix3& turn = Matrix3::Identity()) {
    return scene({mirror("dish", dish)}, target(shape, at, turn));
  };
  CHECK(odd(with(BallTarget{0.1}, {0, 0, -0.3}), "target.spot stands behind every mirror"));
  CHECK_FALSE(odd(with(BallTarget{0.1}, {0.9, 0, -0.1}), "behind"));  // seen from the other side of the bowl
  CHECK(odd(with(DiskTarget{0.1}, {0, 0, 0.6}, about_x(pi)), "The front of target.spot faces away"));
  CHECK_FALSE(odd(with(DiskTarget{0.1}, {0, 0, 0.6}), "front"));
  CHECK_FALSE(odd(with(DiskTarget{0.1}, {0, 0, 0.1}, about_x(pi)), "front"));  // deep in the bowl: the rim is before it
  Scene folded = with(DiskTarget{0.1}, {0, 0, 0.3}, about_x(pi));
  folded.reflectors.push_back(mirror("fold", Flat{0.3, 0.3}, {0, 0, 0.5}, about_x(pi)));
  CHECK(light_oddities(folded).empty());

  Scene shone = with(BallTarget{0.1}, {0, 0, 0.6});
  CHECK(light_oddities(shone).empty());
  shone.reflectors[0].pose.turn = about_x(pi);
  CHECK(odd(shone, "The sun stands behind every mirror"));
  shone.reflectors[0].pose.turn = about_x(pi / 2);  // the inside of the far rim still sees it
  CHECK_FALSE(odd(shone, "The sun"));

  // The dish is 1.2 m wide. What stands between keeps the sun off; a plate lights what is as large as itself.
  CHECK(odd(with(BallTarget{1.5}, {0, 0, 2}),
            "target.spot is 1.25 times as wide as the mirror: is that meant? Where it stands between, it keeps the sun from the "
            "mirror."));
  CHECK_FALSE(odd(with(BallTarget{1.19}, {0, 0, 2}), "wide"));
  Scene clear = with(DiskTarget{1.3}, {0, 0, 0.6});
  clear.targets[0].shades = false;
  CHECK(odd(clear, "target.spot is 1.08 times as wide as the mirror: is that meant?"));
  CHECK_FALSE(odd(clear, "keeps the sun"));
  CHECK_FALSE(odd(scene({mirror("plate", Flat{0.5, 0.5})}, target(DiskTarget{1}, {0, 0, 2})), "wide"));

  CHECK(odd(lit(BallLamp{0.1}, {0, 0, -1}), "The lamp stands behind every mirror"));
  CHECK(odd(lit(DiskLamp{0.1}, {0, 0, 0.6}, about_x(pi)), "The lamp shines away from every mirror"));
  CHECK_FALSE(odd(lit(DiskLamp{0.1}, {0, 0, 0.6}), "lamp"));
  CHECK_FALSE(odd(lit(BallLamp{0.1}, {0, 0, 0.6}), "lamp"));
}
