// SPDX-License-Identifier: MIT
// The engine's three calls, as the page makes them; the same engine in WebAssembly is held against the program by
// tests/page/browser/compare.js.
#include "page/engine.h"

#include <doctest/doctest.h>

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

TEST_CASE("studies of the command line: sweep, compare, tolerance; sound with its maps") {
  const testing::Scratch scratch;
  Engine engine(scratch.path);
  const int scene = Json::parse(engine.read(kettle, "kettle-dish.toml", {}))["scene"];
  const Json sweep = solved(engine, scene, R"({"study": "sweep", "vary": ["sun.aim_error=0 deg:4 deg:5"], "parts": ["words"]})");
  CHECK(sweep["sweep"]["points"].size() == 5);
  CHECK(sweep["words"]["answer"].get<std::string>().size() > 20);
  const Json shapes = solved(engine, scene, R"({"study": "compare", "shapes": ["paraboloid", "sphere"], "paths": 4096})");
  CHECK(shapes["compare"]["scenes"].size() == 2);
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
