// SPDX-License-Identifier: MIT
#include "report/scene_words.h"

#include <doctest/doctest.h>

#include <numbers>

#include "figures_sample.h"

using namespace dishwright;

TEST_CASE("the sun in words") {
  Sun sun = sample::kettle_scene().sun;
  CHECK(sun_words(sun) ==
        "850 W/m² on a surface that faces it; disc half angle 4.65 mrad, darker toward its edge; aimed straight at it");
  sun.disc = DiscProfile::aureole;
  sun.aim_error = std::numbers::pi / 360;
  CHECK(sun_words(sun) ==
        "850 W/m² on a surface that faces it; disc half angle 4.65 mrad, with 5 % of the light from the glow around it; aim off "
        "by 0.5 deg, "
        "the sun leans toward +x (right)");
  sun.half_angle = 0;
  sun.aim_direction = -std::numbers::pi / 2;
  CHECK(sun_words(sun) ==
        "850 W/m² on a surface that faces it; a point in the sky; aim off by 0.5 deg, the sun leans toward -y (down)");
  sun.aim_direction = std::numbers::pi / 6;
  CHECK(sun_words(sun).ends_with("leans toward 30 deg from +x toward +y"));
}

TEST_CASE("mirrors in words") {
  Reflector mirror = sample::kettle_scene().reflectors[0];
  CHECK(reflector_words(mirror, Units::us) ==
        "paraboloid, 48 in wide, focal length 24 in; aluminised film, sends back 86 % of the light; slope error 4 mrad rms");
  mirror.shape = SphereBowl{1.2, 1.2, 0.05};
  mirror.finish.clear();
  mirror.slope_error = 0;
  mirror.specular_spread = 2e-3;
  mirror.pose.at = {0.1, 0, 0};
  mirror.pose.turn = rotation(0.1, 0, 0);
  CHECK(reflector_words(mirror, Units::si) ==
        "sphere, 1200 mm wide, radius 1200 mm (focus at half of it, 600 mm), hole 50 mm wide; sends back 86 % of the light; no "
        "slope error; "
        "the skin spreads each ray by 2 mrad rms; vertex at x 100, y 0, z 0 mm; turned");
  mirror.shape = Trough{0.25, 0.9, 1.2};
  CHECK(reflector_words(mirror, Units::si).starts_with("trough, 900 mm wide, 1200 mm long, focal length 250 mm;"));
  mirror.shape = ArcTrough{0.5, 0.9, 1.2};
  CHECK(reflector_words(mirror, Units::si)
            .starts_with("arc trough, 900 mm wide, 1200 mm long, radius 500 mm (focus at half of it, 250 mm);"));
}

TEST_CASE("targets and places in words") {
  Target target = sample::kettle_scene().targets[0];
  CHECK(target_words(target, Units::us) == "disk, 6 in wide, centre at x 0, y 0, z 24 in");
  target.shape = PotTarget{6 * sample::inch, 5 * sample::inch};
  target.shades = false;
  CHECK(target_words(target, Units::us) ==
        "pot, 6 in wide, 5 in high, base centre at x 0, y 0, z 24 in; casts no shadow on its way in");
  CHECK(place_words({0.5 * sample::inch, -3.25 * sample::inch, 1e-9}, Units::us) == "x 0.5, y -3.25, z 0 in");
  CHECK(place_words({0, 0, 0}, Units::si) == "x 0, y 0, z 0 mm");
}

TEST_CASE("one mirror goes by its name") {
  Scene scene = sample::kettle_scene();
  CHECK(mirrors_words(scene) == "the dish");
  scene.reflectors.push_back(scene.reflectors[0]);
  CHECK(mirrors_words(scene) == "the mirrors");
}
