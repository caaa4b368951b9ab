// SPDX-License-Identifier: MIT
// What light is printed in: sun, lamp in watts, lamp in lumens.
#include "report/numbers/light_units.h"

#include <doctest/doctest.h>

#include "figures_sample.h"

using namespace dishwright;

TEST_CASE("sunlight in kW/m² and suns; a lamp's in W/m² or lux, never in suns") {
  Scene scene = sample::kettle_scene();
  const Estimate light{52340, 870, "W/m2"};
  CHECK(irradiance_text(light, light_units(scene)) == "52.3 ± 0.9 kW/m²");
  CHECK(light_units(scene).suns);
  CHECK(light_units(scene).quantity == "irradiance");
  scene.lamp = Lamp{};
  CHECK(irradiance_text(light, light_units(scene)) == "52300 ± 900 W/m²");
  CHECK(!light_units(scene).suns);
  CHECK(light_units(scene).power == "W");
  scene.lamp->in_lumens = true;
  CHECK(irradiance_text({75.24, 0.43, "lm/m2"}, light_units(scene)) == "75.2 ± 0.4 lux");
  CHECK(irradiance_text({0, std::nullopt, "lm/m2"}, light_units(scene)) == "0 lux");
  CHECK(light_units(scene).power == "lm");
  CHECK(light_units(scene).quantity == "illuminance");
  CHECK(!light_units(scene).suns);
}
