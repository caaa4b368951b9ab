// SPDX-License-Identifier: MIT
// What is said of the gaps between readings and of a dish bent unlike, word for word, of made-up figures.
#include <doctest/doctest.h>

#include <array>
#include <numbers>

#include "approx.h"
#include "figures_sample.h"
#include "report/survey/survey_hidden.h"

using namespace dishwright;
using sample::inch;

namespace {

/// Rings 8, 16 and 24 in out with 12 places each.
SurveyReport ring_report() {
  SurveyReport report;
  report.file.rings = {8 * inch, 16 * inch, 24 * inch};
  for (const double radius : report.file.rings) {
    HiddenRing ring;
    ring.radius = radius;
    for (int k = 0; k < 12; ++k) ring.angles.push_back(-std::numbers::pi + (k + 0.5) * std::numbers::pi / 6);
    ring.gap = radius / 2, ring.height = radius / 60;
    report.survey.hidden.rings.push_back(ring);
  }
  report.light = SurveyLight{};
  report.light->targets = {"kettle"};
  report.light->shares = {{0.98, 0.01, "1"}};
  report.light->at_risk = {0.123};
  report.light->ring_risks = {0, 0.04, 0.1};
  report.survey.hidden.rings[1].gap = 7.5 * inch;
  return report;
}

}  // namespace

TEST_CASE("the widest gap in words, the waves ring by ring") {
  const std::vector<std::string> words = hidden_words(ring_report());
  REQUIRE(words.size() == 2);
  CHECK(words[0] ==
        "At the rim your readings are 12 in apart along the ring: a wave 24 in long is not seen, nor is any dent between them. "
        "Think of a skin that is flat from reading to reading, up to 0.4 in off the curve (traced so). It would cost the kettle "
        "12.3 % of the mirror's light.");
  CHECK(words[1] ==
        "Longest wave that is not seen, ring by ring: 8 in, 15 in, 24 in. Check the skin between with a thin batten.");
}

TEST_CASE("a pass so far says what to read besides; the others say nothing more") {
  SurveyReport report = ring_report();
  const UseVerdict so_far = light_use("kettle", report.light->shares[0], 0.9, 0.123);
  CHECK(so_far.verdict == Verdict::so_far);
  CHECK(verdict_words(report, so_far) ==
        "kettle: catches 98.0 ± 1.0 % of the mirror's light; wanted 90 %. It passes as far as 12 hours can see: read the outer "
        "ring at "
        "the half hours too");
  const UseVerdict pass = light_use("kettle", report.light->shares[0], 0.9, 0.01);
  CHECK(pass.verdict == Verdict::pass);
  CHECK(verdict_words(report, pass) == use_words(pass));
  report.survey.hidden.rings[1].gap = 10 * inch;
  CHECK(verdict_words(report, so_far).find("read the outer 2 rings at the half hours too") != std::string::npos);
  // What hides never turns a fail or a doubt into anything else.
  CHECK(light_use("kettle", {0.5, 0.01, "1"}, 0.9, 0.1).verdict == Verdict::fail);
  CHECK(light_use("kettle", {0.91, 0.01, "1"}, 0.9, 0.1).verdict == Verdict::too_close);
  CHECK(wave_use("x", 1e9, 3e8, {0.3 / 20, 0, "m"}, 0.3 / 17).verdict == Verdict::so_far);
  CHECK(wave_use("x", 1e9, 3e8, {0.3 / 20, 0, "m"}, 0.3 / 40).verdict == Verdict::pass);
}

TEST_CASE("the same as JSON; readings on no rings have one entry") {
  SurveyReport report = ring_report();
  const Json rings = hidden_json(report);
  REQUIRE(rings.size() == 3);
  CHECK(rings[2]["ring"] == 3);
  CHECK(rings[2]["places"] == 12);
  CHECK(rings[2]["wave"]["value"].get<double>() == testing::approx(24 * inch).epsilon(1e-9));
  CHECK(rings[1]["share_at_risk"]["value"] == 0.04);
  report.survey.hidden = {};
  report.survey.hidden.gap = 3 * inch, report.survey.hidden.slope = 0.01;
  const Json none = hidden_json(report);
  REQUIRE(none.size() == 1);
  CHECK(none[0]["ring"].is_null());
  CHECK(none[0]["share_at_risk"]["value"] == 0.123);
  report.light.reset();
  CHECK(hidden_json(report)[0]["share_at_risk"].is_null());
}

TEST_CASE("two focal lengths, by the clock and by x and y; a slope error near zero is a limit") {
  SurveyReport report = ring_report();
  CHECK(two_lengths_words(report).empty());
  TwoFocalLengths two;
  two.shorter = {18.9 * inch, 0.1 * inch, "m"}, two.longer = {21.3 * inch, 0.1 * inch, "m"};
  two.matters = true;
  report.survey.two = two;
  report.file.places = PlaceWords::rings;
  CHECK(two_lengths_words(report) ==
        "It is bent more one way than the other: focal length 18.9 ± 0.1 in along 3 and 9 o'clock, 21.3 ± 0.1 in along 12 "
        "and 6 "
        "o'clock. What follows is of the round dish between.");
  report.survey.two->short_direction = std::numbers::pi / 6;  // 2 o'clock
  CHECK(two_lengths_words(report).find("along 2 and 8 o'clock") != std::string::npos);
  report.file.places = PlaceWords::grid;
  CHECK(two_lengths_words(report).find("along 30 degrees from x toward y") != std::string::npos);
  CHECK(slope_words({0.0071, 0.0015, "rad"}) == "7.1 ± 1.5 mrad");
  CHECK(slope_words({0.0005, 0.0015, "rad"}) == "not more than 2 mrad (these readings cannot tell it from none)");
}

TEST_CASE("a twist is told as one, with its repair; a small difference is not told") {
  SurveyReport report = ring_report();
  TwoFocalLengths two;
  two.shorter = {23 * inch, 0.1 * inch, "m"}, two.longer = {25 * inch, 0.1 * inch, "m"};
  two.short_direction = std::numbers::pi / 4;
  two.across = {0.02 / (24 * inch), 0.001 / (24 * inch), "1/m"};
  two.saddle << 0, two.across.value, two.across.value, 0;
  report.survey.two = two;
  report.scene = Scene{};
  report.scene->reflectors.emplace_back();
  report.scene->reflectors.front().shape = Paraboloid{24 * inch, 48 * inch, 0};
  CHECK(two_lengths_words(report).empty());
  CHECK_FALSE(twist_of(report).has_value());
  report.survey.two->matters = true;
  REQUIRE(twist_of(report).has_value());
  CHECK(twist_of(report)->value == testing::approx(0.02).epsilon(1e-9));
  CHECK(two_lengths_words(report) ==
        "It is twisted, by 20.0 ± 1.0 mrad: the rim stands high at 1 1/2 and 7 1/2 o'clock and low at 10 1/2 and 4 1/2 o'clock. "
        "What follows is of the dish without the twist.");
  report.survey.fits.fits.emplace_back();  // a paraboloid
  report.light->shares = {{0.5, 0.01, "1"}}, report.light->repairs = {{"even out", {0.8, 0.01, "1"}, {}}};
  CHECK(repair_words(report) ==
        "First, take the twist out: bring the rim down at 1 1/2 and 7 1/2 o'clock, until it stands alike all round. The kettle "
        "would "
        "then catch 80 % of the mirror's light instead of 50 %.");
  // What gains no light is not proposed.
  report.light->repairs.clear();
  CHECK(repair_words(report) == "No repair gains as much as 1 %: the kettle catches 50.0 ± 1.0 % as it is.");
}

TEST_CASE("petals and designs in words") {
  SurveyReport report = ring_report();
  auto made = std::make_shared<MeantSurface>();
  made->key = "petals", made->word = "a dish of 12 flat petals", made->pieces = 12, made->focal_length = 1, made->found = true;
  ShapeFit fit;
  fit.shape.kind = ShapeKind::meant, fit.shape.meant = made, fit.rms = 0.02 * inch;
  report.survey.fits.fits = {fit};
  report.survey.fits.best = ShapeKind::meant, report.survey.fits.clear = true;
  CHECK(fit_words(report) == "The dish is made of 12 flat petals. Left over (rms): petals 0.02 in.");
  for (HiddenRing& ring : report.survey.hidden.rings) ring.pieces_shown = true;
  CHECK(hidden_words(report).front().rfind(
            "Middle and seams of every petal were read: between them a sheet is taken to be straight.", 0) == 0);
  auto design = std::make_shared<MeantSurface>(*made);
  design->found = false, design->word = "a dish of 12 petals";
  report.survey.fits.fits[0].shape.meant = design;
  CHECK(fit_words(report) == "Held against the design, a dish of 12 petals. Left over (rms): design 0.02 in.");
  report.survey.fits.clear = false;
  CHECK(fit_words(report).find("but a plain paraboloid fits these readings better") != std::string::npos);
}
