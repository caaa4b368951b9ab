// SPDX-License-Identifier: MIT
// How every summary begins.
#include "report/numbers/summary_parts.h"

#include <doctest/doctest.h>

#include "figures_sample.h"

using namespace dishwright;

TEST_CASE("a line of a summary: label, and text from one column on") {
  CHECK(summary_line("Power", "712.4 ± 0.6 W") == "  Power                         712.4 ± 0.6 W\n");
  CHECK(summary_heading("Where the light went") == "\nWhere the light went\n");
}

TEST_CASE("what is odd is told before anything else, and of several scenes once") {
  CHECK(oddity_lines({}) == "");
  CHECK(oddity_lines({"the dish is 1 mm wide", "the kettle floats"}) ==
        "Look at this first: the dish is 1 mm wide\nLook at this first: the kettle floats\n\n");
  struct One {
    Scene scene;
  };
  std::vector<One> all(3);
  all[0].scene.oddities = {"a"}, all[1].scene.oddities = {"b", "a"};
  CHECK(oddity_lines(oddities_of_all(all)) == "Look at this first: a\nLook at this first: b\n\n");
}

TEST_CASE("title, source, mirrors, targets and notes, each on its lines") {
  Scene scene = sample::kettle_scene();
  CHECK(title_block(scene, "kettle", Units::us) ==
        "Kettle dish\n"
        "===========\n"
        "Sun: 850 W/m² on a surface that faces it; disc half angle 4.65 mrad, darker\n"
        "  toward its edge; aimed straight at it\n"
        "Mirror dish: paraboloid, 48 in wide, focal length 24 in; aluminised film, sends\n"
        "  back 86 % of the light; slope error 4 mrad rms\n"
        "Target kettle: disk, 6 in wide, centre at x 0, y 0, z 24 in\n"
        "Note: no half_angle given: 4.65 mrad taken\n");
  scene.title = "";
  CHECK(title_block(scene, "kettle", Units::si).starts_with("kettle\n======\n"));
  // A title wider than the line: its rule ends with the line.
  scene.title = std::string(100, 'w');
  CHECK(title_block(scene, "kettle", Units::si).find("\n" + std::string(80, '=') + "\n") != std::string::npos);
}
