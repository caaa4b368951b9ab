// SPDX-License-Identifier: MIT
// `compare` of sound and radio as a user runs it.
#include <doctest/doctest.h>

#include <cmath>

#include "approx.h"
#include "command/refused.h"
#include "command/shell.h"
#include "command/wave_files.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

const std::string even_feed = "frequency = \"3 GHz\"\nfeed = { kind = \"cosine\", power = 2 }";

json compared(const Shell& shell, const std::string& arguments) {
  const Ran ran = shell.run("\"$DW\" compare " + arguments + " --json");
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  return json::parse(ran.out);
}

}  // namespace

TEST_CASE("compare of sound: the figures are those of traces, the differences theirs, a sphere loses most at the high pitch" *
          doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("ear.toml", sound_dish("frequency = [\"500 Hz\", \"4 kHz\"]"));
  const Ran text = shell.run("\"$DW\" compare ear.toml --shape paraboloid,sphere --out c");
  CAPTURE(text.err);
  REQUIRE(text.code == 0);
  const json all = json::parse(file_content(shell.here() / "c/compare.json"));
  REQUIRE(all["scenes"].size() == 2);
  const json traced = json::parse(shell.run("\"$DW\" trace ear.toml --json").out)["targets"]["microphone"];
  const json &first = all["scenes"][0]["targets"]["microphone"], &second = all["scenes"][1]["targets"]["microphone"];
  CHECK(first["gain"] == traced["gain"]);
  CHECK(first["half_power_width"] == traced["half_power_width"]);
  std::size_t gains = 0;
  for (const json& one : all["differences"]) {
    if (one["figure"] != "gain") continue;
    const std::size_t k = one["frequency"]["value"] == 500 ? 0 : 1;
    const double difference = second["gain"][k]["value"].get<double>() - first["gain"][k]["value"].get<double>();
    CHECK(one["difference"]["value"].get<double>() == dishwright::testing::approx(difference));
    CHECK(one["difference"]["unit"] == "dB");
    CHECK(one["seen"] == (std::abs(difference) >= 0.5));
    ++gains;
  }
  CHECK(gains == 2);
  CHECK(holds(all["verdict"].get<std::string>(), "At 4 kHz the paraboloid gains most"));
  for (const char* part : {"4 kHz", "to the first", "Verdict", "CAUTION"}) CHECK(holds(text.out, part));
  for (const char* file : {"c/compare.json", "c/compare.csv", "c/maps.png", "c/gain.png", "c/gain.svg"})
    CHECK(shell.files().count(file) == 1);
}

TEST_CASE("compare of radio: two dishes alike are no different; threads change no digit") {
  const Shell shell;
  shell.write("a.toml", "title = \"a\"\n" + radio_dish(even_feed, "1 m", "2 m"));
  shell.write("b.toml", "title = \"b\"\n" + radio_dish(even_feed, "1.01 m", "2 m"));
  const json all = compared(shell, "a.toml b.toml");
  CHECK(holds(all["verdict"].get<std::string>(), "no difference that the method can see"));
  CHECK(all == compared(shell, "a.toml b.toml --threads 1"));
  const Ran text = shell.run("\"$DW\" compare a.toml b.toml --out c");
  REQUIRE(text.code == 0);
  CHECK(shell.files().count("c/pattern.svg") == 1);
  CHECK(holds(file_content(shell.here() / "c/compare.csv"), "aperture_efficiency [%]"));
}

TEST_CASE("compare refuses sound beside radio or light, other frequencies, and the best place of waves") {
  const Shell shell;
  shell.write("radio.toml", radio_dish(even_feed, "1 m", "2 m"));
  shell.write("other.toml", radio_dish("frequency = \"4 GHz\"", "1 m", "2 m"));
  shell.write("ear.toml", sound_dish("frequency = \"2 kHz\""));
  check_refused(shell, "compare radio.toml ear.toml", "not of one kind");
  check_refused(shell, "compare radio.toml other.toml", "other frequencies");
  check_refused(shell, "compare ear.toml --shape paraboloid,cone --best-position", "for light");
}
