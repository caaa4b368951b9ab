// SPDX-License-Identifier: MIT
// [load] and what [air] and [place] say about it.
#include "scene/load.h"

#include <doctest/doctest.h>

#include "approx.h"
#include "scene/scene_text.h"
#include "scenefile/keys.h"
#include "scenefile/read_scene.h"

using namespace dishwright;
using testing::approx;

namespace {

Scene loaded(const std::string& more, const std::string& sun = "[sun]\nbeam = \"850 W/m2\"\n") {
  return read_scene_text(
      sun +
          "[reflector.dish]\nshape = \"paraboloid\"\nfocal_length = \"24 in\"\nwidth = \"48 in\"\nfinish = "
          "\"aluminised film\"\n[target.kettle]\nshape = \"pot\"\nwidth = \"6 in\"\nheight = \"5 in\"\nat = \"focus of "
          "dish\"\n" +
          more,
      "test.toml", {});
}

std::string text_of(const Scene& scene) {
  SceneText text;
  text.load(*scene.load);
  return text.text();
}

}  // namespace

TEST_CASE("the words of the key table are the rows of stuffs and skins") {
  const auto words = [](const char* key) { return split_words(find_key("load", key, "")->words); };
  REQUIRE(words("stuff").size() == all_stuffs().size());
  for (const std::string& word : words("stuff")) CHECK_MESSAGE(find_stuff(word) != nullptr, word);
  REQUIRE(words("surface").size() == all_skins().size());
  for (const std::string& word : words("surface")) CHECK_MESSAGE(find_skin(word) != nullptr, word);
  for (const std::string& word : words("vessel")) CHECK_MESSAGE((word == "none" || find_stuff(word) != nullptr), word);
  for (const Skin& skin : all_skins()) CHECK_MESSAGE((skin.low <= skin.absorptance && skin.absorptance <= skin.high), skin.name);
}

TEST_CASE("a load with little said") {
  const Load load = *loaded("[load]\nvolume = \"1 L\"\n").load;
  CHECK(load.stuff == "water");
  CHECK(load.mass == approx(0.998).epsilon(1e-9));
  CHECK(load.start == load.air_temperature);
  CHECK(load.wanted == approx(373.15).epsilon(1e-4));
  CHECK(load.lid);
  CHECK_FALSE(load.within.has_value());
  // By hand: side 0.0608, base and lid 0.0365 m2 of steel 0.7 mm thick at 7850 kg/m3.
  CHECK(load.vessel_mass == approx(0.0973 * 0.7e-3 * 7850).epsilon(2e-3));
  CHECK(heat_capacity(load) == approx(0.998 * 4186 + load.vessel_mass * 452).epsilon(1e-9));
}

TEST_CASE("pressure by the altitude, with a time and without; 212 °F is boiling there, too") {
  const std::string place = "[place]\nlatitude = \"40 deg N\"\nlongitude = \"89 deg W\"\naltitude = \"1500 m\"\n";
  const std::string load =
      "[load]\nmass = \"2 lb\"\nwanted = \"212 degF\"\nminutes = 10\n[air]\ntemperature = \"10 degC\"\nwind = \"10 mph\"\n";
  const Scene without = loaded(place + load);
  // OpenStax College Physics 2e: water boils at 95 C at 1500 m.
  CHECK(testing::off(without.load->wanted, 368.15) < 0.5);
  CHECK(*without.load->within == 600);
  CHECK(without.load->wind == approx(4.4704).epsilon(1e-9));
  CHECK(without.load->air_temperature == approx(283.15).epsilon(1e-9));
  const Scene with = loaded(place + load, "[sun]\nbeam = \"850 W/m2\"\ntime = \"2026-06-21T10:30-06:00\"\n");
  CHECK(with.load->wanted == without.load->wanted);
  CHECK(with.outdoors->air.temperature == without.load->air_temperature);
  const Scene weighed = loaded(place + load + "pressure = \"101.325 kPa\"\n");
  CHECK(weighed.load->wanted == approx(373.15).epsilon(1e-4));
  CHECK(text_of(weighed) != text_of(without));
  CHECK(text_of(without) == text_of(loaded(place + load)));
}

TEST_CASE("own readings stand for a row of skins") {
  const Load load = *loaded("[load]\nvolume = \"1 L\"\nabsorptance = 0.9\n").load;
  CHECK(load.absorptance == 0.9);
  CHECK(load.absorptance_low == approx(0.88).epsilon(1e-9));
  CHECK(load.absorptance_high == approx(0.92).epsilon(1e-9));
  CHECK(load.emittance == find_skin("flat black paint")->emittance);
  CHECK_FALSE(loaded("").load.has_value());
}
