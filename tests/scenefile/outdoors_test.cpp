// SPDX-License-Identifier: MIT
// sun.time, [place] and [mount] of a file, and times that vary.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "approx.h"
#include "base/error.h"
#include "scenefile/read_scene.h"
#include "scenefile/vary.h"

using namespace dishwright;
using dishwright::testing::off;

namespace {

constexpr double degree = std::numbers::pi / 180;
const std::string mirror_and_pot = R"([reflector.dish]
shape = "paraboloid"
focal_length = "24 in"
width = "48 in"
reflectance = 0.9
[target.kettle]
shape = "pot"
width = "6 in"
height = "5 in"
at = "focus of dish"
)";
const std::string yard_file =
    "[sun]\nbeam = \"clear sky\"\ntime = \"2026-06-21T10:30-05:00\"\n[place]\nlatitude = \"40.5 deg N\"\n"
    "longitude = \"89 deg 12' W\"\n" +
    mirror_and_pot;

Scene yard(const std::vector<std::string>& set = {}, const std::string& text = yard_file) {
  ReadOptions options;
  options.set = set;
  return read_scene_text(text, "yard.toml", options);
}

std::string refusal(const std::vector<std::string>& set) {
  try {
    yard(set);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("place and time are read as people write them") {
  const Scene scene = yard();
  REQUIRE(scene.outdoors);
  CHECK(off(scene.outdoors->site.latitude / degree, 40.5) < 1e-9);
  CHECK(off(scene.outdoors->site.longitude / degree, -89.2) < 1e-9);
  CHECK(scene.sun.aim_error == 0);
  CHECK(scene.sun.beam > 700);
  CHECK(scene.sun.beam < 1000);
  // TOML's own time, and signs for letters.
  const Scene other =
      yard({"place.latitude=40.5 deg", "place.longitude=-89.2 deg"},
           "[sun]\ntime = 2026-06-21T10:30:00-05:00\n[place]\nlatitude = \"1 deg\"\nlongitude = \"1 deg\"\n" + mirror_and_pot);
  REQUIRE(other.outdoors);
  CHECK(other.outdoors->time.seconds == scene.outdoors->time.seconds);
  CHECK(off(other.outdoors->sun.azimuth, scene.outdoors->sun.azimuth) < 1e-12);
  CHECK(other.sun.beam == 1000);
  const Scene south = yard({"place.latitude=30 deg S", "place.longitude=150 deg E", "sun.time=2026-06-21T12:00+10:00"});
  CHECK(std::cos(south.outdoors->sun.azimuth) > 0.9);  // the noon sun is in the north there
  CHECK(refusal({"place.latitude=-30 deg S"}).find("has a sign and a letter") != std::string::npos);
}

TEST_CASE("a mount that was aimed earlier, a parked one, and pressure by altitude") {
  const Scene left = yard({"mount.aimed=2026-06-21T10:00-05:00"});
  REQUIRE(left.outdoors->aimed_at);
  CHECK(left.sun.aim_error / degree > 5);
  CHECK(left.sun.aim_error / degree < 7.5);  // 15 deg an hour times the cosine of the declination: 6.9
  CHECK(
      refusal({"mount.elevation=90 deg", "mount.azimuth=0 deg", "mount.aimed=2026-06-21T10:00-05:00"}).find("does not go with") !=
      std::string::npos);
  CHECK(refusal({"mount.elevation=20 deg", "mount.azimuth=270 deg"}).find("stands behind the mirror") != std::string::npos);
  CHECK(off(yard({"place.altitude=1000 m"}).outdoors->air.pressure, 89875) < 5);
  CHECK(yard({"air.pressure=90 kPa"}).outdoors->air.pressure == 90000);
}

TEST_CASE("times vary from one to another, whatever colons are in them") {
  const ProjectFile file(yard_file, "yard.toml");
  const auto found = read_variations(file, {}, {"sun.time=2026-06-21T10:00-05:00:2026-06-21T12:00:00-05:00:13"});
  REQUIRE(found.size() == 1);
  REQUIRE(found[0].values.size() == 13);
  CHECK(found[0].values.front() == 36000);
  CHECK(found[0].values.back() == 43200);
  CHECK(found[0].set[1] == "sun.time=2026-06-21T10:10-05:00");
  CHECK(found[0].own.value_or(0) == 37800);
  ReadOptions at;
  at.set = {found[0].set[12]};
  CHECK(file.scene(at).outdoors->time.seconds == yard().outdoors->time.seconds + 5400);
  CHECK_THROWS_WITH_AS(read_variations(file, {}, {"sun.time=2026-06-21T10:00:2026-06-21T12:00-05:00:13"}),
                       doctest::Contains("has no offset from UTC"), InputError);
  CHECK_THROWS_AS(read_variations(file, {}, {"sun.time=10:00:12:00:13"}), InputError);
}
