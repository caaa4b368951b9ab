// SPDX-License-Identifier: MIT
// `dishwright compare` as a user runs it.
#include <doctest/doctest.h>

#include <cmath>

#include "approx.h"
#include "command/hot_plate.h"
#include "command/refused.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

const std::string shapes = "\"$DW\" compare plate.toml --shape paraboloid,sphere,'arc trough' ";

}  // namespace

TEST_CASE("compare --json prints scenes, differences and a verdict, and writes nothing") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("2 in"));
  const Ran ran = shell.run(shapes + "--json");
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  CHECK(ran.err.empty());
  CHECK(shell.files() == std::set<std::string>{"plate.toml"});
  const json all = json::parse(ran.out);
  REQUIRE(all["scenes"].size() == 3);
  CHECK(all["scenes"][2]["scene"] == "arc trough");
  for (const json& scene : all["scenes"]) {
    CHECK(scene["seed"] == 3);
    CHECK(scene["paths"] == 40000);
    CHECK(scene["targets"]["plate"]["intercept"]["value"].is_number());
  }
  std::set<std::string> figures;
  for (const json& entry : all["differences"]) {
    figures.insert(entry["figure"].get<std::string>());
    const auto of = [&](const json& name) {
      for (const json& scene : all["scenes"]) {
        if (scene["scene"] == name) return scene["targets"]["plate"][entry["figure"].get<std::string>()]["value"].get<double>();
      }
      return std::nan("");
    };
    CHECK(entry["difference"]["value"].get<double>() == of(entry["a"]) - of(entry["b"]));
    CHECK(entry["difference"]["std_error"].get<double>() >= 0);
  }
  CHECK(all["differences"].size() == 3 * figures.size());
  CHECK(figures.count("intercept") == 1);
  CHECK(figures.count("power") == 1);
  CHECK(holds(all["verdict"].get<std::string>(), "The paraboloid catches the most"));
  // The first shape is the file's own: its figures are those of trace.
  const json alone = json::parse(shell.run("\"$DW\" trace plate.toml --json").out);
  CHECK(all["scenes"][0]["targets"] == alone["targets"]);
}

TEST_CASE("compare writes its six files, whole, and says so") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("2 in"));
  const Ran ran = shell.run(shapes);
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  const std::string folder = "out/plate-compare/";
  CHECK(shell.files() == std::set<std::string>{"plate.toml", "out/", folder, folder + "compare.csv", folder + "compare.json",
                                               folder + "maps-each.png", folder + "maps.png", folder + "share.png",
                                               folder + "share.svg"});
  CHECK(file_content(shell.here() / (folder + "maps.png")).substr(0, 8) == "\x89PNG\r\n\x1a\n");
  CHECK(holds(file_content(shell.here() / (folder + "share.svg")), "</svg>"));
  CHECK(file_content(shell.here() / (folder + "compare.json")) == shell.run(shapes + "--json").out);
  CHECK(holds(ran.out, "Verdict"));
  CHECK(holds(ran.out, "share.svg"));
  CHECK(holds(ran.out, "Local code"));
}

TEST_CASE("pots have a chart of light by width, too; a pot beside a plate has none, and the words say why") {
  const Shell shell;
  const Ran ran =
      shell.run("\"$DW\" compare \"$SCENES/kettle-dish.toml\" \"$SCENES/kettle-bowl.toml\" --set trace.paths=20000 --out d");
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  CHECK(shell.files() == std::set<std::string>{"d/", "d/compare.csv", "d/compare.json", "d/maps-each.png", "d/maps.png",
                                               "d/share.png", "d/share.svg"});
  CHECK(holds(ran.out, "needs a pot this wide"));
  CHECK(holds(ran.out, "Kettle bowl"));
  shell.write("plate.toml", hot_plate("2 in"));
  const Ran mixed = shell.run("\"$DW\" compare \"$SCENES/kettle-dish.toml\" plate.toml --set trace.paths=20000 --out m");
  CAPTURE(mixed.err);
  REQUIRE(mixed.code == 0);
  CHECK(holds(mixed.out, "No chart of light by width"));
}

TEST_CASE("the bytes do not depend on the number of threads; equal titles get numbers" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("plate.toml", hot_plate("2 in"));
  const std::string command = "\"$DW\" compare plate.toml plate.toml plate.toml --json --best-position --threads ";
  const Ran one = shell.run(command + "1"), three = shell.run(command + "3");
  REQUIRE(one.code == 0);
  CHECK(one.out == three.out);
  const json all = json::parse(one.out);
  CHECK(all["scenes"][0]["scene"] == "Hot plate");
  CHECK(all["scenes"][2]["scene"] == "Hot plate (3)");
  for (const json& entry : all["differences"]) CHECK(entry["difference"]["value"] == 0);
  CHECK(holds(all["verdict"].get<std::string>(), " catch the same share of the light on the plate, "));
  CHECK(all["scenes"][0]["best_place"]["place"]["unit"] == "m");
}

TEST_CASE("--best-position finds the sphere's place below R/2" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("plate.toml", hot_plate("2 in"));
  const Ran ran = shell.run("\"$DW\" compare plate.toml --shape paraboloid,sphere --best-position --json");
  REQUIRE(ran.code == 0);
  const json all = json::parse(ran.out);
  const double dish = all["scenes"][0]["best_place"]["place"]["value"], bowl = all["scenes"][1]["best_place"]["place"]["value"];
  CHECK(dish == dishwright::testing::approx(24 * 0.0254).epsilon(0.01));
  CHECK(bowl < 0.95 * dish);
  const json before = json::parse(shell.run("\"$DW\" compare plate.toml --shape paraboloid,sphere --json").out);
  const auto share = [](const json& from) { return from["scenes"][1]["targets"]["plate"]["intercept"]["value"].get<double>(); };
  CHECK(share(all) > share(before) + 0.2);
}

TEST_CASE("compare refuses what it cannot do") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("2 in"));
  check_refused(shell, "compare ", "SCENE");
  check_refused(shell, "compare plate.toml", "1 project file");
  check_refused(shell, "compare plate.toml --shape sphere", "1 shape");
  check_refused(shell, "compare plate.toml --shape sphere,cube", "cube");
  check_refused(shell, "compare plate.toml --shape sphere,", "is not a shape");
  check_refused(shell, "compare plate.toml plate.toml --shape sphere,flat", "one project file");
  check_refused(shell, "compare $(for i in 1 2 3 4 5 6 7 8 9; do echo plate.toml; done)", "9 project files");
  check_refused(shell, "compare plate.toml nowhere.toml", "nowhere.toml");
  check_refused(shell, "compare plate.toml --shape sphere,flat --set reflector.dish.tile=3in", "tile");
  check_refused(shell, "compare \"$SCENES/kettle-dish.toml\" --shape paraboloid,trough", "hole_width");
  check_refused(shell, "compare plate.toml --shape sphere,flat --threads 0", "--threads");
}

TEST_CASE("a folder that cannot be written ends with 3, Ctrl-C with 130; nothing is left") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("2 in"));
  shell.write("file", "x");
  const auto before = shell.files();
  CHECK(shell.run(shapes + "--out file/below").code == 3);
  const Ran ran = shell.run("timeout --preserve-status -k 20 -s INT 1 " + shapes + "--set trace.paths=2000000000\nexit $?");
  CHECK(ran.code == 130);
  CHECK(ran.out.empty());
  CHECK(shell.files() == before);
}

TEST_CASE("lamps are compared in their own units, by what the mirror brings; other light beside them is refused") {
  const Shell shell;
  const std::string few = " --set trace.paths=20000";
  const Ran ran = shell.run("\"$DW\" compare \"$SCENES/yard-lamp.toml\" --shape paraboloid,flat --out o" + few);
  REQUIRE(ran.code == 0);
  CHECK(holds(ran.out, "[lm]"));
  CHECK(holds(ran.out, "[lux]"));
  CHECK(holds(ran.out, "Power, in lm:"));
  CHECK(!holds(ran.out, "in W"));
  CHECK(!holds(ran.out, "kW"));
  CHECK(holds(ran.out, "The paraboloid brings the most"));
  // What the verdict says is power on the wall of the lamp's own 800 lm.
  const json all = json::parse(shell.run("\"$DW\" compare \"$SCENES/yard-lamp.toml\" --shape paraboloid,flat --json" + few).out);
  const double power = all["scenes"][0]["targets"].begin().value()["power"]["value"];
  const std::string verdict = all["verdict"];
  const std::size_t number = verdict.find("most: ");
  REQUIRE(number != std::string::npos);
  CHECK(std::stod(verdict.substr(number + 6)) == dishwright::testing::approx(100 * power / 800).epsilon(0.01));

  const Ran mixed = shell.run("\"$DW\" compare \"$SCENES/yard-lamp.toml\" \"$SCENES/kettle-dish.toml\" --out mixed");
  CHECK(mixed.code == 2);
  CHECK(holds(mixed.err, "a lamp in lumens"));
  CHECK(holds(mixed.err, "the sun"));
  CHECK(!std::filesystem::exists(shell.here() / "mixed"));
}

// The file puts the plate 3 in too far: the best place is the focus, 24 in from the vertex of the paraboloid (closed form), and
// there the disk catches all but what the sun's width and the slope error throw wide.
TEST_CASE("compare --best-position of one file: as it is beside its best place") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("2 in"));
  const std::string asked = "\"$DW\" compare plate.toml --best-position --set 'target.plate.offset=[0 in, 0 in, 3 in]' ";
  const Ran ran = shell.run(asked + "--json");
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  const json all = json::parse(ran.out);
  REQUIRE(all["scenes"].size() == 2);
  CHECK(all["scenes"][0]["scene"] == "as in the file");
  CHECK_FALSE(all["scenes"][0].contains("best_place"));
  const json& place = all["scenes"][1]["best_place"]["place"];
  CHECK(std::abs(place["value"].get<double>() - 24 * 0.0254) < 5 * place["std_error"].get<double>() + 0.002);
  const auto share = [&](int k) { return all["scenes"][k]["targets"]["plate"]["intercept"]["value"].get<double>(); };
  CHECK(share(1) > share(0) + 0.3);
  // The first is what trace finds.
  const json alone = json::parse(shell.run("\"$DW\" trace plate.toml --json --set 'target.plate.offset=[0 in, 0 in, 3 in]'").out);
  CHECK(all["scenes"][0]["targets"] == alone["targets"]);
  const Ran text = shell.run(asked);
  CHECK(holds(text.out, ": as it is, and at its best place\n===="));
  CHECK(holds(text.out, "\n  at its best place: "));
  CHECK(holds(text.out, "Verdict\n  \"at its best place\" catches the most"));
  CHECK(shell.run("\"$DW\" compare plate.toml").code == 2);
}
