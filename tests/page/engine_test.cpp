// SPDX-License-Identifier: MIT
// The engine's three calls, as the page makes them; the same engine in WebAssembly is held against the program by
// tests/page/browser/compare.js.
#include "page/engine.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <new>
#include <nlohmann/json.hpp>
#include <sstream>

#include "approx.h"
#include "folders.h"
#include "scratch.h"

using namespace dishwright;
using Json = nlohmann::ordered_json;

namespace {

std::string scene_text(const std::string& name) {
  std::ifstream file(testing::source_folder() / "scenes" / name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

const std::string kettle = scene_text("kettle-dish.toml");

Json solved(Engine& engine, int scene, const std::string& question) { return Json::parse(engine.solve(scene, question).json); }

}  // namespace

TEST_CASE("a project file becomes a scene with a number") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const Json first = Json::parse(engine.read(kettle, "kettle.toml", {}));
  CHECK(first["scene"] == 1);
  CHECK(first["title"] == "Kettle dish");
  CHECK(first["sources"] == Json::array({"light"}));
  CHECK(first["targets"] == Json::array({"kettle"}));
  CHECK(first["reflectors"][0]["width"]["value"].get<double>() == testing::approx(1.2192).epsilon(1e-9));  // 48 in
  CHECK(Json::parse(engine.read(kettle, "kettle.toml", {}))["scene"] == 2);
  const Json uses = Json::parse(engine.read(scene_text("three-uses.toml"), "uses.toml", {}));
  CHECK(uses["sources"] == Json::array({"light", "sound", "radio"}));
}

TEST_CASE("a mistake comes back with its line, its column and the words of the command line") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const Json bad =
      Json::parse(engine.read("[sun]\nbeam = \"850 W/m\"\n[reflector.dish]\nshape = \"parabolid\"\n[target.t]\n", "a.toml", {}));
  REQUIRE(bad.contains("problems"));
  REQUIRE(bad["problems"].size() >= 2);
  CHECK(bad["problems"][0]["line"] == 2);
  CHECK(bad["problems"][0]["column"] == 8);
  CHECK(bad["problems"][0]["source_line"] == "beam = \"850 W/m\"");
  CHECK(bad["problems"][1]["line"] == 4);
  CHECK(bad["problems"][1]["text"].get<std::string>().find("paraboloid") != std::string::npos);
  CHECK_FALSE(bad.contains("scene"));
  CHECK(Json::parse(engine.read("x = [", "a.toml", {})).contains("problems"));
  CHECK(Json::parse(engine.read(std::string("\0\xff", 2), "a.toml", {})).contains("problems"));
  CHECK(Json::parse(engine.read("", "a.toml", {})).contains("problems"));
}

TEST_CASE("files that a project names come along, and none leads out of the project's folder") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const std::string text =
      "[sun]\n[reflector.dish]\nshape = \"profile\"\nfile = \"rim.csv\"\n[target.t]\nshape = \"disk\"\nwidth = \"6 in\"\n"
      "at = [\"0 in\", \"0 in\", \"24 in\"]\n";
  CHECK(Json::parse(engine.read(text, "p.toml", {})).contains("problems"));
  const std::string points = "radius [in],height [in]\n0,0\n12,1.5\n24,6\n";
  const Json good = Json::parse(engine.read(text, "p.toml", {{"rim.csv", points}}));
  REQUIRE(good.contains("scene"));
  CHECK(solved(engine, good["scene"], R"({"study": "trace", "paths": 2000})").contains("trace"));
  for (const char* name : {"../rim.csv", "/rim.csv", "a/../../rim.csv", ""}) {
    CAPTURE(name);
    CHECK(Json::parse(engine.read(text, "p.toml", {{name, points}})).contains("problems"));
    CHECK(Json::parse(engine.read(text, name, {{"rim.csv", points}})).contains("problems"));
  }
  CHECK_FALSE(std::filesystem::exists(scratch.path.parent_path() / "rim.csv"));
}

TEST_CASE("a trace gives figures, maps that hold the power, a view and words") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const EngineAnswer out = engine.solve(scene, R"({"study": "trace", "method": "quadrature", "set": ["sun.aim_error=1 deg"],
                              "parts": ["map", "view", "why", "words", "best", "range"]})");
  const Json json = Json::parse(out.json);
  const double power = json["trace"]["targets"]["kettle"]["power"]["value"];
  // Irradiance times area, face by face, is the power of the target.
  REQUIRE(json["maps"].size() == out.maps.size());
  REQUIRE(out.maps.size() == 2);
  double sum = 0;
  for (std::size_t k = 0; k < out.maps.size(); ++k) {
    const EngineMap& map = out.maps[k];
    CHECK(json["maps"][k]["columns"] == map.columns);
    REQUIRE(map.values.size() == static_cast<std::size_t>(map.columns) * static_cast<std::size_t>(map.rows));
    const double cell = (map.x_to - map.x_from) * (map.y_to - map.y_from) / static_cast<double>(map.values.size());
    for (const float value : map.values) sum += value * cell;
  }
  CHECK(sum == testing::approx(power).epsilon(0.01));
  CHECK(json["view"]["named"]["near_rim"]["way"].size() >= 2);
  CHECK(json["view"]["words"][0].get<std::string>().find("48 in wide") != std::string::npos);
  CHECK_FALSE(json["why"].empty());
  CHECK(json["words"]["answer"].get<std::string>().find("kettle") != std::string::npos);
  CHECK(json["words"]["safety"].size() >= 5);
}

TEST_CASE("studies of the command line: sweep, compare, tolerance; sound with its maps" * doctest::test_suite("slow")) {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const Json sweep = solved(engine, scene, R"({"study": "sweep", "vary": ["sun.aim_error=0 deg:4 deg:5"], "parts": ["words"]})");
  CHECK(sweep["sweep"]["points"].size() == 5);
  CHECK(sweep["words"]["answer"].get<std::string>().size() > 20);
  const Json shapes = solved(engine, scene, R"({"study": "compare", "shapes": ["paraboloid", "sphere"], "paths": 4096})");
  CHECK(shapes["compare"]["scenes"].size() == 2);
  // A trough has no hole: it is left out, by name, and the others are compared.
  const Json three = solved(engine, scene, R"({"study": "compare", "shapes": ["paraboloid", "trough", "cone"], "paths": 4096})");
  CHECK(three["compare"]["scenes"].size() == 2);
  CHECK(three["left_out"][0]["shape"] == "trough");
  CHECK(solved(engine, scene, R"({"study": "tolerance", "wanted": 0.8})")["tolerance"]["wanted"]["value"] == 0.8);
  const int sound = Json::parse(engine.read(scene_text("bird-song-dish.toml"), "bird.toml", {}))["scene"];
  const EngineAnswer heard = engine.solve(sound, R"({"study": "trace", "parts": ["map"]})");
  REQUIRE(heard.maps.size() == 2);
  for (const float level : heard.maps[0].values) CHECK(std::isfinite(level));
  CHECK(Json::parse(heard.json)["curve"]["gains"].size() > 10);
}

TEST_CASE("what cannot be asked is a problem in words, and the engine answers the next question") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  for (const char* question : {"",
                               "[]",
                               "{}",
                               "NaN",
                               R"({"study": 1})",
                               R"({"study": "survey"})",
                               R"({"study": "trace", "paths": NaN})",
                               R"({"study": "trace", "paths": 1e99})",
                               R"({"study": "trace", "paths": -1})",
                               R"({"study": "trace", "paths": "many"})",
                               R"({"study": "trace", "set": "sun.aim_error=1 deg"})",
                               R"({"study": "trace", "set": [1]})",
                               R"({"study": "trace", "set": ["sun.aim_error=NaN deg"]})",
                               R"({"study": "trace", "set": ["sun.aim_error"]})",
                               R"({"study": "trace", "as": "sound"})",
                               R"({"study": "trace", "parts": ["everything"]})",
                               R"({"study": "trace", "sets": []})",
                               R"({"study": "sweep"})",
                               R"({"study": "sweep", "vary": ["sun.aim_error=0 deg:4 deg"]})",
                               R"({"study": "compare"})",
                               R"({"study": "compare", "shapes": ["paraboloid", "spoon"]})",
                               R"({"study": "tolerance", "wanted": 2})",
                               R"({"study": "tolerance", "target": "pan"})",
                               "{\"study\": \"\xff\"}"}) {
    CAPTURE(question);
    const Json answer = solved(engine, scene, question);
    REQUIRE(answer.contains("problems"));
    CHECK(answer["problems"][0]["text"].get<std::string>().find("error: ") != std::string::npos);
  }
  CHECK(solved(engine, 99, R"({"study": "trace"})").contains("problems"));
  CHECK(solved(engine, scene, R"({"study": "trace", "paths": 2000})").contains("trace"));
}

TEST_CASE("work ends where the host says so or the time is over, and the next question is answered") {
  const testing::Scratch scratch;
  int asked = 0;
  bool stops = true;
  Engine engine(scratch.path, [&] { return ++asked > 3 && stops; });
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  CHECK(solved(engine, scene, R"({"study": "trace", "method": "rays"})")["stopped"] == true);
  CHECK(asked > 3);
  stops = false;
  CHECK(solved(engine, scene, R"({"study": "trace", "method": "rays", "paths": 2000})").contains("trace"));
  CHECK(solved(engine, scene, R"({"study": "trace", "method": "rays", "paths": 10000000, "within": 1})")["stopped"] == true);
  CHECK(solved(engine, scene, R"({"study": "sweep", "vary": ["sun.aim_error=0 deg:4 deg:900"], "within": 1})")["stopped"] ==
        true);
  CHECK(solved(engine, scene, R"({"study": "trace", "method": "rays", "paths": 2000})").contains("trace"));
}

TEST_CASE("memory that does not suffice is an answer, too") {
  const testing::Scratch scratch;
  bool full = true;
  Engine engine(scratch.path, [&]() -> bool { return full ? throw std::bad_alloc() : false; });
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  CHECK(solved(engine, scene, R"({"study": "trace", "method": "quadrature"})")["out_of_memory"] == true);
  full = false;
  CHECK(solved(engine, scene, R"({"study": "trace", "method": "quadrature"})").contains("trace"));
}

TEST_CASE("the last 16 scenes are kept") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  for (int k = 0; k < 17; ++k) engine.read(kettle, "kettle.toml", {});
  CHECK(solved(engine, 1, R"({"study": "trace", "paths": 2000})").contains("problems"));
  CHECK(solved(engine, 2, R"({"study": "trace", "paths": 2000})").contains("trace"));
}

TEST_CASE("how long it can be left standing: the circle holds against a sweep of the aim, the time against the sun's turn") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const Json drift = solved(engine, scene, R"({"study": "drift", "method": "quadrature"})")["drift"];
  const double angle = drift["angle"]["value"].get<double>() * 180 / 3.14159265358979;
  CHECK(drift["words"].get<std::string>().find("twice as long") != std::string::npos);
  CHECK(drift["seconds"].get<double>() == testing::approx(240 * angle).epsilon(0.003));  // 15 deg an hour: 240 s a degree
  const auto share_at = [&](double degrees) {
    const std::string set = R"("set": ["sun.aim_error=)" + std::to_string(degrees) + R"( deg"])";
    const Json trace = solved(engine, scene, R"({"study": "trace", "method": "quadrature", )" + set + "}")["trace"];
    return trace["targets"]["kettle"]["intercept"]["value"].get<double>();
  };
  // Aimed off by 0.5 deg already, and on is the worst way.
  const double now = share_at(0.5);
  CHECK(share_at(0.5 + angle) > 0.899 * now);
  CHECK(share_at(0.5 + 1.04 * angle) < 0.9 * now);
  CHECK(solved(engine, scene, R"({"study": "drift", "set": ["target.kettle.offset.x=3 m"]})")["drift"].is_null());
  const int sound = Json::parse(engine.read(scene_text("bird-song-dish.toml"), "bird.toml", {}))["scene"];
  CHECK(solved(engine, sound, R"({"study": "drift"})").contains("problems"));
}

TEST_CASE("three uses of one dish: each as a trace of its own tells it, what was assumed is said") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const Json uses = solved(engine, scene, R"({"study": "uses"})")["uses"];
  REQUIRE(uses.size() == 3);
  CHECK(uses[0]["assumed"] == "");
  CHECK(uses[1]["assumed"] == "sound.frequency=2 kHz");
  const Json heard = solved(engine, scene, R"({"study": "trace", "as": "sound", "set": ["sound.frequency=2 kHz"]})")["trace"];
  CHECK(uses[1]["trace"]["targets"]["kettle"]["gain"]["value"] == heard["targets"]["kettle"]["gain"]["value"]);
  CHECK(uses[2]["trace"]["targets"]["kettle"]["gain"]["value"].get<double>() > 20);
  for (const Json& use : uses) CHECK(use["words"].get<std::string>().find("kettle") != std::string::npos);
  const int all = Json::parse(engine.read(scene_text("three-uses.toml"), "uses.toml", {}))["scene"];
  const Json given = solved(engine, all, R"({"study": "uses"})")["uses"];
  for (const Json& use : given) CHECK(use["assumed"] == "");
}

TEST_CASE("readings are judged as the command line judges them; a mistake comes with its line" * doctest::test_suite("slow")) {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const std::string table = solved(engine, scene, R"({"study": "form"})")["form"]["table"];
  CHECK(table.rfind("ring [in],clock [h],depth [in]\n4,1,\n", 0) == 0);  // none in the hole
  const auto asked = [](const std::string& readings) {
    return Json{{"study", "survey"}, {"paths", 5000}, {"readings", readings}}.dump();
  };
  const std::string readings = scene_text("kettle-readings.csv");
  const Json found = solved(engine, scene, asked(readings));
  CHECK(found["survey"]["places"] == 73);
  // The readings were made up with a focal length of 24.6 in (docs/measuring.md).
  CHECK(found["survey"]["fit"]["focal_length"]["value"].get<double>() == testing::approx(24.6 * 0.0254).epsilon(0.01));
  CHECK(found["words"]["verdicts"][0].get<std::string>().find("kettle") != std::string::npos);
  CHECK(found["places"].size() == 73);
  double square = 0;
  for (const Json& place : found["places"]) square += std::pow(place["height"].get<double>(), 2);
  CHECK(std::sqrt(square / 73) < 0.005);
  const Json bad = solved(engine, scene, asked(readings + "23.5,12,9 1/\n"));
  REQUIRE(bad.contains("problems"));
  CHECK(bad["problems"][0]["file"] == "readings.csv");
  CHECK(bad["problems"][0]["line"] == 76);
  CHECK(solved(engine, scene, asked("")).contains("problems"));
  const Json tiles = solved(engine,
                            Json::parse(engine.read(R"([sun]
[reflector.dish]
shape = "facets"
focal_length = "24 in"
width = "48 in"
tile = "4 in"
[target.t]
shape = "disk"
width = "6 in"
at = "focus of dish"
)",
                                                    "tiles.toml", {}))["scene"],
                            R"({"study": "form"})");
  REQUIRE(tiles.contains("problems"));
  CHECK(tiles["problems"][0]["text"].get<std::string>().find("command line") != std::string::npos);
}

TEST_CASE("lines in space lie on the paraboloid and meet at its focus; a rough map of sound is small and alike") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const Json solid = solved(
      engine, scene, R"({"study": "trace", "paths": 2000, "parts": ["solid", "map"], "set": ["sun.aim_error=1 deg"]})")["solid"];
  REQUIRE(solid["mirrors"].size() > 10);
  for (const Json& line : solid["mirrors"]) {
    for (const Json& at : line) {
      const double x = at[0], y = at[1], z = at[2];
      CHECK(std::abs(z - (x * x + y * y) / (4 * 24 * 0.0254)) < 1e-9);
    }
  }
  CHECK(solid["rays"].size() == 3);
  CHECK(solid["targets"].size() > 4);
  // The base of the kettle: a disc about the focus.
  REQUIRE(solid["spot"].size() > 20);
  for (const Json& at : solid["spot"]) CHECK(std::abs(at[2].get<double>() - 24 * 0.0254) < 0.02);
  const int sound = Json::parse(engine.read(scene_text("bird-song-dish.toml"), "bird.toml", {}))["scene"];
  const EngineAnswer rough = engine.solve(sound, R"({"study": "trace", "parts": ["rough map"]})"),
                     whole = engine.solve(sound, R"({"study": "trace", "parts": ["map"]})");
  REQUIRE(rough.maps.size() == 2);
  CHECK(rough.maps[0].columns == 48);
  CHECK(rough.maps[0].x_to == whole.maps[0].x_to);
  Json quick = Json::parse(rough.json), slow = Json::parse(whole.json);
  for (const char* left_out : {"stops_helping", "helps", "cancelled", "misses", "best_place"}) {
    quick["trace"]["targets"]["microphone"].erase(left_out), slow["trace"]["targets"]["microphone"].erase(left_out);
  }
  CHECK(quick["trace"]["targets"] == slow["trace"]["targets"]);  // its figures are the whole ones
  CHECK(quick["patterns"].empty());
  const auto top = [](const EngineMap& map) { return *std::max_element(map.values.begin(), map.values.end()); };
  CHECK(top(rough.maps[0]) == testing::approx(top(whole.maps[0])).epsilon(0.02));
}

TEST_CASE("a sweep tells of the figure that is asked for") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const std::string begin = R"({"study": "sweep", "vary": ["sun.aim_error=0 deg:2 deg:3"], "parts": ["words"], "figure": ")";
  CHECK(solved(engine, scene, begin + "spot_width_50\"}")["words"]["answer"].get<std::string>().find("half") !=
        std::string::npos);
  CHECK(solved(engine, scene, begin + "gain\"}").contains("problems"));
}
