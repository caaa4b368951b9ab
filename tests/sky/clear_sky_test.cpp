// SPDX-License-Identifier: MIT
// Air mass and the beam of a clear sky against published tables and the values of a general library's tests.
#include "sky/clear_sky.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"

using dishwright::air_mass;
using dishwright::ineichen_beam;
using dishwright::laue_beam;

using dishwright::testing::off;

namespace {
constexpr double degree = std::numbers::pi / 180;
}

TEST_CASE("clear sky: air mass by Kasten and Young, formula and Table II") {
  struct Known {
    double elevation, formula, table;
  };
  // [kasten1989]: eq. 3 and Table II; the formula is within 0.5 % of the table.
  for (const Known& known :
       {Known{0, 37.919608, 38.0868}, {1, 26.310555, 26.2595}, {5, 10.305791, 10.3164}, {10, 5.586036, 5.5841}}) {
    CHECK(off(air_mass(known.elevation * degree), known.formula) < 1e-6);
    CHECK(std::abs(air_mass(known.elevation * degree) / known.table - 1) < 0.005);
  }
  CHECK(off(air_mass(30 * degree), 1.994293) < 1e-6);
  CHECK(off(air_mass(90 * degree), 0.999712) < 1e-6);
}

TEST_CASE("clear sky: beam by Ineichen and Perez") {
  struct Known {
    double outside, zenith, mass, turbidity, altitude, beam;
  };
  // [ineichen2002]; values: tests of the general library pvlib-python, test_clearsky.py.
  for (const Known& known : {Known{1364, 10, 1, 3, 0, 942.2081860378344},
                             {1364, 10, 1, 3, 2000, 994.95377835},
                             {1364, 46.0467599, 1.32355476, 3, 0, 888.90147035},
                             {1364, 72.41687122, 3.01614096, 3, 0, 655.44925241},
                             {1364, 82.85457044, 6.97935524, 3, 0, 321.16092181},
                             {1364, 0, 1, 2, 0, 1014.38807396},
                             {1370, 10, 1, 3, 0, 946.35279683}})
    CHECK(off(ineichen_beam(known.outside, known.zenith * degree, known.mass, known.turbidity, known.altitude), known.beam) <
          1e-6 * known.beam);
}

TEST_CASE("clear sky: two published models agree within 12 % where the sun stands high") {
  // Meinel at sea level: 947.1 at air mass 1, 846.0264 at 1.5, 764.6576 at 2; Laue at 1 km: 917.0027 at 1.5 [laue1970].
  CHECK(off(laue_beam(1, 0), 947.1) < 0.01);
  CHECK(off(laue_beam(1.5, 0), 846.0264) < 0.01);
  CHECK(off(laue_beam(1.5, 1000), 917.0027) < 0.01);
  for (const double mass : {1.0, 1.5, 2.0, 3.0}) {
    const double zenith = std::acos(1 / mass), other = laue_beam(mass, 0);
    CHECK(std::abs(ineichen_beam(dishwright::solar_constant, zenith, mass, 3, 0) / other - 1) < 0.12);
  }
}

TEST_CASE("clear sky: no beam below the horizon, little just above it") {
  dishwright::SunPlace sun;
  sun.apparent_elevation = -1 * degree;
  CHECK(dishwright::clear_beam(sun, {}, {}, 3) == 0);
  sun.apparent_elevation = 1 * degree;
  const double low = dishwright::clear_beam(sun, {}, {}, 3);
  CHECK(low > 0);
  CHECK(low < 100);
}
