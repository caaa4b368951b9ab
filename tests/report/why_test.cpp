// SPDX-License-Identifier: MIT
// Plain reasons, word for word: width of the spot, place, aim, the largest loss, the lamp.
#include "report/trace/why.h"

#include <doctest/doctest.h>

#include "figures_sample.h"

using namespace dishwright;

namespace {

std::vector<std::string> why(const Scene& scene, const TraceFigures& figures, Units units = Units::us) {
  return why_lines(scene, figures, 0, units);
}

}  // namespace

TEST_CASE("why: the sun's image and the blur of the slopes, in inches and millimetres") {
  const Scene scene = sample::kettle_scene();
  const TraceFigures figures = sample::kettle_figures();
  // 2 · 24 in · tan 4.65 mrad = 0.2232 in (5.67 mm); 2 · 4 mrad · 24 in = 0.192 in (4.88 mm); 136.9 W of 993.2 W = 13.8 %.
  CHECK(why(scene, figures) == std::vector<std::string>{"Focal length 24 in: the sun's disc alone makes a spot 0.22 in wide or "
                                                        "wider. A slope error of 4 mrad turns rays by twice as "
                                                        "much: about 0.19 in of blur (rms) each way.",
                                                        "The largest loss is what the skin of the dish soaks up: 14 %."});
  CHECK(why(scene, figures, Units::si)[0] ==
        "Focal length 609.6 mm: the sun's disc alone makes a spot 5.7 mm wide or wider. A slope error of 4 mrad turns rays by "
        "twice as "
        "much: about 4.9 mm of blur (rms) each way.");
}

TEST_CASE("why: a perfect mirror in a point sun has no reason for a spot; the aim alone is told") {
  Scene scene = sample::kettle_scene();
  scene.sun.half_angle = 0;
  scene.reflectors[0].slope_error = 0;
  TraceFigures figures = sample::kettle_figures();
  figures.ledger = {{"kettle", {993.2, std::nullopt, "W"}}};
  CHECK(why(scene, figures).empty());
  scene.sun.aim_error = 0.5 * std::acos(-1.0) / 180;
  // 24 in · tan 0.5° = 0.2094 in.
  CHECK(why(scene, figures) ==
        std::vector<std::string>{"The aim is 0.5 deg off the sun: that moves the spot about 0.21 in to the other side."});
  scene.sun.half_angle = 4.65e-3;
  CHECK(why(scene, figures)[0] == "Focal length 24 in: the sun's disc alone makes a spot 0.22 in wide or wider.");
}

TEST_CASE("why: a target away from the focus") {
  Scene scene = sample::kettle_scene();
  scene.targets[0].pose.at = {0, 0, 20 * sample::inch};
  CHECK(why(scene, sample::kettle_figures())[0] ==
        "The kettle stands 4 in from the focus of the dish, so the light there is not drawn together as far as it can be.");
  scene.targets[0].pose.at = {0, 0, 10};  // 9.39 m: still without powers of ten
  CHECK(why(scene, sample::kettle_figures(), Units::si)[0].starts_with("The kettle stands 9400 mm from the focus of the dish,"));
}

TEST_CASE("why: the largest loss, whatever it is, as a share in two digits") {
  const Scene scene = sample::kettle_scene();
  TraceFigures figures = sample::kettle_figures();
  const auto loss = [&](const std::string& where, double watts) {
    figures.ledger = {{"kettle", {1, std::nullopt, "W"}}, {where, {watts, std::nullopt, "W"}}};
    return why(scene, figures).back();
  };
  CHECK(loss("missed", 993.2) == "The largest loss is light that misses everything: 100 %.");
  CHECK(loss("missed", 990) == "The largest loss is light that misses everything: 100 %.");
  CHECK(loss("shaded by kettle", 15.5) == "The largest loss is the shadow of the kettle: 1.6 %.");
  CHECK(loss("back of dish", 0.05) == "The largest loss is light on the back of the dish: 0.005 %.");
  CHECK(loss("lid of pot", 99.32) == "The largest loss is light on the lid of the pot: 10 %.");
  CHECK(loss("screen", 99.32) == "The largest loss is light on the screen: 10 %.");
  CHECK(loss("missed the mirrors", 99.32) == "The largest loss is light that never meets a mirror: 10 %.");
  // What comes straight to a target is none, nor is nothing.
  figures.ledger = {{"straight to kettle", {500, std::nullopt, "W"}}, {"missed", {0, std::nullopt, "W"}}};
  CHECK(why(scene, figures).size() == 1);
}

TEST_CASE("why: how wide the mirror sees a lamp, and a lamp out of the focus") {
  Scene scene = sample::kettle_scene();
  scene.lamp = Lamp{};
  scene.lamp->shape = BallLamp{sample::inch};
  scene.lamp->pose.at = {0, 0, 24 * sample::inch};
  scene.targets[0].name = "wall";
  scene.targets[0].pose.at = {0, 0, 240 * sample::inch};
  const TraceFigures figures = sample::kettle_figures();
  // 1 in at 24 in: 2.387°; at 240 in 10 in. Slopes: 2 · 4 mrad · 240 in = 1.92 in.
  const std::vector<std::string> lines = why(scene, figures);
  REQUIRE(lines.size() == 3);
  CHECK(lines[0] ==
        "From 24 in away, the bottom of the dish sees the lamp 1 in wide: about 2.4 deg. Each spot there spreads its light by as "
        "much, "
        "which is 10 in at the wall.");
  CHECK(lines[1] == "A slope error of 4 mrad turns rays by twice as much: about 1.9 in of blur (rms) each way at the wall.");
  scene.lamp->pose.at = {0, 0, 30 * sample::inch};
  CHECK(why(scene, figures)[0] ==
        "The lamp stands 6 in from the focus of the dish, so the light does not leave as one even beam.");
  scene.lamp->pose.at = {0, 0, 24 * sample::inch};
  scene.lamp->shape = BallLamp{48 * sample::inch};  // 114.6°: no powers of ten
  CHECK(why(scene, figures)[0].find("about 110 deg.") != std::string::npos);
}

TEST_CASE("why: the end of rays, in micrometres") {
  const Scene scene = sample::kettle_scene();
  TraceFigures figures = sample::kettle_figures();
  // 1.07 · 550 nm · f/D = 0.294 µm at f/D = 1/2 (Airy's disc [bornwolf]).
  figures.targets[0].spot_width_50 = Estimate{2.9e-6, std::nullopt, "m"};
  CHECK(wave_limit_note(scene, figures, 0) ==
        "Rays come to their end here: light is a wave, and half of it at the kettle cannot be drawn into a circle narrower than "
        "about "
        "0.29 µm.");
  figures.targets[0].spot_width_50 = Estimate{3.0e-6, std::nullopt, "m"};
  CHECK(wave_limit_note(scene, figures, 0) == "");
  figures.targets[0].spot_width_50.reset();
  CHECK(wave_limit_note(scene, figures, 0) == "");
}
