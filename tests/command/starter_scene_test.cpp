// SPDX-License-Identifier: MIT
#include "command/starter_scene.h"

#include <doctest/doctest.h>

#include <cmath>
#include <regex>

#include "approx.h"
#include "command/refused.h"
#include "scenefile/read_scene.h"

using namespace dishwright;
using namespace dishwright::testing;
using nlohmann::json;

namespace {

constexpr double pi = 3.14159265358979323846, inch = 0.0254;

/// `new --like KIND` and then the command that it suggests, for its figures.
json figures_like(const Shell& shell, const std::string& kind) {
  const Ran made = shell.run("\"$DW\" new my-" + kind + ".toml --like " + kind);
  REQUIRE_MESSAGE(made.code == 0, made.err);
  CHECK(holds(made.out, "Wrote my-" + kind + ".toml"));
  const bool wave = kind == "sound" || kind == "radio";
  const Ran ran = shell.run(made.out.substr(made.out.find("\n  ") + 3, made.out.rfind('\n') - made.out.find("\n  ") - 3) +
                            " --json" + (wave ? "" : " --set trace.paths=100000"));
  REQUIRE_MESSAGE(ran.code == 0, ran.err);
  return json::parse(ran.out);
}

double value(const json& quantity) { return quantity.at("value").get<double>(); }

}  // namespace

TEST_CASE("the starter file reads without error, whatever its name") {
  for (const std::string& name :
       std::vector<std::string>{"Kettle dish", "Sam's \"big\" dish", "back\\slash", "tab\tand\nline", "Schüssel", "caf\xE9",
                                "a\xC2\x9B"
                                "b\xE2\x80\xAE",
                                std::string(255, 'x'), std::string(127, '"')}) {
    CAPTURE(name);
    const Scene scene = read_scene_text(starter_scene(name), "starter.toml", {});
    REQUIRE(scene.reflectors.size() == 1);
    CHECK(scene.targets.size() == 1);
    CHECK(scene.reflectors[0].reflectance == 0.86);
  }
  CHECK(read_scene_text(starter_scene("Sam's \"big\" dish"), "starter.toml", {}).title == "Sam's \"big\" dish");
}

TEST_CASE("the lines that are commented out in the starter file work too") {
  std::string text = starter_scene("Dish");
  for (const std::string key : {"aim_direction", "hole_width", "offset"}) {
    const std::size_t at = text.find("# " + key);
    REQUIRE(at != std::string::npos);
    text.erase(at, 2);
  }
  CHECK(read_scene_text(text, "starter.toml", {}).targets[0].pose.at.z() == testing::approx(25 * 0.0254));
}

TEST_CASE("starters of sunlight catch more than 90 % of the mirror's light; what meets them is beam x opening") {
  const Shell shell;
  for (const char* kind : {"dish", "petals", "tiles", "trough", "profile"}) {
    CAPTURE(kind);
    const json figures = figures_like(shell, kind);
    CHECK(figures["targets"].size() == 1);
    CHECK(value(figures["targets"].front()["intercept"]) > 0.9);
    const double power = value(figures["aperture_power"]);
    // By hand: a rim's plan times the cosine of the aim error. The curves reach 24 in; petals are cut on a circle.
    const double dish = 850 * pi / 4 * 48 * 48 * inch * inch * std::cos(0.5 * pi / 180);
    const double trough = 850 * 36 * 60 * inch * inch * std::cos(0.3 * pi / 180);
    if (std::string(kind) == "trough") CHECK(power == testing::approx(trough).epsilon(1e-6));
    if (std::string(kind) != "trough" && std::string(kind) != "tiles") CHECK(power == testing::approx(dish).epsilon(1e-3));
    // Tiles of 2 in with gaps of 1/8 in: (2 / 2 1/8)^2 of the 40 in disc, as near as whole tiles can be (5 %).
    const double tiles = 850 * pi / 4 * 40 * 40 * inch * inch * (2 / 2.125) * (2 / 2.125);
    if (std::string(kind) == "tiles") CHECK(power == testing::approx(tiles).epsilon(0.05));
  }
}

TEST_CASE("the starter of a lamp: the dish meets (1 - cos of the rim angle) / 2 of its light") {
  const Shell shell;
  const json figures = figures_like(shell, "lamp");
  // tan(rim angle / 2) = 36 in / (4 x 12 in) = 3/4, so its cosine is 7/25 and the share 9/25; the skin sends back 0.86.
  CHECK(value(figures["caught_share"]) == testing::approx(0.36).epsilon(2e-3));
  CHECK(value(figures["targets"]["wall"]["power"]) == testing::approx(800 * 0.36 * 0.86).epsilon(3e-3));
  CHECK(value(figures["targets"]["wall"]["intercept"]) > 0.9);
}

TEST_CASE("the starter of sound: the mirror alone gives 20 log10(4 pi f / wavelength x ln(1 + depth / f))") {
  const Shell shell;
  const json figures = figures_like(shell, "sound");
  // f = depth = 8 in; sound of 2 kHz in air of 20 °C: 343.2 m/s (from memory). The integral of docs/waves.md, by hand.
  const double wavelength = 343.2 / 2000, gain = 20 * std::log10(4 * pi * 8 * inch / wavelength * std::log(2));
  const double found = value(figures["targets"]["microphone"]["reflected_gain"][2]);  // 500 Hz, 1 kHz, 2 kHz
  CHECK(std::abs(found - gain) < 0.1);  // dB; a focus off by 1/8 in would cost as much
}

TEST_CASE("the starter of radio: gain = efficiency x (pi width / wavelength)^2, and a good part of it") {
  const Shell shell;
  const json figures = figures_like(shell, "radio");
  const json& feed = figures["targets"]["feed"];
  const double wavelength = 299'792'458 / 1420e6, efficiency = value(feed["aperture_efficiency"]);
  CHECK(efficiency > 0.7);
  CHECK(efficiency < 0.83);  // a feed with -10 dB at the rim: spillover x taper about 0.82 at best (common practice, no source)
  CHECK(std::abs(value(feed["gain"]) - 10 * std::log10(efficiency * std::pow(pi * 96 * inch / wavelength, 2))) < 0.01);
}

TEST_CASE("what each starter has commented out works, one line after the other") {
  const Shell shell;
  int lines = 0;
  for (const std::string& kind : starter_kinds()) {
    const Starter starter = starter_like(kind, "my " + kind, "dishwright trace FILE");
    if (!starter.table.empty()) shell.write(starter.table_name, starter.table);
    const std::regex commented("\n# ([a-z_]+ = )");
    for (std::sregex_iterator at(starter.scene.begin(), starter.scene.end(), commented), end; at != end; ++at) {
      std::string text = starter.scene;
      text.erase(static_cast<std::size_t>(at->position()) + 1, 2);
      shell.write("s.toml", text);
      CHECK_NOTHROW(read_scene(shell.here() / "s.toml", {}));
      ++lines;
    }
    for (std::size_t from = 0, to = 0; to != std::string::npos; from = to + 1) {
      to = starter.scene.find('\n', from);
      CHECK_MESSAGE(starter.scene.substr(from, to - from).size() <= 130, starter.scene.substr(from, to - from));
    }
  }
  CHECK(lines == 17);
}

TEST_CASE("new --like: an unknown kind lists them all; neither file is written over") {
  const Shell shell;
  check_refused(shell, "new a.toml --like gong", "dish, petals, tiles, trough, sound, radio, lamp and profile");
  CHECK(shell.run("\"$DW\" new a.toml --like profile").code == 0);
  CHECK(shell.files() == std::set<std::string>{"a-profile.csv", "a.toml"});
  CHECK(shell.run("rm a.toml; echo mine > a-profile.csv").code == 0);
  check_refused(shell, "new a.toml --like profile", "a-profile.csv is there already");
  CHECK(file_content(shell.here() / "a-profile.csv") == "mine\n");
  const Ran both = shell.run("mkdir sub; \"$DW\" new 'sub/my dish.toml' --like profile --json");
  CHECK(json::parse(both.out) == json{{"written", "sub/my dish.toml"}, {"table", "sub/my_dish-profile.csv"}});
  CHECK(shell.run("\"$DW\" trace 'sub/my dish.toml' --json --set trace.paths=2000").code == 0);
}
