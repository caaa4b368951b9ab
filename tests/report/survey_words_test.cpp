// SPDX-License-Identifier: MIT
// What is said of a survey, word for word, of made-up readings.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "figures_sample.h"
#include "report/survey/survey_report.h"

using namespace dishwright;
using sample::inch;

namespace {

/// A dish measured on rings of 6, 12, 18 in; nothing odd about it.
SurveyReport dish_report() {
  SurveyReport report;
  report.name = "dish";
  report.file.rings = {6 * inch, 12 * inch, 18 * inch};
  report.survey.points.points.resize(84, Vector3::Zero());
  report.survey.points.under_rim = true;
  for (int k = 0; k < 84; ++k) report.survey.points.rows.push_back(k + 2);
  report.survey.repeats.read = 84;
  report.survey.fits.fits.resize(3);
  const std::array<ShapeKind, 3> kinds = {ShapeKind::paraboloid, ShapeKind::sphere, ShapeKind::trough};
  const std::array<double, 3> rms = {0.053, 0.12, 4.56};  // [in]
  for (std::size_t k = 0; k < 3; ++k) {
    report.survey.fits.fits[k].shape.kind = kinds.at(k);
    report.survey.fits.fits[k].rms = rms.at(k) * inch;
  }
  report.survey.fits.clear = true;
  report.survey.figures.focal_length = {24.3 * inch, 0.1 * inch, "m"};
  report.survey.map.gap = 5 * inch;
  return report;
}

Eigen::Vector2d at_clock(double hours, double out) {
  const double angle = hours / 12 * 2 * std::numbers::pi;
  return {out * inch * std::sin(angle), out * inch * std::cos(angle)};
}

/// The report with light on a kettle: caught now, and after the best repair.
SurveyReport with_light(double now, double after, const std::string& kind, const Vector3& move = Vector3::Zero()) {
  SurveyReport report = dish_report();
  report.light = SurveyLight{};
  report.light->targets = {"kettle"};
  report.light->shares = {{now, 0.012, "1"}};
  report.light->as_read = {now};
  report.light->meant = {{0.97, std::nullopt, "1"}};
  if (!kind.empty()) report.light->repairs = {{kind, {after, 0.01, "1"}, move}};
  return report;
}

UseVerdict wave_verdict(double wavelengths) {
  return wave_use("speech", 4000, 343, {wavelengths * 343 / 4000, std::nullopt, "m"});
}

}  // namespace

TEST_CASE("lengths and slopes in two digits, without powers of ten") {
  CHECK(rough_length(0.0533 * inch, Units::us) == "0.053 in");
  CHECK(rough_length(0.00134, Units::si) == "1.3 mm");
  CHECK(rough_length(0.1234, Units::si) == "120 mm");
  CHECK(rough_length(0, Units::si) == "0 mm");
  CHECK(mrad_text({0.0123, 0.0008, "rad"}) == "12.3 ± 0.8 mrad");
  CHECK(mrad_text({0.0123, std::nullopt, "rad"}) == "12.3 mrad");
  CHECK(per_cent_text(2.64) == "+2.6 %");
  CHECK(per_cent_text(-0.04) == "+0.0 %");
  CHECK(per_cent_text(-12.35) == "-12.4 %");
}

TEST_CASE("places: ring and clock, out and clock, x and y") {
  SurveyReport report = dish_report();
  CHECK(place_words(report, at_clock(4, 17.5)) == "ring 3, 4 o'clock");
  CHECK(place_words(report, at_clock(0, 6.5)) == "ring 1, 12 o'clock");
  CHECK(place_words(report, at_clock(11.5, 12)) == "ring 2, between 11 and 12 o'clock");
  CHECK(place_words(report, at_clock(12.5, 12)) == "ring 2, between 12 and 1 o'clock");
  CHECK(place_words(report, at_clock(11.8, 12)) == "ring 2, 12 o'clock");
  CHECK(place_words(report, at_clock(7.24, 12)) == "ring 2, 7 o'clock");
  CHECK(place_words(report, at_clock(7, 2.9)) == "in the middle");
  report.file.rings.clear();
  CHECK(place_words(report, at_clock(9, 7)) == "7 in out, 9 o'clock");
  report.units = Units::si;
  CHECK(place_words(report, at_clock(9, 7)) == "178 mm out, 9 o'clock");
  report.units = Units::us;
  report.file.places = PlaceWords::cloud;
  CHECK(place_words(report, {6 * inch, -12.25 * inch}) == "x 6 in, y -12 1/4 in");
  report.file.places = PlaceWords::rings;
  report.survey.fits.best = ShapeKind::trough;
  CHECK(place_words(report, {-1.5 * inch, 0}) == "x -1 1/2 in, y 0 in");
}

TEST_CASE("spots: high or low, how wide; finer marks for small ones") {
  SurveyReport report = dish_report();
  Spot spot;
  spot.place = at_clock(4, 18), spot.across = 5 * inch, spot.samples = {0, 1};
  const auto words = [&](double height, Units units) {
    report.units = units;
    spot.height = height;
    return spot_words(report, spot);
  };
  CHECK(words(0.125 * inch, Units::us) == "ring 3, 4 o'clock: 1/8 in high over 5 in");
  CHECK(words(-0.06 * inch, Units::us) == "ring 3, 4 o'clock: 1/16 in low over 5 in");
  CHECK(words(-0.09 * inch, Units::us) == "ring 3, 4 o'clock: 3/32 in low over 5 in");
  CHECK(words(0.02 * inch, Units::us) == "ring 3, 4 o'clock: less than 1/32 in high over 5 in");
  CHECK(words(0.0032, Units::si) == "ring 3, 4 o'clock: 3 mm high over 127 mm");
  CHECK(words(-0.0002, Units::si) == "ring 3, 4 o'clock: less than 0.5 mm low over 127 mm");
}

TEST_CASE("a spot of one reading alone is to be read again") {
  SurveyReport report = dish_report();
  report.survey.fits.fits[0].kept = 84;
  report.survey.map.samples.resize(84);
  Spot spot;
  spot.place = at_clock(4, 18), spot.across = 5 * inch, spot.height = 0.125 * inch, spot.samples = {7};
  CHECK(spot_words(report, spot) == "ring 3, 4 o'clock: 1/8 in high over 5 in (one reading alone: read it again first)");
  report.survey.points.counts.assign(84, 2);  // the mean of two
  CHECK(spot_words(report, spot) == "ring 3, 4 o'clock: 1/8 in high over 5 in");
}

TEST_CASE("uses: light by its share, no finer than a tenth of a per cent") {
  CHECK(use_words(light_use("kettle", {0.9312, 0.0123, "1"}, 0.9)) ==
        "kettle: catches 93.1 ± 1.2 % of the mirror's light; wanted 90 %");
  CHECK(use_words(light_use("kettle", {0.99812, 0.0001, "1"}, 0.9)) ==
        "kettle: catches 99.8 % of the mirror's light; wanted 90 %");
  CHECK(use_words(light_use("kettle", {1, std::nullopt, "1"}, 0.9)) ==
        "kettle: catches 100 % of the mirror's light; wanted 90 %");
  CHECK(use_words(light_use("kettle", {0.0002, std::nullopt, "1"}, 0.9)) ==
        "kettle: catches 0 % of the mirror's light; wanted 90 %");
}

TEST_CASE("uses: waves by the part of a wavelength, from next to nothing to several") {
  const auto off = [](double wavelengths) { return use_words(wave_verdict(wavelengths)); };
  // Ruze (1966): 4.3429 (4π/20)² = 1.71 dB.
  CHECK(off(1 / 19.99) ==
        "speech: the surface is off by 1/19 of a wavelength (rms); up to 1/16 is common practice; that costs 1.72 dB of gain");
  CHECK(off(1e-5) ==
        "speech: the surface is off by next to nothing (rms); up to 1/16 is common practice; that costs 0.00 dB of gain");
  CHECK(off(0.499).find(" off by 1/2 of a wavelength (rms)") != std::string::npos);
  CHECK(off(0.77).find(" off by 0.77 of a wavelength (rms)") != std::string::npos);
  CHECK(off(1.333).find(" off by 1.3 wavelengths (rms)") != std::string::npos);
  CHECK(off(123.4).find(" off by 120 wavelengths (rms)") != std::string::npos);
}

TEST_CASE("over all uses: the worst counts") {
  const auto over = [](std::vector<Verdict> verdicts) {
    std::vector<UseVerdict> uses(verdicts.size());
    for (std::size_t k = 0; k < uses.size(); ++k) uses[k].verdict = verdicts[k];
    return overall(uses);
  };
  CHECK(over({}) == Verdict::pass);
  CHECK(over({Verdict::pass, Verdict::too_close}) == Verdict::too_close);
  CHECK(over({Verdict::too_close, Verdict::fail, Verdict::pass}) == Verdict::fail);
}

TEST_CASE("what to do first: the best repair, if it is worth it") {
  CHECK(repair_words(with_light(0.62, 0.91, "move target", {-0.25 * inch, 0, -0.5 * inch})) ==
        "First, move the kettle 1/2 in toward the dish, 1/4 in to the left (seen from the sun side). The kettle would then catch "
        "91 % of "
        "the mirror's light instead of 62 %.");
  CHECK(repair_words(with_light(0.62, 0.91, "move target", {0.25 * inch, 0.5 * inch, 1 * inch})) ==
        "First, move the kettle 1 in away from the dish, 1/4 in to the right, 1/2 in up (seen from the sun side). The kettle "
        "would then "
        "catch 91 % of the mirror's light instead of 62 %.");
  CHECK(repair_words(with_light(0.62, 0.91, "flatten spots"))
            .starts_with("First, bring the worst spots, listed above, level with the skin around them. The kettle "));
  CHECK(repair_words(with_light(0.62, 0.91, "smooth surface"))
            .starts_with(
                "First, smooth the whole skin: lay a batten over it, every 3 to 4 in, and take out what rocks or shows light. "));
  CHECK(repair_words(with_light(0.933, 0.94, "flatten spots")) ==
        "No repair gains as much as 1 %: the kettle catches 93.3 ± 1.2 % as it is.");
}

TEST_CASE("what to do first without light: the focus, then the spots") {
  SurveyReport report = dish_report();
  CHECK(repair_words(report) ==
        "Put what is to be heated, heard or fed 24 5/16 in above the lowest point of the mirror, where its focus really is.");
  report.survey.spots.resize(1);
  report.units = Units::si;
  CHECK(repair_words(report) ==
        "Put what is to be heated, heard or fed 617 mm above the lowest point of the mirror, where its focus really is. Then "
        "bring the "
        "worst spots level, the first of the list first.");
}

TEST_CASE("which shape fits, beyond doubt or not, and what is left over") {
  SurveyReport report = dish_report();
  CHECK(fit_words(report) == "A paraboloid fits best. Left over (rms): paraboloid 0.053 in, sphere 0.12 in, trough 4.6 in.");
  report.survey.fits.clear = false;
  report.survey.fits.best = ShapeKind::sphere;
  report.units = Units::si;
  CHECK(fit_words(report) ==
        "A sphere fits, but these readings cannot tell it from the next best shape for certain. Left over (rms): paraboloid 1.3 "
        "mm, "
        "sphere 3 mm, trough 120 mm.");
}

TEST_CASE("the noise of the readings: by repeats, by the rule's marks, by their scatter") {
  SurveyReport report = dish_report();
  report.survey.map.scatter_rms = 4.26e-3;
  report.survey.map.reading_scatter = 0.0123 * inch;
  const std::string hidden = "Dents and waves smaller than about 5 in can hide between the readings.";
  CHECK(reading_words(report) ==
        std::vector<std::string>{
            "The scatter of the readings, 0.012 in, makes a slope noise of 4.3 mrad in the map. It has been taken out "
            "of the figures above.",
            hidden});
  report.survey.points.step = inch / 16;
  report.survey.map.spacing = 4 * inch;
  // √2 · (1/16)/√12/4 = 6.4 mrad.
  CHECK(reading_words(report)[0] ==
        "Readings to the nearest 1/16 in at this spacing make a slope noise of about 6.4 mrad from one reading to the next. It "
        "has been "
        "taken out of the figures above; only its uncertainty is left in them.");
  report.survey.points.noise.freedom = 20;
  CHECK(reading_words(report)[0] ==
        "That noise makes 4.3 mrad of slope in the map. It has been taken out of the figures above; only its uncertainty is left "
        "in them.");
  report.survey.figures.tilt.std_error = 0.6 * std::numbers::pi / 180;
  report.file.notes = {"2 empty lines were passed over"};
  CHECK(reading_words(report).size() == 4);
  CHECK(reading_words(report)[2].starts_with("A shallow dish hardly tells a tilt from a sideways shift"));
  CHECK(reading_words(report)[3] == "2 empty lines were passed over.");
}

TEST_CASE("how the share was found: what the noise of the readings has cost or added") {
  SurveyReport report = with_light(0.90, 0.95, "");
  const auto words = [&] { return reading_words(report).back(); };
  CHECK(words() ==
        "The share caught is traced on the measured surface itself. Its ± is of the surface as it was read, with the noise of "
        "the readings.");
  report.light->as_read = {0.884};
  CHECK(
      words().ends_with("Its ± is of the surface as it was read, with the noise of the readings; that noise alone would have "
                        "cost 1.6 %, which has been put back."));
  report.light->as_read = {0.916};
  CHECK(
      words().ends_with("Its ± is of the surface as it was read, with the noise of the readings; that noise alone would have "
                        "added 1.6 %, which has been taken off."));
  report.light->as_read = {0.9004};
  report.survey.map.humps.resize(1), report.survey.map.points.resize(1), report.survey.map.samples.resize(1);
  report.survey.map.area = 1;
  report.survey.map.rms = {0, std::nullopt, "rad"};
  CHECK(words().find("the noise of the readings and the doubt about spots that only one reading met.") != std::string::npos);
}

TEST_CASE("slopes that smoothing takes away are told from half a milliradian on") {
  SurveyReport report = with_light(0.90, 0.95, "");
  report.survey.map.rms = {4.26e-3, std::nullopt, "rad"};  // and none of it in the (empty) smooth map
  CHECK(reading_words(report).back() ==
        "The share caught is traced on the measured surface itself, with 4.3 mrad of random slopes that the readings show but a "
        "smooth "
        "surface through them does not. Its ± is of the surface as it was read, with the noise of the readings.");
  report.survey.map.rms.value = 0.49e-3;
  CHECK(reading_words(report).back().find("random slopes") == std::string::npos);
}

TEST_CASE("places read more than once: one and several, copies, too few, and which disagree") {
  SurveyReport report = dish_report();
  Repeats& repeats = report.survey.repeats;
  CHECK(repeat_words(report).empty());
  repeats.repeated = 1, repeats.read = 85, repeats.alike = true;
  CHECK(repeat_words(report) ==
        std::vector<std::string>{
            "1 of 84 places was read more than once, 85 readings in all. Each place counts once, with the mean of its "
            "readings; its readings are all alike, as copies are, so they say nothing of the noise."});
  repeats.repeated = 12, repeats.read = 100, repeats.alike = false, repeats.scatter = 0.0312 * inch, repeats.freedom = 16;
  CHECK(repeat_words(report)[0] ==
        "12 of 84 places were read more than once, 100 readings in all. Each place counts once, with the mean of its readings; "
        "one reading "
        "scatters about it by 0.031 in, but that is from too few places to stand for all.");
  report.survey.points.noise = {0.0312 * inch, 16, 0.8};
  CHECK(repeat_words(report)[0].ends_with(
      "one reading scatters about it by 0.031 in (standard deviation, 16 degrees of freedom). That is "
      "the noise of these readings."));
  report.survey.points.step = inch / 4;  // √(1/16/12 − 0.0312²) > 0
  CHECK(
      repeat_words(report)[0].ends_with("That is the noise of these readings; of the rounding to the rule's marks, the part that "
                                        "repeats do not show is counted, too."));
  repeats.wild = {{93, 20, -10 * inch, true, 3}, {17, 16, 0.75 * inch, false, 4}};
  CHECK(repeat_words(report).size() == 2);
  CHECK(repeat_words(report)[1] ==
        "Lines 16 and 17 are of one place and lie 3/4 in apart. Nothing says which is wrong, so their mean counts: read that "
        "place again.");
  CHECK(wild_words(report, repeats.wild[0]) == "line 93: 10 in low (too deep) of line 20, which is of the same place");
  report.file.row_word = "point";
  CHECK(repeat_words(report)[1].starts_with("Points 16 and 17 are of one place"));
  CHECK(wild_words(report, {5, 4, 0.01, true, 0}) == "point 5: 3/8 in high (too shallow) of point 4, which is of the same place");
}

TEST_CASE("readings set aside, and the count of all") {
  SurveyReport report = dish_report();
  CHECK(count_words(report) == "84 readings");
  CHECK(outlier_words(report, {12, -1.06 * inch, -0.06 * inch}) == "line 14: 1 in low (too deep) of its neighbours");
  CHECK(outlier_words(report, {0, 0.5 * inch, 0.25 * inch}) == "line 2: 1/4 in high (too shallow) of its neighbours");
  report.survey.set_aside = {{12, -0.02, 0}};
  report.survey.repeats.wild = {{93, 20, -0.02, true, 3}, {17, 16, 0.01, false, 4}};
  report.survey.repeats.repeated = 5, report.survey.repeats.read = 90;
  report.survey.points.step = inch / 16;
  report.survey.points.skin = inch / 8;
  CHECK(readings_aside(report.survey) == 2);
  CHECK(count_words(report) == "90 readings at 84 places, 2 set aside, to the nearest 1/16 in, outside a skin of 0.125 in");
}

TEST_CASE("measured against the design") {
  SurveyReport report = with_light(0.93, 0.95, "");
  report.meant_focal_length = 24 * inch;
  std::vector<DesignLine> lines = design_lines(report);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].figure == "focal length");
  CHECK(per_cent_text(lines[0].per_cent.value()) == "+1.3 %");  // 24.3 / 24: 1.25, halves away from zero
  report.scene = sample::kettle_scene();
  report.survey.figures.meeting = {Estimate{0.3 * inch, 0.03 * inch, "m"}, Estimate{-0.4 * inch, 0.04 * inch, "m"}};
  lines = design_lines(report);
  REQUIRE(lines.size() == 4);
  CHECK(lines[1].figure == "light meets off the middle by");
  CHECK(lines[1].measured.value / inch == testing::approx(0.5));
  CHECK(lines[1].measured.std_error.value() / inch == testing::approx(0.05 / std::numbers::sqrt2));
  CHECK(!lines[1].per_cent);  // the design says 0
  CHECK(lines[2].figure == "slope error, one axis");
  CHECK(lines[2].meant == 4e-3);
  CHECK(!lines[2].per_cent == (lines[2].measured.unit == "rad"));
  CHECK(lines[3].figure == "share on the kettle");
  CHECK(per_cent_text(lines[3].per_cent.value()) == "-4.1 %");
}
