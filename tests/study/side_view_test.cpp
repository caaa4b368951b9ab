// SPDX-License-Identifier: MIT
// Rays followed with a ruler: foci, the sphere's rim rays, coma, shadows, tiles, all against plane geometry worked out here.
#include "study/side_view.h"

#include "approx.h"
#include "base/error.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

Target pot(const Vector3& at) {
  Target made = target(PotTarget{0.15, 0.12}, at);
  made.name = "kettle", made.shades = true;
  return made;
}

/// In the plane: light that comes down from a sun leaning by `lean` toward +x, mirrored at (x, z) by a curve of that slope; where
/// it crosses the height `level`.
double crossing_at(double x, double z, double slope, double lean, double level) {
  const double dx = -std::sin(lean), dz = -std::cos(lean);
  const double length = std::hypot(slope, 1.0), nx = -slope / length, nz = 1 / length;
  const double along = dx * nx + dz * nz, ux = dx - 2 * along * nx, uz = dz - 2 * along * nz;
  return x + (level - z) / uz * ux;
}

}  // namespace

TEST_CASE("side view: all rays of a paraboloid that is aimed true meet at its focus; sizes and profile are those of the curve") {
  const SideView view = side_view(scene(point_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}), pot({0, 0, 0.6})));
  CHECK(view.width == testing::approx(1.2).epsilon(1e-12));
  CHECK(view.depth == testing::approx(1.2 * 1.2 / (16 * 0.6) - 0.05 * 0.05 / (16 * 0.6)).epsilon(0.01));
  CHECK(view.focal_length.value_or(0) == testing::approx(0.6).epsilon(1e-12));
  CHECK(view.directrix);
  CHECK(view.sun == 0);
  REQUIRE(view.named);
  for (const CutRay* ray : {&view.named->middle, &view.named->near_rim, &view.named->far_rim}) {
    REQUIRE(ray->on_plane);
    CHECK(std::abs(ray->on_plane->across) < 1e-9);
    CHECK(std::abs(ray->on_plane->up) < 1e-9);
    CHECK(ray->end == SightEnd::counted);
    CHECK(ray->face == "base");
  }
  // Under the pot no light comes in: the middle ray stands beside its shadow, which reaches to half of its width.
  CHECK(std::abs(view.named->middle.across) == testing::approx(0.075).epsilon(0.05));
  // The hole parts the profile in two; every place of it is on the parabola.
  CHECK(view.profile.size() == 2);
  for (const auto& line : view.profile) {
    for (const CutPoint& at : line) CHECK(std::abs(at.up - at.across * at.across / 2.4) < 1e-9);
  }
  int shaded = 0;
  for (const CutRay& ray : view.rays) shaded += ray.end == SightEnd::shaded ? 1 : 0;
  CHECK(view.rays.size() == 9);
  CHECK(shaded == 1);  // the one along the axis
  REQUIRE(view.targets.size() == 1);
  double low = 1, high = 0;
  for (const CutPoint& at : view.targets[0]) low = std::min(low, at.up), high = std::max(high, at.up);
  CHECK(view.cut_targets.at(0) == 1);
  CHECK(side_view(scene(point_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}), pot({0, 0.2, 0.6}))).cut_targets.at(0) == 0);
  CHECK(low == testing::approx(0.6).epsilon(1e-6));
  CHECK(high == testing::approx(0.72).epsilon(1e-6));
}

TEST_CASE("side view: an aim error lands middle and rim rays where plane geometry says, whatever side the sun leans to") {
  for (const double side : {0.0, 90.0, 210.0}) {
    CAPTURE(side);
    const double lean = degrees(2), turn = degrees(side);
    const SideView view =
        side_view(scene(point_sun(lean, turn), mirror(Paraboloid{0.6, 1.2, 0.05}), target(DiskTarget{0.3}, {0, 0, 0.6})));
    CHECK(view.sun == testing::approx(lean).epsilon(1e-9));
    REQUIRE(view.named);
    const CutRay &near = view.named->near_rim, &far = view.named->far_rim, &middle = view.named->middle;
    CHECK(near.across > 0.55);
    CHECK(far.across < -0.55);
    for (const CutRay* ray : {&near, &far, &middle}) {
      const double x = ray->across, expected = crossing_at(x, x * x / 2.4, x / 1.2, lean, 0.6);
      REQUIRE(ray->on_plane);
      CHECK(ray->on_plane->across == testing::approx(expected * std::cos(turn)).epsilon(1e-6 + 1e-9 / std::abs(expected)));
      const double along = ray->on_plane->across * std::cos(turn) + ray->on_plane->up * std::sin(turn);
      CHECK(along == testing::approx(expected).epsilon(1e-7));
      REQUIRE(ray->aimed_true);
      CHECK(std::hypot(ray->aimed_true->across, ray->aimed_true->up) < 1e-9);
    }
    // f tan(aim error), to the other side; rim rays about twice as far at a rim angle of 53 degrees.
    const double shift = std::hypot(middle.on_plane->across, middle.on_plane->up);
    CHECK(shift == testing::approx(0.6 * std::tan(lean)).epsilon(0.02));
    CHECK(std::hypot(near.on_plane->across, near.on_plane->up) > 1.9 * shift);
    CHECK(std::hypot(far.on_plane->across, far.on_plane->up) > 1.8 * shift);
  }
}

TEST_CASE(
    "side view: the middle ray stands at the edge of the shadow, where a true aim has none, and its places are known all the "
    "same") {
  const SideView view = side_view(scene(point_sun(degrees(2)), mirror(Paraboloid{0.6, 1.2, 0.05}), pot({0, 0, 0.6})));
  REQUIRE(view.named);
  REQUIRE(view.named->middle.on_plane);
  REQUIRE(view.named->middle.aimed_true);
  CHECK(view.named->middle.on_plane->across == testing::approx(-0.6 * std::tan(degrees(2))).epsilon(0.02));
  CHECK(std::abs(view.named->middle.aimed_true->across) < 1e-9);
}

TEST_CASE("side view: the side of the sun is told in the target's own axes, however it is turned") {
  Target turned = target(DiskTarget{0.3}, {0, 0, 0.6});
  turned.pose.turn = rotation(0, 0, degrees(90));  // its own x points along +y
  const SideView view = side_view(scene(point_sun(degrees(2)), mirror(Paraboloid{0.6, 1.2, 0.05}), turned));
  CHECK(std::abs(view.sun_side.across) < 1e-9);
  CHECK(view.sun_side.up == testing::approx(-1).epsilon(1e-9));
  REQUIRE(view.named);
  REQUIRE(view.named->middle.on_plane);
  // The light goes to the other side: toward its own +y.
  CHECK(view.named->middle.on_plane->up == testing::approx(0.6 * std::tan(degrees(2))).epsilon(0.02));
}

TEST_CASE("side view: rim rays of a sphere cross the axis R/(2 cos θ) before its centre") {
  const SideView view = side_view(scene(point_sun(), mirror(SphereBowl{1, 1.4, 0}), target(DiskTarget{0.05}, {0, 0, 0.5})));
  REQUIRE(view.named);
  const CutRay& rim = view.named->near_rim;
  const double sine = rim.across, crossing = 1 - 1 / (2 * std::sqrt(1 - sine * sine));
  const CutPoint &from = rim.way[1], &toward = rim.toward;
  CHECK(from.up - from.across / toward.across * toward.up == testing::approx(crossing).epsilon(1e-9));
  CHECK(rim.end == SightEnd::missed);
  CHECK(view.directrix == false);
}

TEST_CASE("side view: tiles are lines of their own, a trough is cut across, a placed mirror is looked at along its own axis") {
  Facets tiles;
  tiles.focal_length = 0.6, tiles.width = 0.6, tiles.tile = 0.1, tiles.gap = 0.01;
  const SideView facets = side_view(scene(point_sun(), mirror(tiles), target(DiskTarget{0.2}, {0, 0, 0.6})));
  CHECK(facets.profile.size() >= 5);
  for (const auto& line : facets.profile) {
    REQUIRE(line.size() >= 2);
    const double slope = (line.back().up - line.front().up) / (line.back().across - line.front().across);
    for (const CutPoint& at : line) CHECK(std::abs(at.up - line.front().up - slope * (at.across - line.front().across)) < 1e-6);
  }
  // A sun that leans along the trough as well: only what leans across counts.
  Scene trough =
      scene(point_sun(degrees(10), degrees(60)), mirror(Trough{0.3, 0.9, 1.5}), target(RectangleTarget{0.1, 1.5}, {0, 0, 0.3}));
  const SideView across = side_view(trough);
  CHECK(across.across.x() == testing::approx(1).epsilon(1e-12));
  CHECK(across.width == testing::approx(0.9).epsilon(1e-12));
  Scene placed = scene(point_sun(), mirror(Paraboloid{0.6, 1.2, 0}), target(DiskTarget{0.3}, {3, 1, 0.6}));
  placed.reflectors[0].pose.at = Vector3(3, 1, 0);
  const SideView there = side_view(placed);
  REQUIRE(there.named);
  CHECK(std::abs(there.named->far_rim.on_plane->across) < 1e-9);
  Scene sound = placed;
  sound.sound.emplace();
  CHECK_THROWS_AS(side_view(sound), InputError);
}
