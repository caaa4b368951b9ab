// SPDX-License-Identifier: MIT
#include "command/starter_scene.h"

#include <doctest/doctest.h>

#include "approx.h"
#include "scenefile/read_scene.h"

using namespace dishwright;

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
