// SPDX-License-Identifier: MIT
// [lamp] becomes a lamp in SI; what it may stand beside.
#include <doctest/doctest.h>

#include "approx.h"
#include "base/error.h"
#include "scenefile/read_scene.h"

using namespace dishwright;

namespace {

constexpr double inch = 0.0254;

const std::string yard = R"([lamp]
shape = "ball"
width = "2 in"
at = "focus of dish"
light = "800 lm"
[reflector.dish]
shape = "paraboloid"
focal_length = "24 in"
width = "48 in"
finish = "aluminised film"
[target.wall]
shape = "disk"
width = "12 ft"
at = ["0 ft", "0 ft", "25 ft"]
)";

Scene read(const std::string& text, const std::vector<std::string>& set = {}, const std::string& as = "") {
  return read_scene_text(text, "test.toml", {set, as});
}

}  // namespace

TEST_CASE("a lamp in lumens and in watts") {
  const Scene scene = read(yard);
  REQUIRE(scene.lamp);
  CHECK(std::get<BallLamp>(scene.lamp->shape).width == testing::approx(2 * inch));
  CHECK(scene.lamp->power == 800);
  CHECK(scene.lamp->in_lumens);
  CHECK((scene.lamp->pose.at - Vector3(0, 0, 24 * inch)).norm() < 1e-12);
  CHECK(power_unit(scene) == "lm");
  std::string watts = yard;
  watts.replace(watts.find("light = \"800 lm\""), 16, "power = \"0.06 kW\"");
  CHECK(read(watts).lamp->power == testing::approx(60));
  CHECK(power_unit(read(watts)) == "W");
  CHECK(read(yard, {"lamp.light=1.2 klm"}).lamp->power == testing::approx(1200));
}

TEST_CASE("disk and line; offset and turn in the reflector's axes") {
  CHECK(std::get<DiskLamp>(read(yard, {"lamp.shape=disk"}).lamp->shape).width == testing::approx(2 * inch));
  std::string line = yard;
  line.replace(line.find("shape = \"ball\"\nwidth"), 20, "shape = \"line\"\nlength");
  CHECK(std::get<LineLamp>(read(line).lamp->shape).length == testing::approx(2 * inch));
  // A quarter turn about y takes z to x and x to −z.
  const Scene turned = read(
      yard, {"reflector.dish.turn=[0 deg, 90 deg, 0 deg]", "lamp.offset=[1 in, 2 in, 3 in]", "lamp.turn=[0 deg, 0 deg, 90 deg]"});
  CHECK((turned.lamp->pose.at - inch * Vector3(27, 2, -1)).norm() < 1e-12);
  CHECK((turned.lamp->pose.turn * Vector3(1, 0, 0) - Vector3(0, 1, 0)).norm() < 1e-12);
  const Scene placed = read(yard, {"lamp.at=[1 in, 2 in, 3 in]"});
  CHECK((placed.lamp->pose.at - inch * Vector3(1, 2, 3)).norm() < 1e-12);
}

TEST_CASE("lamp and sound need --as; lamp and sun cannot stand together") {
  const std::string both = yard + "[sound]\nfrequency = \"2 kHz\"\n";
  CHECK_THROWS_AS(read(both), InputError);
  const Scene scene = read(both, {}, "light");
  CHECK(scene.lamp);
  REQUIRE(!scene.notes.empty());
  CHECK(scene.notes.front() == "[sound] is not read: the light of [lamp] is traced");
  CHECK_THROWS_AS(read(yard + "[sun]\n"), InputError);
  CHECK_THROWS_AS(read(yard + "[sun]\n", {}, "light"), InputError);
  CHECK_THROWS_AS(read(yard, {"sun.beam=800 W/m2"}), InputError);
}
