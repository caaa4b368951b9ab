// SPDX-License-Identifier: MIT
#include "report/trace/summary.h"

#include <doctest/doctest.h>

#include <sstream>

#include "figures_sample.h"
#include "report/numbers/text_layout.h"
#include "report/trace/why.h"

using namespace dishwright;

namespace {

std::string kettle_summary(const TraceFigures& figures, Units units = Units::us) {
  return summary(sample::kettle_scene(), "kettle-dish", "0123456789ab", figures, units);
}

void check_has(const std::string& text, const std::string& part) {
  CAPTURE(text);
  CAPTURE(part);
  CHECK(text.find(part) != std::string::npos);
}

}  // namespace

TEST_CASE("the answer is a text of its own, with its error and what it is a part of") {
  const std::string text = kettle_summary(sample::kettle_figures());
  check_has(text, "Kettle dish\n===========\nSun: 850 W/m² on a surface that faces it;");
  check_has(text,
            "Note: no half_angle given: 4.65 mrad taken\n\nLight on the kettle\n  Power by the mirror           712 ± 1 W\n");
  CHECK(trace_answer(sample::kettle_scene(), sample::kettle_figures(), Units::us) ==
        "\nAnswer\n  Light on the kettle: 712 ± 1 W of the 993 W that meet the dish. It catches\n"
        "    94.3 ± 0.2 % of the mirror's light.\n  Read the CAUTION above before you use it.\n");
}

TEST_CASE("the answer tells eight targets, and how many more there are; what is odd is told there again") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets.resize(11, figures.targets[0]);
  Scene scene = sample::kettle_scene();
  scene.oddities = {"target.kettle stands behind every mirror."};
  const std::string text = trace_answer(scene, figures, Units::us);
  CHECK(text.starts_with("\nAnswer\n  Look at this first: target.kettle stands behind every mirror.\n  Light on the kettle: "));
  std::size_t told = 0;
  for (std::size_t at = text.find("Light on"); at != std::string::npos; at = text.find("Light on", at + 1)) ++told;
  CHECK(told == 8);
  check_has(text, "\n  3 more targets: above.\n");
}

TEST_CASE("replicates, method and places on the mirror are told only where they are asked for") {
  TraceFigures rays = sample::kettle_figures(), sum = sample::kettle_figures();
  sum.method = "quadrature", sum.paths = 80;
  for (const TraceFigures& figures : {rays, sum}) {
    const auto text = [&](Detail detail) {
      return summary(sample::kettle_scene(), "kettle-dish", "0123456789ab", figures, Units::us, detail);
    };
    for (const char* word : {"replicate", "quadrature", "places", "rays"})
      CHECK(text(Detail::answer).find(word) == std::string::npos);
  }
  const std::string told = summary(sample::kettle_scene(), "x", "0", rays, Units::us, Detail::method);
  check_has(told, "32 replicates");
  check_has(told, "rays");
  const std::string summed = summary(sample::kettle_scene(), "x", "0", sum, Units::us, Detail::method);
  check_has(summed, "quadrature; 80 in the end");
  check_has(summed, "80 places on the mirror");
}

TEST_CASE("the figures, in inches") {
  const std::string text = kettle_summary(sample::kettle_figures());
  check_has(text,
            "  Share of mirror light caught  94.3 ± 0.2 %\n"
            "  Brightest spot                52.3 ± 0.9 kW/m²\n"
            "    in suns (1 sun = 850 W/m²)  61.6 ± 1.0\n"
            "  Mean over all its 28.3 in²    39.1 kW/m²\n"
            "  Half of the light is within   a circle 0.610 ± 0.008 in across\n"
            "  90 % of the light is within   a circle 1.33 ± 0.01 in across\n"
            "  Rms radius on the target      0.437 ± 0.004 in\n"
            "  Centre of the light, x        0.500 ± 0.004 in\n"
            "  Centre of the light, y        0.000 ± 0.004 in\n"
            "  Straight from the sun         15.5 W (extra, not counted above)\n");
  check_has(text, "Where it lands on the kettle (front), seen from the sun (x right, y up):");
}

TEST_CASE("the figures, in millimetres; a rectangle has bands") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].shape = "rectangle";
  const std::string text = kettle_summary(figures, Units::si);
  check_has(text, "  Mean over all its 182 cm²     39.1 kW/m²\n");
  check_has(text, "  Half of the light is within   a band 15.5 ± 0.2 mm wide\n");
  check_has(text, "x [mm]");
}

// Student's t, two-sided 95 %: 2.0395 for 31 degrees of freedom, 2.1314 for 15 (any table of the t distribution).
TEST_CASE("how sure: the intervals belong to the number of replicates") {
  const std::string text = kettle_summary(sample::kettle_figures());
  check_has(text, "2.04 ×. Figures are given to three digits");
  TraceFigures few = sample::kettle_figures();
  few.replicates = 5;  // 1.1342 and 2.7764 for 4 degrees of freedom
  check_has(kettle_summary(few), "1.13 ×");
  check_has(kettle_summary(few), "2.78 ×");
  TraceFigures one = sample::kettle_figures();
  one.replicates = 1;
  check_has(kettle_summary(one), "So few paths were traced that there is no ±.");
}

TEST_CASE("caution and settings close the page") {
  const std::string text = kettle_summary(sample::kettle_figures());
  check_has(text, "CAUTION: up to 52 kW/m²: skin burns in under a second");
  CHECK(text.ends_with("0123456789ab\n"));
  CHECK(text.find("CAUTION") < text.find("dishwright "));
}

TEST_CASE("no line is wider than 80 characters or ends in a space") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].power = {1.234e9, 6e6, "W"};
  figures.targets[0].name = "a target with a rather long name that somebody thought was a good one";
  for (const TraceFigures& each : {sample::kettle_figures(), figures}) {
    std::istringstream in(kettle_summary(each));
    for (std::string line; std::getline(in, line);) {
      CAPTURE(line);
      CHECK(characters(line) <= text_width);
      CHECK_FALSE(line.ends_with(' '));
    }
  }
}

TEST_CASE("a target in the dark reads well") {
  TraceFigures figures = sample::kettle_figures();
  TargetFigures& target = figures.targets[0];
  target = TargetFigures{};
  target.name = "kettle";
  target.shape = "disk";
  target.area = 0.01824;
  target.power = {0, 0, "W"};
  target.direct_power = {0, std::nullopt, "W"};
  target.intercept = Estimate{0, 0, "1"};
  target.mean_irradiance = Estimate{0, 0, "W/m2"};
  figures.ledger = {{"kettle", {0, 0, "W"}}, {"missed", {993.2, 0, "W"}}};
  const std::string text = kettle_summary(figures);
  check_has(text, "Light on the kettle\n  Power by the mirror           0 W\n  Share of mirror light caught  0 %\n");
  check_has(trace_answer(sample::kettle_scene(), figures, Units::us),
            "Light on the kettle: 0 W of the 993 W that meet the dish.");
  check_has(text, "No mirror light lands here, so there is no picture.");
  check_has(text, "  in all            993   100.0\n");
}

TEST_CASE("a spot as small as light's wave allows is told so: 1.07 λ f/D holds half of the light (Airy's disc)") {
  // f/D = 1/2: 1.07 × 0.55 µm / 2 = 0.29 µm; the note comes below ten times that.
  Scene scene = sample::kettle_scene();
  TraceFigures figures;
  TargetFigures target;
  target.name = "kettle";
  target.spot_width_50 = Estimate{2.8e-6, 0, "m"};
  figures.targets = {target};
  CHECK(wave_limit_note(scene, figures, 0).find("0.29 µm") != std::string::npos);
  figures.targets[0].spot_width_50->value = 3.1e-6;
  CHECK(wave_limit_note(scene, figures, 0).empty());
  figures.targets[0].spot_width_50.reset();
  CHECK(wave_limit_note(scene, figures, 0).empty());
}

TEST_CASE("what is odd about a scene stands above everything else") {
  Scene scene = sample::kettle_scene();
  scene.oddities = {"target.kettle stands behind every mirror: no reflected light can reach it."};
  const std::string text = summary(scene, "kettle-dish", "0123456789ab", sample::kettle_figures(), Units::us);
  CHECK(text.rfind(
            "Look at this first: target.kettle stands behind every mirror: no reflected light\n  can reach it.\n\nKettle dish\n",
            0) == 0);
}

TEST_CASE("the ledger, line by line, to one place; huge powers have their power of ten in the head") {
  const Scene scene = sample::kettle_scene();
  TraceFigures figures = sample::kettle_figures();
  CHECK(summary(scene, "kettle", "x", figures, Units::us)
            .find("\nWhere the light that meets the dish went\n"
                  "                      W       %\n"
                  "  landed on kettle  712    71.7\n"
                  "  shaded by kettle   16     1.6\n"
                  "  absorbed by dish  137    13.8\n"
                  "  missed            128    12.9\n"
                  "  -----------------------------\n"
                  "  in all            993   100.0\n") != std::string::npos);
  figures.ledger = {{"kettle", {1.2344e9, 6e6, "W"}}, {"missed", {100, std::nullopt, "W"}}};
  const std::string huge = summary(scene, "kettle", "x", figures, Units::us);
  CHECK(huge.find("(1.23 ± 0.01) × 10^9 W") == std::string::npos);
  CHECK(huge.find("10^9 W") != std::string::npos);
  CHECK(huge.find("  1.23") != std::string::npos);
  CHECK(huge.find("<0.01") != std::string::npos);
  CHECK(huge.find("<0.1\n") != std::string::npos);
}
