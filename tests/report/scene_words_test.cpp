// SPDX-License-Identifier: MIT
#include "report/numbers/scene_words.h"

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

TEST_CASE("further shapes in words") {
  Reflector mirror;
  mirror.reflectance = 0.9;
  const auto words = [&](const ReflectorShape& shape, Units units = Units::us) {
    mirror.shape = shape;
    const std::string all = reflector_words(mirror, units);
    return all.substr(0, all.find(';'));
  };
  constexpr double inch = sample::inch;
  CHECK(words(Flat{24 * inch, 12 * inch}) == "flat, 24 in wide, 12 in long");
  CHECK(words(Cone{5 * inch, 20 * inch, 2 * inch}) == "cone, 20 in wide, 5 in deep, hole 2 in wide");
  CHECK(words(Catenary{1.2, 0.15, 0}, Units::si) == "catenary, 1200 mm wide, 150 mm deep");
  CHECK(words(OffsetParaboloid{0.6, 0.05, 1, 0}, Units::si) ==
        "offset paraboloid, 1000 mm wide, focal length 600 mm, near edge 50 mm from the axis");
  CHECK(words(Ellipsoid{0.1, 0.9, 0.3, 0}, Units::si) == "ellipsoid, 300 mm wide, foci 100 mm and 900 mm from its vertex");
  CHECK(words(Petals{0.6, 1.2, 12, true, 0}, Units::si) ==
        "petals, 1200 mm wide, focal length 600 mm, 12 petals with the seams on the curve");
  CHECK(words(Petals{0.6, 1.2, 12, false, 0}, Units::si).ends_with("12 petals with the middle lines on the curve"));
  Facets tiles;
  tiles.focal_length = 0.6, tiles.width = 0.35, tiles.tile = 0.1, tiles.gap = 0;
  CHECK(words(tiles, Units::si)
            .find(" square tiles of 100 mm with no gaps on a paraboloid of focal length 600 mm, tilted as the frame is") !=
        std::string::npos);
  tiles.frame = FacetFrame::flat, tiles.aim_at_target = true, tiles.tile_shape = TileShape::hexagon, tiles.gap = 0.005;
  CHECK(words(tiles, Units::si).find(" six-sided tiles of 100 mm with 5 mm gaps on a flat frame, each aimed at the target") !=
        std::string::npos);
}

TEST_CASE("flaws in words: one dent and several, longer and shorter, turned waves") {
  Reflector mirror = sample::kettle_scene().reflectors[0];
  const auto flaws = [&] {
    const std::string all = reflector_words(mirror, Units::si), from = "of the light", to = "; slope error";
    const std::size_t start = all.find(from) + from.size();
    return all.substr(start, all.find(to) - start);
  };
  CHECK(flaws() == "");
  mirror.flaws.sag_x = 0.02, mirror.flaws.sag_y = -0.015, mirror.flaws.twist = 0.5 * std::numbers::pi / 180;
  CHECK(flaws() == "; focal length along x 2 % longer; focal length along y 1.5 % shorter; twisted by 0.5 deg");
  mirror.flaws = {};
  mirror.flaws.rim_sag_x = mirror.flaws.rim_sag_y = 3e-3;
  CHECK(flaws() == "; rim all round 3 mm too low");
  mirror.flaws.rim_sag_x = -1e-3;
  CHECK(flaws() == "; rim along x 1 mm too high; rim along y 3 mm too low");
  mirror.flaws = {};
  mirror.flaws.waviness = Waviness{0.5e-3, 0.1, 0};
  CHECK(flaws() == "; waves 100 mm from crest to crest, 1 mm high");
  mirror.flaws.waviness->direction = std::numbers::pi / 4;
  CHECK(flaws() == "; waves 100 mm from crest to crest, 1 mm high, turned by 45 deg");
  mirror.flaws = {};
  mirror.flaws.scallop = Scallop{12, 2e-3};
  CHECK(flaws() == "; skin hangs through by 2 mm between 12 ribs");
  mirror.flaws = {};
  mirror.flaws.dents = {{0, 0, 0.1, 3e-3}};
  CHECK(flaws() == "; a dent 100 mm wide, 3 mm deep");
  mirror.flaws.dents[0].depth = -3e-3;
  CHECK(flaws() == "; a bump 100 mm wide, 3 mm high");
  mirror.flaws.dents.push_back({0.1, 0, 0.1, 1e-3});
  CHECK(flaws() == "; 2 dents");
  mirror.flaws.roughness = Roughness{1e-4, 0.02, 1};
  CHECK(flaws() == "; bumps of 0.1 mm rms, 20 mm in reach; 2 dents");
  mirror.flaws = {};
  mirror.dirt = 0.1;
  CHECK(flaws() == " (with 10 % lost to dirt)");
}

TEST_CASE("lamps and mirrors of waves in words") {
  Lamp lamp;
  lamp.shape = BallLamp{sample::inch};
  lamp.power = 800, lamp.in_lumens = true;
  lamp.pose.at = {0, 0, 24 * sample::inch};
  CHECK(lamp_words(lamp, Units::us) == "ball, 1 in wide, gives 800 lm; centre at x 0, y 0, z 24 in");
  lamp.shape = LineLamp{0.3};
  lamp.power = 60, lamp.in_lumens = false;
  lamp.pose.turn = rotation(0.1, 0, 0);
  CHECK(lamp_words(lamp, Units::si) == "line, 300 mm long, gives 60 W; centre at x 0, y 0, z 609.6 mm; turned");
  Scene scene = sample::kettle_scene();
  scene.sound = Sound{};
  scene.reflectors[0].wave_reflectance = 0.8;
  CHECK(mirror_words(scene, scene.reflectors[0], Units::us) ==
        "paraboloid, 48 in wide, focal length 24 in; sends back 80 % of the power");
}
