// SPDX-License-Identifier: MIT
// Losses of heat against textbooks: Nusselt numbers, worked examples, stagnation, boiling.
#include <doctest/doctest.h>

#include <cmath>

#include "../known_values/read_table.h"
#include "approx.h"
#include "heat/absorber.h"
#include "heat/air_properties.h"
#include "heat/convection.h"
#include "heat/thin_sheet.h"
#include "scene/water.h"
#include "sky/sun_place.h"

using namespace dishwright;
using testing::approx;
using testing::off;

namespace {

constexpr double ice = 273.15;

Surroundings still_air(double celsius) {
  Surroundings out;
  out.temperature = celsius + ice;
  return out;
}

Surroundings no_air(double celsius) {
  Surroundings out = still_air(celsius);
  out.convection = 0;
  return out;
}

Absorber one_face(FaceKind kind, double area, double height, double length, double emittance) {
  return {{{kind, area, height, length, false}}, emittance, 1};
}

}  // namespace

TEST_CASE("Nusselt numbers agree with worked ones") {
  for (const auto& row : known::read_table("nusselt_numbers.csv")) {
    const double prandtl = row.at("prandtl");
    const auto check = [&](const char* column, double found) {
      CAPTURE(column);
      if (row.count(column) != 0) CHECK(found == approx(row.at(column)).epsilon(1e-8));
    };
    const double rayleigh = row.count("rayleigh") != 0 ? row.at("rayleigh") : 1;
    check("upright_plate", nusselt_upright_plate(rayleigh, prandtl));
    check("level_cylinder", nusselt_level_cylinder(rayleigh, prandtl));
    check("sphere", nusselt_sphere(rayleigh, prandtl));
    check("plate_up", nusselt_plate_up(rayleigh));
    check("plate_down", nusselt_plate_down(rayleigh));
    if (row.count("reynolds") != 0) check("cylinder_in_wind", nusselt_cylinder_in_wind(row.at("reynolds"), prandtl));
  }
  // [whitaker1972] by hand for a 10 mm ball in air at 10 m/s, Re 6510, Pr 0.709, viscosities 181.6 and 197.8: 2 + 53.20 * 0.8535.
  CHECK(nusselt_sphere_in_wind(6510, 0.709, 181.6 / 197.8) == approx(47.4).epsilon(2e-3));
  // Plate along the wind: 0.664 * sqrt(1e4) * cbrt(0.7); where the flow turns over the two laws lie 0.1 % apart.
  CHECK(nusselt_plate_in_wind(1e4, 0.7) == approx(58.956).epsilon(1e-4));
  CHECK(nusselt_plate_in_wind(499999, 0.7) == approx(nusselt_plate_in_wind(500001, 0.7)).epsilon(0.02));
}

TEST_CASE("air is that of the textbook examples") {
  // [incropera] ex. 9.2: 400 K, and ex. 9.4: 367 K.
  const AirProperties warm = air_properties(400, 101325), less = air_properties(367, 101325);
  CHECK(warm.conductivity == approx(0.0338).epsilon(0.01));
  CHECK(warm.viscosity == approx(26.4e-6).epsilon(0.02));
  CHECK(warm.diffusivity == approx(38.3e-6).epsilon(0.02));
  CHECK(warm.prandtl() == approx(0.69).epsilon(0.02));
  CHECK(less.conductivity == approx(0.0313).epsilon(0.01));
  CHECK(less.viscosity == approx(22.8e-6).epsilon(0.025));
  CHECK(air_properties(400, 50000).viscosity == approx(warm.viscosity * 101325 / 50000).epsilon(1e-12));
}

TEST_CASE("worked examples of heat lost") {
  // [incropera] ex. 9.4: level pipe 0.1 m thick at 165 C in 23 C, emittance 0.85: 763 W/m.
  const Absorber pipe = one_face(FaceKind::tube, 3.14159265 * 0.1, 0.1, 0.1, 0.85);
  CHECK(heat_losses(pipe, still_air(23), 165 + ice).total() == approx(763).epsilon(0.01));
  // ex. 9.2: upright plate 0.71 m high, 1.02 m wide, 232 C in 23 C: 1060 W by air alone.
  const Absorber plate = one_face(FaceKind::side, 0.71 * 1.02, 0.71, 1, 0.5);
  CHECK(heat_losses(plate, still_air(23), 232 + ice).convection == approx(1060).epsilon(0.015));
  // ex. 1.2: a pipe of 70 mm at 200 C in 25 C radiates 998.4 W/m less 15 W/m2K of convection, emittance 0.8.
  const Absorber steam_pipe = one_face(FaceKind::tube, 3.14159265 * 0.07, 0.07, 0.07, 0.8);
  CHECK(off(heat_losses(steam_pipe, no_air(25), 200 + ice).radiation, 998.38 - 15 * 175 * 3.14159265 * 0.07) < 0.5);
  // ex. 7.4: 12.7 mm thick at 128.4 C in wind of 10 m/s at 26.2 C: 96 W/m2K by this law (measured: 102).
  Surroundings gale = still_air(26.2);
  gale.wind = 10;
  const double lost = heat_losses(one_face(FaceKind::tube, 1, 0.0127, 0.0127, 0.1), gale, 128.4 + ice).convection;
  CHECK(lost / 102.2 == approx(96).epsilon(0.02));
  // ex. 9.3: a duct 0.75 m wide and 0.3 m high at 45 C in 15 C: 246 W/m; the book's law for the sides is the other one of the
  // same paper, 5 % lower in all.
  const Absorber duct = {
      {{FaceKind::side, 0.6, 0.3, 1, false}, {FaceKind::top, 0.75, 0.375, 1, false}, {FaceKind::bottom, 0.75, 0.375, 1, false}},
      0.1,
      1};
  CHECK(heat_losses(duct, still_air(15), 45 + ice).convection == approx(246).epsilon(0.06));
  // OpenStax University Physics 2, 1.6: a person of 1.50 m2 at 33 C in 22 C, emittance 0.97: 99 W.
  CHECK(off(heat_losses(one_face(FaceKind::side, 1.5, 1.7, 0.3, 0.97), no_air(21.85), 306).radiation, 99) < 0.6);
}

TEST_CASE("what it stops at: closed forms, a textbook plate, and the balance there") {
  // [holman] ex. 8.20: plates in 700 W/m2 of sun, surroundings 25 C, no convection.
  CHECK(off(stagnation_temperature(one_face(FaceKind::top, 1, 1, 1, 0.9), no_air(25), 0.12 * 700), 39.5 + ice) < 0.2);
  CHECK(off(stagnation_temperature(one_face(FaceKind::top, 1, 1, 1, 0.95), no_air(25), 0.96 * 700), 104.8 + ice) < 0.2);
  for (const auto& row : known::read_table("stagnation.csv")) {
    const double found =
        stagnation_temperature(one_face(FaceKind::top, 1, 1, 1, 0.9), no_air(25), 0.85 * 0.9 * 900 * row.at("concentration"));
    CHECK(off(found, row.at("celsius") + ice) < 0.001);
  }
  // A black kettle in light wind: there it loses what it takes in, and wind makes it cooler.
  Load load;
  load.stuff = "water", load.mass = 1;
  const Target kettle{"kettle", PotTarget{0.15, 0.13}, {}, true};
  const Absorber empty = empty_absorber(kettle, load);
  Surroundings wind = surroundings_of(load);
  const double there = stagnation_temperature(empty, wind, 800);
  CHECK(heat_losses(empty, wind, there).total() == approx(800).epsilon(1e-8));
  wind.wind = 8;
  CHECK(stagnation_temperature(empty, wind, 800) < there - 30);
  CHECK(stagnation_temperature(empty, wind, 0) == wind.temperature);
}

TEST_CASE("water boils as tables say; an open pot steams") {
  for (const auto& row : known::read_table("boiling.csv")) {
    const double pressure = row.count("altitude") != 0 ? standard_pressure(row.at("altitude")) : 1000 * row.at("kilopascals");
    CHECK(off(pressure, 1000 * row.at("kilopascals")) < 20);
    CHECK(off(boiling_point(pressure), row.at("celsius") + ice) < row.at("within"));
    CHECK(vapour_pressure(boiling_point(pressure)) == approx(pressure).epsilon(1e-9));
  }
  // Heat of steam: 2.257 MJ/kg at 100 C, 2.442 at 25 C (handbook, from memory).
  CHECK(heat_of_steam(373.15) == approx(2.257e6).epsilon(2e-3));
  CHECK(heat_of_steam(298.15) == approx(2.442e6).epsilon(5e-3));
  Load load;
  load.stuff = "water", load.mass = 1, load.lid = false;
  const Target pot{"pot", PotTarget{0.2, 0.1}, {}, true};
  const HeatLosses open = heat_losses(absorber_of(pot, load), surroundings_of(load), 353.15);
  load.lid = true;
  const HeatLosses closed = heat_losses(absorber_of(pot, load), surroundings_of(load), 353.15);
  CHECK(closed.steam == 0);
  CHECK(open.convection == closed.convection);
  // By hand: vapour at 80 C weighs 0.2937 kg/m3 saturated, at 20 C half of 0.0173 (steam tables); [incropera], eq. 6.60 with Le 0.85,
  // air at 50 C 1.093 kg/m3 and 1006 J/(kg K); 2.308 MJ/kg of steam.
  Absorber lid_off = absorber_of(pot, load);
  lid_off.faces = {lid_off.faces[1]};
  lid_off.faces[0].wet = true;
  const HeatLosses top = heat_losses(lid_off, surroundings_of(load), 353.15);
  CHECK(top.steam ==
        approx(top.convection / 60 / (1.093 * 1006 * std::pow(0.85, 2.0 / 3)) * (0.2937 - 0.00865) * 2.308e6).epsilon(0.02));
  CHECK(open.steam == approx(top.steam).epsilon(1e-12));
}

TEST_CASE("dry straw smokes within a minute while bare metal stays cool to the hand (common practice, no source)") {
  // 55 F, light wind; a bare-metal dish 48 in wide with a focal length of 24 in: 100 suns at the least on a thin stem.
  Surroundings spring = still_air(12.8);
  spring.wind = 2;
  const double poor_spot = 100 * 850.0;
  const auto time = sheet_time(dry_straw(), spring, poor_spot, 250 + ice);
  REQUIRE(time.has_value());
  CHECK(*time < 60);
  ThinSheet metal;
  metal.absorptance = 1 - 0.88, metal.emittance = 0.05, metal.width = 1.2;
  CHECK(sheet_temperature(metal, spring, 850) - spring.temperature < 20);
  // One sun alone does nothing of the kind, and wind cools.
  CHECK_FALSE(sheet_time(dry_straw(), spring, 850, 250 + ice).has_value());
  Surroundings windy = spring;
  windy.wind = 8;
  CHECK(sheet_temperature(dry_straw(), windy, 20000) < sheet_temperature(dry_straw(), spring, 20000) - 30);
}
