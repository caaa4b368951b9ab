// SPDX-License-Identifier: MIT
#include "report/trace/figures_json.h"

#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "figures_sample.h"

using namespace dishwright;
using Json = nlohmann::ordered_json;

namespace {

Json parsed(const Scene& scene, const TraceFigures& figures) {
  return Json(figures_json(scene, "kettle-dish", "0123456789ab", figures));
}

std::vector<std::string> keys(const Json& object) {
  std::vector<std::string> out;
  for (const auto& [key, value] : object.items()) out.push_back(key);
  return out;
}

}  // namespace

TEST_CASE("the object has the promised keys in order") {
  const Json json = parsed(sample::kettle_scene(), sample::kettle_figures());
  CHECK(keys(json) == std::vector<std::string>{"scene", "version", "scene_digest", "seed", "paths", "replicates", "method",
                                               "beam", "aperture_power", "targets", "ledger", "mirror_best", "notes"});
  CHECK(keys(json["targets"]["kettle"]) ==
        std::vector<std::string>{"power", "direct_power", "intercept", "peak_irradiance", "peak_concentration", "mean_irradiance",
                                 "spot_width_50", "spot_width_90", "spot_rms_radius", "power_range", "centroid"});
  CHECK(json["scene"] == "Kettle dish");
  CHECK(json["version"] == DISHWRIGHT_VERSION);
  CHECK(json["scene_digest"] == "0123456789ab");
  CHECK(json["seed"] == 7);
  CHECK(json["paths"] == 1000000);
  CHECK(json["method"] == "rays");
  CHECK(json["notes"][0] == "no half_angle given: 4.65 mrad taken");
  Scene odd = sample::kettle_scene();
  odd.oddities = {"The sun stands behind every mirror: it shines on their backs only."};
  const Json told = parsed(odd, sample::kettle_figures());
  CHECK(told["notes"][0] == odd.oddities[0]);
  CHECK(told["notes"][1] == json["notes"][0]);
}

TEST_CASE("a quantity has value, error and unit; an exact one has no error") {
  const Json json = parsed(sample::kettle_scene(), sample::kettle_figures());
  CHECK(json["targets"]["kettle"]["power"] == Json::parse(R"({"value": 712.43, "std_error": 0.61, "unit": "W"})"));
  CHECK(json["aperture_power"] == Json::parse(R"({"value": 993.2, "unit": "W"})"));
  CHECK(json["targets"]["kettle"]["centroid"][0]["value"] == 0.0127);
  CHECK(json["targets"]["kettle"]["centroid"].size() == 2);
  CHECK(json["ledger"][1] ==
        Json::parse(R"({"where": "shaded by kettle", "power": {"value": 15.5, "std_error": 0.05, "unit": "W"}})"));
}

TEST_CASE("figures without a value are null, targets keep file order, an untitled scene takes its file's name") {
  Scene scene = sample::kettle_scene();
  scene.title.clear();
  TraceFigures figures = sample::kettle_figures();
  TargetFigures dark;
  dark.name = "a dark one";
  figures.targets.push_back(dark);
  const Json json = parsed(scene, figures);
  CHECK(json["scene"] == "kettle-dish");
  CHECK(keys(json["targets"]) == std::vector<std::string>{"kettle", "a dark one"});
  for (const char* key : {"intercept", "peak_irradiance", "peak_concentration", "mean_irradiance", "spot_width_50",
                          "spot_width_90", "spot_rms_radius", "power_range", "centroid"}) {
    CHECK(json["targets"]["a dark one"][key].is_null());
  }
}

TEST_CASE("numbers keep every digit") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].power.value = 0.1 + 0.2;
  figures.seed = std::numeric_limits<std::uint64_t>::max();
  const Json json = parsed(sample::kettle_scene(), figures);
  CHECK(json["targets"]["kettle"]["power"]["value"].get<double>() == 0.1 + 0.2);
  CHECK(json["seed"].get<std::uint64_t>() == std::numeric_limits<std::uint64_t>::max());
}

TEST_CASE("a number that is not finite is a fault of the program") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].intercept->value = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(parsed(sample::kettle_scene(), figures), std::logic_error);
  figures = sample::kettle_figures();
  figures.ledger[0].power.std_error = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(parsed(sample::kettle_scene(), figures), std::logic_error);
}
