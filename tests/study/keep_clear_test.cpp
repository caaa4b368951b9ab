// SPDX-License-Identifier: MIT
// The keep-clear field against closed forms: a perfect mirror under a point sun.
#include "study/keep_clear.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <thread>

#include "approx.h"
#include "result/heat_levels.h"
#include "scenes.h"
#include "study/mirror_best.h"

using namespace dishwright;
using namespace dishwright::test;
using dishwright::testing::off;

namespace {

constexpr double sun_beam = 850;

KeepClear field_of(const Reflector& mirror, double half_angle, double reflectance) {
  Scene one = scene(sun(half_angle > 0 ? DiscProfile::limb_darkened : DiscProfile::uniform, half_angle), mirror,
                    target(DiskTarget{0.1}, {0, 0, 0.6}));
  one.sun.beam = sun_beam;
  one.reflectors[0].reflectance = reflectance;
  const auto found = keep_clear(one, Watch{});
  REQUIRE(found);
  REQUIRE(found->levels.size() == 4);
  return *found;
}

}  // namespace

TEST_CASE("keep clear: a paraboloid's light is over a level up to f (1 ± sqrt(rho B / L)) from its vertex") {
  // A ring of the mirror at the angle t from the axis, seen from the focus, sends rho B f² / cos⁴(t/2) into a unit of solid angle.
  // At a distance s from the focus that is over s² of irradiance, the most on the axis: rho B f² / (z − f)².
  constexpr double f = 0.6, reflectance = 0.81;
  const KeepClear field = field_of(mirror(Paraboloid{f, 1.2, 0.0}, 0), 0, reflectance);
  for (const KeepClearLevel& level : field.levels) {
    const double away = f * std::sqrt(reflectance * sun_beam / level.level);
    CAPTURE(level.level);
    REQUIRE(level.passed());
    CHECK_FALSE(level.open);
    // On the safe side, by 2 % of the distance from the focus and 1/250 of the mirror.
    const double room = 0.02 * away + 0.005;
    CHECK(level.to > f + away - 0.2 * room);
    CHECK(level.to < f + away + room);
    CHECK(level.from < f - away + 0.2 * room + 1e-9);
    CHECK(level.from > f - away - room);
  }
  // One sun ends at about twice the focal length, as shops are told (common practice, no source).
  CHECK(off(field.levels[0].to / f, 1.9) < 0.03);
  // Nowhere is it wider than the rim.
  for (const KeepClearLevel& level : field.levels) CHECK(level.half_width_x < 0.6 + 0.03);
}

TEST_CASE("keep clear: a trough's light falls with the first power of the distance from its line") {
  constexpr double f = 0.3, reflectance = 0.9;
  const KeepClear field = field_of(mirror(Trough{f, 0.9, 1.5}, 0), 0, reflectance);
  for (const std::size_t k : {std::size_t{1}, std::size_t{2}, std::size_t{3}}) {
    const KeepClearLevel& level = field.levels[k];
    const double away = f * reflectance * sun_beam / level.level;
    CAPTURE(level.level);
    REQUIRE(level.passed());
    CHECK(level.to > f + away - 0.003);
    CHECK(level.to < f + away * 1.03 + 0.009);
    CHECK(level.half_width_y > 0.74);  // as long as the trough
  }
}

TEST_CASE("keep clear: a flat mirror sends one sun at most, and says so; a real sun widens what is narrow") {
  const KeepClear flat = field_of(mirror(Flat{1, 1}), 4.65e-3, 1);
  for (const KeepClearLevel& level : flat.levels) CHECK_FALSE(level.passed());
  // A long focus: the sun's image, 2 · 4.65 mrad · f wide, is at most rho B (D / (2 · 4.65 mrad f))² bright on it.
  const KeepClear faint = field_of(mirror(Paraboloid{60, 1.2, 0.0}, 0), 4.65e-3, 1);
  CHECK(faint.levels[0].passed());
  CHECK(faint.levels[1].passed());        // 4.6 suns, brighter still in the middle of a darkened disc
  CHECK_FALSE(faint.levels[3].passed());  // never 23
}

TEST_CASE("keep clear: nothing of lamps and sound, and nothing where the sun is behind") {
  Scene none = scene(sun(DiscProfile::uniform, 0), mirror(Paraboloid{0.6, 1.2, 0.0}, 0), target(DiskTarget{0.1}, {0, 0, 0.6}));
  none.sun.aim_error = 3;
  CHECK_FALSE(keep_clear(none, Watch{}));
}
