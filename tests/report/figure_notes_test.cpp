// SPDX-License-Identifier: MIT
// A figure that is not there says why, in the text and in the JSON; the picture's darkest ink is the peak.
#include "report/trace/figure_notes.h"

#include <doctest/doctest.h>

#include "report/trace/map_smooth.h"

using namespace dishwright;

namespace {

TargetFigures disk() {
  TargetFigures target;
  target.name = "plate";
  target.shape = "disk";
  target.power = {300, 1.0, "W"};
  target.spot_width_50 = Estimate{0.01, 1e-4, "m"};
  target.spot_width_90 = Estimate{0.03, 1e-4, "m"};
  target.peak_irradiance = Estimate{1e6, 1e3, "W/m2"};
  target.share_curve = ShareCurve{{0, 0.1}, {0, 1}, {0, 0}};
  return target;
}

}  // namespace

TEST_CASE("all figures there: nothing to say") { CHECK(figure_notes(disk()).empty()); }

TEST_CASE("widths that leave light out say how much") {
  TargetFigures target = disk();
  target.share_curve->share.back() = 0.6;
  REQUIRE(figure_notes(target).size() == 1);
  CHECK(figure_notes(target)[0] ==
        "plate: the widths hold shares of the 60 % of the reflected light that comes through the plane of the plate from its "
        "front; "
        "the other 40 % never does.");
}

TEST_CASE("missing figures say why") {
  TargetFigures target = disk();
  target.spot_width_50.reset(), target.spot_width_90.reset(), target.share_curve.reset();
  target.power.value = 0;
  REQUIRE(figure_notes(target).size() == 1);
  CHECK(figure_notes(target)[0] ==
        "plate: no spot width is given, as no reflected light comes through the plane of the plate from its front. Does its "
        "front face "
        "the mirror that sends the light? (turn)");
  target.power.value = 5;
  CHECK(figure_notes(target)[0].find("runs so flat to its plane") != std::string::npos);

  target = disk();
  target.peak_irradiance.reset();
  target.no_peak = NoPeak::point;
  REQUIRE(figure_notes(target).size() == 1);
  CHECK(figure_notes(target)[0] ==
        "plate: no brightest spot is given, as the light meets in a point (a brightness without end).");
  target.no_peak = NoPeak::few_paths;
  CHECK(figure_notes(target)[0] ==
        "plate: no brightest spot is given, as too few paths came to tell its place; trace more paths.");
  target.shape = "pot";
  CHECK(figure_notes(target).size() == 1);
}

TEST_CASE("darkest ink: the peak, but not where bins and disc show different things") {
  TargetFigures target = disk();
  CHECK(darkest_ink(target, 0.9e6) == 1e6);
  CHECK(darkest_ink(target, 1.2e6) == 1e6);
  CHECK(darkest_ink(target, 3e6) == 3e6);
  CHECK(darkest_ink(target, 0.5e6) == 0.5e6);
  CHECK(darkest_ink(target, 0) == 0);
  target.peak_irradiance.reset();
  CHECK(darkest_ink(target, 0.9e6) == 0.9e6);
}

TEST_CASE("shares of the notes are rounded to three digits, without powers of ten") {
  TargetFigures target = disk();
  target.share_curve->share.back() = 0.99412;
  CHECK(figure_notes(target)[0].find("the 99.4 % of the reflected light") != std::string::npos);
  CHECK(figure_notes(target)[0].ends_with("the other 0.588 % never does."));
  target.share_curve->share.back() = 1e-5;
  CHECK(figure_notes(target)[0].find("the 0.001 % of the reflected light") != std::string::npos);
  CHECK(figure_notes(target)[0].ends_with("the other 100 % never does."));
  target.share_curve->share.back() = 0.9951;
  CHECK(figure_notes(target).empty());
}
