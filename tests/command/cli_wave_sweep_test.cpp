// SPDX-License-Identifier: MIT
// `sweep` of sound and radio as a user runs it. Truth: closed forms of physical optics.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "command/refused.h"
#include "command/shell.h"
#include "command/wave_files.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

constexpr double pi = std::numbers::pi;

json swept(const Shell& shell, const std::string& file, const std::string& options) {
  const Ran ran = shell.run("\"$DW\" sweep " + file + " --json " + options);
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  return json::parse(ran.out);
}

double figure(const json& point, const std::string& name) { return point["figures"][name]["value"].get<double>(); }

}  // namespace

TEST_CASE("sweep of sound: gain by the mirror alone rises as the closed form says; a point is the trace with its value") {
  const Shell shell;
  shell.write("ear.toml", sound_dish("frequency = [\"1 kHz\", \"2 kHz\"]\nspeed = \"343 m/s\""));
  const json all = swept(shell, "ear.toml", "--vary 'sound.frequency=1 kHz:5 kHz:5'");
  CHECK(all["source"] == "sound");
  REQUIRE(all["points"].size() == 5);
  for (const json& point : all["points"]) {
    // All ways by a paraboloid to its focus are equal: 4π f ln(1 + depth/f)/λ with f = depth = 6 in.
    const double wavelength = 343 / point["at"][0]["value"].get<double>();
    CHECK(figure(point, "reflected_gain") ==
          dishwright::testing::approx(20 * std::log10(4 * pi * 0.1524 * std::log(2.0) / wavelength)).epsilon(1e-4));
    CHECK(point["method"] == "waves");
  }
  const Ran one = shell.run("\"$DW\" trace ear.toml --json --set 'sound.frequency=3 kHz'");
  const json target = json::parse(one.out)["targets"]["microphone"];
  for (const char* name : {"gain", "reflected_gain", "half_power_width", "side_lobe"})
    CHECK(target[name] == all["points"][2]["figures"][name]);
  CHECK(swept(shell, "ear.toml", "--vary 'sound.frequency=1 kHz:5 kHz:5' --threads 1") ==
        swept(shell, "ear.toml", "--vary 'sound.frequency=1 kHz:5 kHz:5' --threads 3"));
}

TEST_CASE("sweep of radio: the phase factor falls as sinc² with the feed out of focus; pictures of one key and of two") {
  const Shell shell;
  shell.write("feed.toml", radio_dish("frequency = \"10 GHz\"\nfeed = { kind = \"cosine\", power = 0 }", "4 m", "2 m"));
  const json all = swept(shell, "feed.toml", "--vary 'target.feed.offset.z=0 mm:200 mm:3' --figure phase");
  // Shifted by δ the way to the middle grows by δ and the way to the rim by less: a phase that grows as r², so sinc² of half of
  // the difference (an even round aperture; the feed's 1/R differs by 2 %).
  const double f = 4, radius = 1, wavelength = 299792458 / 10e9, rim_depth = radius * radius / (4 * f);
  for (const json& point : all["points"]) {
    const double shift = point["at"][0]["value"], to_rim = std::hypot(radius, f - rim_depth);
    const double half = pi / wavelength * (shift - (std::hypot(radius, f + shift - rim_depth) - to_rim));
    CHECK(figure(point, "phase") ==
          dishwright::testing::approx(half > 0 ? std::pow(std::sin(half) / half, 2) : 1).epsilon(0.004));
  }
  const Ran grid = shell.run(
      "\"$DW\" sweep feed.toml --vary 'target.feed.offset.z=0 mm:60 mm:2' --vary 'radio.aim_error=0 deg:1 deg:2' --out g "
      "--figure gain --figure side_lobe --verbose");
  CAPTURE(grid.err);
  REQUIRE(grid.code == 0);
  for (const char* file : {"g/sweep.json", "g/sweep.csv", "g/sweep-gain.png", "g/sweep-gain.svg", "g/sweep-side_lobe.svg"})
    CHECK(shell.files().count(file) == 1);
  CHECK(holds(file_content(shell.here() / "g/sweep.csv"), "gain [dBi],aperture_efficiency [%]"));
  CHECK(holds(grid.out, "wave integral"));
  CHECK(holds(grid.out, "receive only") == false);  // the long words stand on the screen
  CHECK(holds(grid.out, "Receive only"));
}

TEST_CASE("sweep of sound and radio refuses figures of light, lists of frequencies and methods") {
  const Shell shell;
  shell.write("ear.toml", sound_dish("frequency = [\"1 kHz\", \"2 kHz\"]"));
  const std::string vary = " --vary 'target.microphone.offset.z=0 in:1 in:3'";
  check_refused(shell, "sweep ear.toml" + vary, "--set sound.frequency='2 kHz'");
  check_refused(shell, "sweep ear.toml --set 'sound.frequency=2 kHz' --figure intercept" + vary, "sound has no such figure");
  check_refused(shell, "sweep ear.toml --set 'sound.frequency=2 kHz' --figure taper" + vary, "half_power_width");
  check_refused(shell, "sweep ear.toml --set 'sound.frequency=2 kHz' --method rays" + vary, "is for light");
  check_refused(shell, "sweep ear.toml" + vary + " --vary 'target.microphone.offset.x=0 in:1 in:3'", "stand in one list");
}
