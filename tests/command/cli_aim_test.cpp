// SPDX-License-Identifier: MIT
// `dishwright aim` as a user runs it; the printed card measured back through poppler.
#include <doctest/doctest.h>

#include <cmath>
#include <sstream>
#include <string>

#include "refused.h"
#include "shell.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

const std::string yard = "\"$SCENES/kettle-yard.toml\" ";

json aimed(const Shell& shell, const std::string& options) {
  const Ran ran = shell.run("\"$DW\" aim " + yard + "--json " + options);
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  return json::parse(ran.out);
}

double value(const json& quantity) { return quantity.at("value").get<double>(); }

/// Whether some row of a grey picture (PGM, 10 dots a mm) has a dark stretch of `millimetres`, to 0.2 mm.
bool has_bar(const std::string& pgm, double millimetres) {
  std::istringstream in(pgm);
  std::string magic;
  std::size_t width = 0, height = 0, most = 0;
  in >> magic >> width >> height >> most;
  in.get();
  const std::size_t start = static_cast<std::size_t>(in.tellg());
  for (std::size_t y = 0; y < height; ++y) {
    std::size_t run = 0;
    for (std::size_t x = 0; x <= width; ++x) {
      const bool dark = x < width && static_cast<unsigned char>(pgm[start + y * width + x]) < 128;
      if (dark) {
        ++run;
      } else {
        if (std::abs(static_cast<double>(run) / 10 - millimetres) <= 0.2) return true;
        run = 0;
      }
    }
  }
  return false;
}

}  // namespace

TEST_CASE("aim: JSON has the sun, the mirror, the time until re-aim, the day, the year and the table" *
          doctest::test_suite("slow")) {
  const Shell shell;
  const json all = aimed(shell, "");
  // An independent almanac (PyEphem 4.1.4), 2026-06-21 15:30 UTC, 40.5 N 89.2 W: 54.52 deg up, azimuth 107.28 deg, without air.
  CHECK(std::abs(value(all["sun"]["elevation"]) * 180 / 3.14159265 - 54.518) < 0.01);
  CHECK(std::abs(value(all["sun"]["azimuth"]) * 180 / 3.14159265 - 107.280) < 0.01);
  CHECK(value(all["sun"]["apparent_elevation"]) > value(all["sun"]["elevation"]));
  CHECK(std::abs(value(all["mirror"]["elevation"]) - value(all["sun"]["apparent_elevation"])) < 1e-12);
  CHECK(std::abs(value(all["mirror"]["compass_azimuth"]) - value(all["mirror"]["azimuth"]) - 3 * 3.14159265 / 180) < 1e-6);
  CHECK(value(all["re_aim"]) > 60);
  CHECK(value(all["aim_ahead"]) > 1.7 * value(all["re_aim"]));
  CHECK(all["table"].size() == 6);
  CHECK(all["months"].size() == 12);
  CHECK(all["day"]["polar"].is_null());
  const json day = aimed(shell,
                         "--parked 'face up' --from 2026-06-21T08:00-05:00 --to 2026-06-21T18:00-05:00 --every '30 min' --at "
                         "2026-06-21T12:00-05:00");
  CHECK(day["table"].size() == 21);
  CHECK(day["table"][1]["time"] == "2026-06-21T08:30-05:00");
  // Left face up: west of the vertex while the sun is in the east, over it and north of it about noon, and fire the whole day long.
  CHECK_FALSE(all.contains("burn_track"));
  REQUIRE(day["burn_track"].size() > 50);
  const auto at = [&](const char* clock) {
    for (const json& step : day["burn_track"])
      if (step["time"] == std::string("2026-06-21T") + clock + "-05:00") return step;
    return json();
  };
  const json morning = at("09:00"), noon = at("13:00");
  CHECK(value(morning["place"][0]) < -0.3);
  CHECK(std::abs(value(noon["place"][0])) < 0.05);
  CHECK(value(noon["place"][1]) > 0.1);
  CHECK(value(noon["irradiance"]) > value(morning["irradiance"]));
  CHECK(value(morning["irradiance"]) > 2e4);
  // Most of the share is kept just until then: a trace of the same dish at that time says so.
  const json now = json::parse(shell.run("\"$DW\" trace " + yard + "--json").out);
  const Ran late =
      shell.run("\"$DW\" trace " + yard + "--json --set mount.aimed=2026-06-21T10:30-05:00 --set sun.time=2026-06-21T10:" +
                std::to_string(30 + static_cast<int>(value(all["re_aim"]) / 60)) + "-05:00");
  REQUIRE(late.code == 0);
  const double left =
      value(json::parse(late.out)["targets"]["kettle"]["intercept"]) / value(now["targets"]["kettle"]["intercept"]);
  CHECK(left > 0.89);
  CHECK(left < 0.96);
}

TEST_CASE("aim: the card is true to size") {
  const Shell shell;
  REQUIRE(shell.run("\"$DW\" aim " + yard + "--out o").code == 0);
  for (const char* file : {"o/aim-card.pdf", "o/aim.csv", "o/aim.json"}) CHECK(shell.files().count(file) == 1);
  const std::string picture = shell.run("pdftoppm -r 254 -gray -f 1 -l 1 o/aim-card.pdf").out;
  CHECK(has_bar(picture, 152.4));
  CHECK(has_bar(picture, 150));
  CHECK_FALSE(has_bar(picture, 151.2));  // nothing else on the sheet is that long
}

TEST_CASE("aim: what it refuses, and polar night in words") {
  const Shell shell;
  check_refused(shell, "aim " + yard + "--at 10:30", "--at 10:30: this is not a time");
  check_refused(shell, "aim " + yard + "--at 2026-06-21T10:30", "has no offset from UTC");
  check_refused(shell, "aim " + yard + "--to 2026-06-21T08:00-05:00", "--to is before --from");
  check_refused(shell, "aim " + yard + "--every '0 min'", "out of range");
  check_refused(shell, "aim " + yard + "--at 2026-06-21T23:00-05:00", "the sun is below the horizon then");
  check_refused(shell, "aim " + yard + "--set 'place.latitude=80 deg N' --at 2026-12-21T12:00-05:00", "polar night");
  check_refused(shell, "aim \"$SCENES/kettle-dish.toml\"", "aim needs a time and a place");
  check_refused(shell, "aim " + yard + "--parked sideways", "there is no such way to leave a dish");
  check_refused(shell, "aim " + yard + "--parked '95 deg,0 deg'", "out of range");
  check_refused(shell, "aim " + yard + "--wall '4 ft'", "--parked");
  check_refused(shell, "aim \"$SCENES/yard-lamp.toml\"", "aim needs sunlight");
  check_refused(shell, "aim \"$SCENES/bird-song-dish.toml\"", "aim needs sunlight");
  const Ran polar = shell.run("\"$DW\" aim " + yard + "--set 'place.latitude=80 deg N' --out o");
  CHECK(polar.code == 0);
  CHECK(polar.out.find("Polar day: the sun does not set.") != std::string::npos);
}
