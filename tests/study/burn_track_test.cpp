// SPDX-License-Identifier: MIT
// The burn track of a parked dish: where light meets by geometry, and how bright it is by the trace of a plate put there.
#include "study/burn_track.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "scene/outdoors.h"
#include "scenes.h"
#include "study/mirror_best.h"

using namespace dishwright;
using namespace dishwright::test;
using dishwright::testing::off;

namespace {

constexpr double deg = std::numbers::pi / 180, focus = 0.6;

Scene dish_scene() {
  Scene one = scene(sun(DiscProfile::limb_darkened, 4.65e-3), mirror(Paraboloid{focus, 1.2, 0.0}, 4e-3),
                    target(DiskTarget{0.15}, {0, 0, focus}));
  one.reflectors[0].reflectance = 0.86;
  return one;
}

/// One step of a dish that lies face up, the sun at an elevation and azimuth [deg].
BurnStep face_up(double elevation, double azimuth, const ParkedDish& parked = {}) {
  const SunStep at{0, earth_direction(elevation * deg, azimuth * deg), 850};
  return burn_track(dish_scene(), parked, {at}, 1, Watch{}).front();
}

}  // namespace

TEST_CASE("burn track: under an overhead sun the spot is at the focus, as bright as a traced plate there or a little brighter") {
  Scene one = dish_scene();
  one.sun.beam = 850;
  const auto best = mirror_best(one, 1, Watch{});
  REQUIRE(best);
  const BurnStep step = face_up(90, 0);
  CHECK_FALSE(step.behind);
  CHECK((step.spot.at - Vector3(0, 0, focus)).norm() < 0.02);
  // One blur for all tubes leaves out that rim rays cross the plane at a slant: a fifth too bright, on the safe side.
  const double ratio = step.spot.irradiance / best->irradiance.value;
  CHECK(ratio > 0.95);
  CHECK(ratio < 1.25);
  CHECK(step.ground.irradiance == 0);
}

TEST_CASE("burn track: under a slanting sun it is on the other side of the axis, and alike by symmetry") {
  for (const double aside : {15.0, 35.0}) {
    CAPTURE(aside);
    const BurnStep east = face_up(90 - aside, 90), west = face_up(90 - aside, 270), south = face_up(90 - aside, 180);
    CHECK(east.spot.at.x() < -0.5 * focus * std::tan(aside * deg));  // the image of the sun moves to the other side
    CHECK(off(east.spot.irradiance / west.spot.irradiance, 1) < 1e-3);
    CHECK((east.spot.at - Vector3(-west.spot.at.x(), west.spot.at.y(), west.spot.at.z())).norm() < 1e-3);
    CHECK(off(south.spot.irradiance / east.spot.irradiance, 1) < 0.05);
    CHECK(off(south.spot.at.y(), -east.spot.at.x()) < 0.01);  // to the north
    CHECK(std::abs(south.spot.at.x()) < 0.01);
  }
}

TEST_CASE(
    "burn track: the slanting spot against the trace of a plate that is put there: never brighter, at most a third fainter") {
  for (const double aside : {10.0, 45.0}) {
    const BurnStep step = face_up(90 - aside, 90);
    Scene plate = dish_scene();
    plate.sun.beam = 850, plate.sun.aim_error = aside * deg, plate.sun.aim_direction = 0;
    // Its front looks back at the middle of the mirror.
    const Vector3 way = (step.spot.at - Vector3(0, 0, 0.075)).normalized();
    Target& spot = plate.targets[0];
    spot = target(RectangleTarget{0.5, 0.5}, step.spot.at);
    spot.pose.turn = altitude_azimuth_axes(std::asin(way.z()), std::atan2(way.x(), way.y()));
    plate.trace.paths = 100'000;
    const TraceFigures figures = traced(plate);
    REQUIRE(figures.targets[0].peak_irradiance);
    const double ratio = step.spot.irradiance / figures.targets[0].peak_irradiance->value;
    CAPTURE(aside);
    CHECK(ratio < 1.05);
    CHECK(ratio > (aside < 20 ? 0.85 : 0.67));
  }
}

TEST_CASE("burn track: a dish that looks level at a low sun burns a wall at its focus; behind it there is no spot") {
  ParkedDish level;
  level.axes = altitude_azimuth_axes(1 * deg, 90 * deg);
  level.wall = focus;
  const SunStep rising{0, earth_direction(1 * deg, 90 * deg), 400}, setting{1, earth_direction(1 * deg, 270 * deg), 400};
  const auto steps = burn_track(dish_scene(), level, {rising, setting}, 1, Watch{});
  CHECK(off(steps[0].walls[1].irradiance / steps[0].spot.irradiance, 1) < 0.1);  // east
  CHECK(off(steps[0].walls[1].at.x(), focus) < 1e-6);
  CHECK(steps[0].walls[3].irradiance == 0);
  CHECK(steps[1].behind);
  CHECK(steps[1].spot.irradiance == 0);
}

TEST_CASE("burn track: a roof below the focus ends the light, and a dish that looks down burns the ground") {
  ParkedDish closed;
  closed.roof = 0.3, closed.wall = 2;
  const BurnStep under = face_up(90, 0, closed);
  CHECK(under.spot.at.z() < 0.3 + 0.02);
  CHECK(under.roof.irradiance > 1.5 * 850);  // half way to the focus: four suns and less
  CHECK(under.roof.irradiance < 5 * 850);
  ParkedDish low;
  low.axes = altitude_azimuth_axes(-20 * deg, 90 * deg), low.height = 0.3;
  const SunStep rising{0, earth_direction(2 * deg, 90 * deg), 400};
  const auto steps = burn_track(dish_scene(), low, {rising}, 1, Watch{});
  CHECK(steps[0].ground.irradiance > 5000);
  CHECK(off(steps[0].ground.at.z(), -0.3) < 1e-6);
}

TEST_CASE("burn track: the same bits on any number of threads") {
  std::vector<SunStep> suns;
  for (int k = 0; k < 6; ++k) suns.push_back({k * 600.0, earth_direction((20 + 10 * k) * deg, (100 + 5 * k) * deg), 800});
  const auto one = burn_track(dish_scene(), {}, suns, 1, Watch{}), three = burn_track(dish_scene(), {}, suns, 3, Watch{});
  for (std::size_t k = 0; k < suns.size(); ++k) {
    CHECK(one[k].spot.irradiance == three[k].spot.irradiance);
    CHECK(one[k].spot.at == three[k].spot.at);
  }
}
