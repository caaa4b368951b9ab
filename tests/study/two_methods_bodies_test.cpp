// SPDX-License-Identifier: MIT
// Quadrature against tracing where the target is a pot, a ball or a tube.
#include "approx.h"
#include "effort.h"
#include "two_methods.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

const Paraboloid dish{0.6096, 1.2192, 0.0508};

Scene pot_of(double slope, double aim) {
  Scene made = one(dish, slope, PotTarget{0.1524, 0.127}, {0, 0, 0.6096}, degrees(aim));
  made.reflectors[0].reflectance = 0.86;
  return made;
}

}  // namespace

TEST_CASE("two methods: a pot over errors of surface and aim" * doctest::test_suite("slow")) {
  int number = 0;
  for (const double slope : {2e-3, 6e-3, 15e-3}) {
    for (const double aim : {0.0, 2.0, 5.0}) {
      if (number++ % 2 != 0 && !testing::full_run()) continue;  // every other one: corners and middle
      check_two_methods("pot " + std::to_string(slope) + " " + std::to_string(aim), pot_of(slope, aim));
    }
  }
  Scene leaning = pot_of(5e-3, 1);
  leaning.targets[0].pose.turn = rotation(degrees(25), degrees(-10), 0);
  check_two_methods("leaning pot", leaning);
  Scene low = pot_of(5e-3, 0);
  low.targets[0].pose.at.z() = 0.54;
  check_two_methods("pot below the focus", low);
}

TEST_CASE("two methods: balls" * doctest::test_suite("slow")) {
  check_two_methods("small ball", one(dish, 6e-3, BallTarget{0.03}, {0, 0, 0.6096}, degrees(0.5)));
  check_two_methods("large ball", one(dish, 8e-3, BallTarget{0.2}, {0.01, 0, 0.6096}));
  check_two_methods("perfect dish", one(Paraboloid{0.6, 0.8, 0.05}, 0, BallTarget{0.03}, {0, 0, 0.6}, degrees(1)));
}

TEST_CASE("two methods: tubes" * doctest::test_suite("slow")) {
  check_two_methods("in a trough", one(Trough{0.4, 0.9, 1.2}, 5e-3, TubeTarget{0.04, 1.0}, {0, 0, 0.4}, degrees(1)));
  check_two_methods("wide, in an arc", one(ArcTrough{1, 0.6, 0.8}, 5e-3, TubeTarget{0.08, 0.9}, {0, 0, 0.48}));
  // A dish wider than the tube is long throws light into its ends.
  check_two_methods("short, over a dish", one(Paraboloid{0.6, 1.2, 0.05}, 8e-3, TubeTarget{0.08, 0.1}, {0, 0, 0.6}, degrees(1)));
}

TEST_CASE("a pot whose base takes all light is a disk") {
  Scene as_pot = pot_of(4e-3, 0), as_disk = as_pot;
  as_disk.targets[0].shape = DiskTarget{0.1524};
  const TraceFigures pot = quadrature_figures(as_pot), disk = quadrature_figures(as_disk);
  CHECK(pot.targets[0].power.value == testing::approx(disk.targets[0].power.value).epsilon(1e-5));
  CHECK(pot.targets[0].peak_irradiance->value == testing::approx(disk.targets[0].peak_irradiance->value).epsilon(2e-3));
  CHECK(pot.targets[0].map.size() == 2);
}

TEST_CASE("a large ball about the focus gets all light of a dish; a straight beam lights half a ball" *
          doctest::test_suite("slow")) {
  // All that leaves the mirrors meets a ball that covers the focus by many blur widths.
  const TraceFigures all = quadrature_figures(one(dish, 4e-3, BallTarget{0.3}, {0, 0, 0.6096}));
  CHECK(all.targets[0].intercept->value == testing::approx(1).epsilon(2e-5));
  // The sun on the ball itself: beam × π R².
  CHECK(all.targets[0].direct_power.value == testing::approx(all.beam * pi * 0.15 * 0.15).epsilon(1e-3));
}

TEST_CASE("a flat lights a tube evenly along: power by the tube's width" * doctest::test_suite("slow")) {
  // Light straight back up, wider than the tube by many blur widths: beam × width × length, were it not for the tube's own
  // shadow.
  Scene made = one(Flat{0.25, 0.35}, 5e-3, TubeTarget{0.1, 0.2}, {0, 0, 0.4});
  made.targets[0].shades = false;
  const TraceFigures figures = quadrature_figures(made);
  CHECK(figures.targets[0].power.value == testing::approx(figures.beam * 0.1 * 0.2).epsilon(1e-3));
}
