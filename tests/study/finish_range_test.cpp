// SPDX-License-Identifier: MIT
// Watts at the two ends of a finish: as often as the light meets a mirror, so often does its reflectance count.
#include "study/finish_range.h"

#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

Reflector film(ReflectorShape shape) {
  Reflector made = mirror(std::move(shape));
  made.finish = "aluminised film", made.reflectance = 0.86;  // 0.83 to 0.88: scene/materials.cpp
  return made;
}

TraceFigures ranged(const Scene& made) {
  TraceFigures figures = traced(made);
  add_finish_range(made, 1, {}, figures);
  return figures;
}

}  // namespace

TEST_CASE("one reflection: power in proportion to the reflectance, dirt as it is") {
  Scene made = scene(limb_sun(), film(dish_of(degrees(40))), target(DiskTarget{0.1}, {0, 0, 1}), 20'000);
  const TraceFigures clean = ranged(made);
  const double power = clean.targets[0].power.value;
  REQUIRE(clean.targets[0].power_range.has_value());
  CHECK((*clean.targets[0].power_range)[0] == testing::approx(power * 0.83 / 0.86).epsilon(1e-5));
  CHECK((*clean.targets[0].power_range)[1] == testing::approx(power * 0.88 / 0.86).epsilon(1e-5));
  made.reflectors[0].dirt = 0.1, made.reflectors[0].reflectance = 0.86 * 0.9;
  const TraceFigures dirty = ranged(made);
  CHECK((*dirty.targets[0].power_range)[0] == testing::approx(dirty.targets[0].power.value * 0.83 / 0.86).epsilon(1e-5));
}

TEST_CASE("two reflections: the square; a mirror without a finish does not change") {
  // Two flats at 45°: the sun's light goes down, aside and up again, onto a disk.
  Reflector first = film(Flat{0.5, 0.5}), second = film(Flat{0.5, 0.5});
  first.name = "first", second.name = "second";
  first.pose.turn = rotation(0, degrees(45), 0), second.pose.turn = rotation(0, degrees(-45), 0);
  second.pose.at = {3, 0, 0};
  Scene made = scene(point_sun(), first, target(DiskTarget{1}, {3, 0, 1}), 20'000);
  made.targets[0].shades = false;
  made.reflectors.push_back(second);
  const TraceFigures both = ranged(made);
  const double power = both.targets[0].power.value;
  REQUIRE(power > 0);
  CHECK((*both.targets[0].power_range)[0] == testing::approx(power * std::pow(0.83 / 0.86, 2)).epsilon(1e-5));
  made.reflectors[1].finish.clear();
  CHECK((*ranged(made).targets[0].power_range)[1] == testing::approx(power * 0.88 / 0.86).epsilon(1e-5));
  made.reflectors[0].finish.clear();
  CHECK_FALSE(ranged(made).targets[0].power_range.has_value());
}
