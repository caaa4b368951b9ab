// SPDX-License-Identifier: MIT
// What a sweep says, word for word, of made-up points.
#include "report/sweep/sweep_words.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "base/quantity.h"
#include "figures_sample.h"
#include "report/sweep/sweep_outputs.h"

using namespace dishwright;

namespace {

const Unit* unit_of(std::string_view symbol) {
  for (const Unit& unit : all_units()) {
    if (unit.symbol == symbol) return &unit;
  }
  return nullptr;
}

SweepAxis axis(const std::string& key, std::string_view symbol, const std::vector<double>& values) {
  const Unit* unit = symbol.empty() ? nullptr : unit_of(symbol);
  SweepAxis out{key, unit == nullptr ? Dimension::number : unit->dimension, "", unit, {}};
  for (const double value : values) out.values.push_back(unit == nullptr ? value : value * unit->scale + unit->zero);
  return out;
}

/// One figure over the values of one axis; NAN where a point has none.
Sweep sweep_of(const SweepAxis& axis, const std::string& figure, const std::vector<double>& values) {
  Sweep sweep;
  sweep.scene = sample::kettle_scene();
  sweep.target = "kettle";
  sweep.axes = {axis};
  for (std::size_t k = 0; k < values.size(); ++k) {
    SweepPoint point;
    point.at = {axis.values[k]};
    point.method = "quadrature";
    const bool none = std::isnan(values[k]);
    point.figures = {{figure, none ? std::nullopt : std::optional(Estimate{values[k], std::nullopt, "1"})}};
    sweep.points.push_back(point);
  }
  return sweep;
}

std::string aim_sentence(const std::vector<double>& shares) {
  std::vector<double> degrees;
  for (std::size_t k = 0; k < shares.size(); ++k) degrees.push_back(static_cast<double>(k));
  return sweep_sentence(sweep_of(axis("sun.aim_error", "deg", degrees), "intercept", shares), "intercept", Units::us);
}

}  // namespace

TEST_CASE("share caught: both ends, most and least in between, and where it is 90 % or more") {
  // 0.95 → 0.85 from 1 to 2 deg: 0.9 at 1.5 deg.
  CHECK(aim_sentence({0.95, 0.95, 0.85}) ==
        "The share caught is 95 % at 0 deg and 85 % at 2 deg. It is 90 % or more from 0 deg to about 1.5 deg.");
  // 0.8 → 1: 0.9 at 0.5; 1 → 0.7: 0.9 at 1 1/3.
  CHECK(
      aim_sentence({0.8, 1, 0.7}) ==
      "The share caught is 80 % at 0 deg and 70 % at 2 deg. It is most at 1 deg: 100 %. It is 90 % or more from about 0.5 deg to "
      "about 1.33 deg.");
  CHECK(aim_sentence({1, 0.8, 0.96}) ==
        "The share caught is 100 % at 0 deg and 96 % at 2 deg. It is least at 1 deg: 80 %. It is 90 % or more from 0 deg to "
        "about 0.5 deg "
        "and from about 1.63 deg to 2 deg.");
  CHECK(aim_sentence({0.9, 0.95}) == "The share caught is 90 % at 0 deg and 95 % at 1 deg. It is 90 % or more all the way.");
  CHECK(aim_sentence({0.2, 0.1}) == "The share caught is 20 % at 0 deg and 10 % at 1 deg. It is below 90 % all the way.");
}

TEST_CASE("where 90 % end and begin: straight lines between the points, told and marked") {
  // 0.95 → 0.85 from 1 to 2 deg, then up again: 0.85 → 0.95 from 3 to 4.
  Sweep sweep = sweep_of(axis("sun.aim_error", "deg", {0, 1, 2, 3, 4}), "intercept", {1, 0.95, 0.85, 0.85, 0.95});
  const std::vector<ShareEdge> edges = share_edges(sweep);
  REQUIRE(edges.size() == 2);
  CHECK(edges[0].ends);
  CHECK_FALSE(edges[1].ends);
  CHECK(edges[0].at * 180 / std::numbers::pi == testing::approx(1.5));
  CHECK(edges[1].at * 180 / std::numbers::pi == testing::approx(3.5));
  CHECK(edge_sentence(sweep) == "90 % ends at about 1.5 deg. 90 % begins at about 3.5 deg.");
  sweep.hottest = sample::kettle_figures();
  sweep.axes[0].own = std::numbers::pi / 180 / 2;
  const WorkCard card = sweep_card(sweep, "intercept", "kettle", Units::us);
  const auto& chart = std::get<LineChart>(card.pictures.at(0).what);
  REQUIRE(chart.marks.size() == 3);
  CHECK(chart.marks[0].at == testing::approx(0.5));
  CHECK(chart.marks[0].label == "you are here: 0.5 deg");
  CHECK(chart.marks[1].label == "90 % ends: 1.5 deg");
  CHECK(chart.marks[2].at == testing::approx(3.5));
  REQUIRE(chart.levels.size() == 1);
  CHECK(chart.levels[0].at == 90);
  CHECK(card.notes.front() ==
        "90 % ends at about 1.5 deg. 90 % begins at about 3.5 deg. You are here: 0.5 deg, share caught about 97.5 %.");
  // The other way round the same places.
  Sweep back = sweep_of(axis("sun.aim_error", "deg", {4, 3, 2, 1, 0}), "intercept", {0.95, 0.85, 0.85, 0.95, 1});
  CHECK(edge_sentence(back) == edge_sentence(sweep));
  CHECK(sweep_sentence(back, "intercept", Units::us)
            .ends_with("It is 90 % or more from 4 deg to about 3.5 deg and from about 1.5 deg to 0 deg."));
}

TEST_CASE("no mark where 90 % are not crossed, of waves, of two keys") {
  Sweep sweep = sweep_of(axis("sun.aim_error", "deg", {0, 1}), "intercept", {1, 0.9});
  CHECK(share_edges(sweep).empty());
  CHECK(edge_sentence(sweep).empty());
  sweep.hottest = sample::kettle_figures();
  const WorkCard card = sweep_card(sweep, "intercept", "kettle", Units::us);
  CHECK(std::get<LineChart>(card.pictures.at(0).what).marks.empty());
  CHECK(std::get<LineChart>(card.pictures.at(0).what).levels.empty());
  Sweep falls = sweep_of(axis("sun.aim_error", "deg", {0, 1}), "intercept", {1, 0.5});
  CHECK(share_edges(falls).size() == 1);
  falls.axes.push_back(falls.axes[0]);
  CHECK(share_edges(falls).empty());
  CHECK(share_edges(sweep_of(axis("sun.aim_error", "deg", {0, 1}), "intercept", {NAN, NAN})).empty());
}

// Points near 90 % that chance throws to one side and the other: one crossing, not three.
TEST_CASE("crossings that chance made are none") {
  Sweep sweep = sweep_of(axis("sun.aim_error", "deg", {0, 1, 2, 3, 4}), "intercept", {0.99, 0.8995, 0.9004, 0.8996, 0.7});
  const auto with_error = [&](double error) {
    for (SweepPoint& point : sweep.points) point.figures[0].second->std_error = error;
    return share_edges(sweep);
  };
  CHECK(with_error(1e-5).size() == 3);
  const std::vector<ShareEdge> edges = with_error(1e-3);
  REQUIRE(edges.size() == 1);
  CHECK(edges[0].ends);
  CHECK(edges[0].at * 180 / std::numbers::pi > 0.9);
  CHECK(edges[0].at * 180 / std::numbers::pi < 3);
}

TEST_CASE("of whole things the last one that was good is told, for none between was tried") {
  Sweep sweep = sweep_of(axis("reflector.dish.petals", "", {12, 14, 16, 18}), "intercept", {0.7, 0.85, 0.95, 0.98});
  sweep.axes[0].whole = true;
  CHECK(edge_sentence(sweep) == "90 % begins at 16.");
  CHECK(sweep_sentence(sweep, "intercept", Units::us).ends_with("It is 90 % or more from 16 to 18."));
}

TEST_CASE("you are here: only within the range; a straight line between the neighbours") {
  Sweep sweep = sweep_of(axis("target.kettle.offset.z", "in", {-1, 1}), "power", {100, 300});
  CHECK(here_sentence(sweep, "power", Units::us).empty());
  sweep.axes[0].own = 0;
  CHECK(here_sentence(sweep, "power", Units::us) == "You are here: 0 in, power about 200 W.");
  sweep.axes[0].own = sweep.axes[0].values[1];
  CHECK(here_sentence(sweep, "power", Units::us) == "You are here: 1 in, power about 300 W.");
  sweep.axes[0].own = 1.01 * sweep.axes[0].values[1];
  CHECK(here_sentence(sweep, "power", Units::us).empty());
  sweep.axes[0].own = 0, sweep.points[0].figures[0].second.reset();
  CHECK(here_sentence(sweep, "power", Units::us) == "You are here: 0 in.");
}

TEST_CASE("points without the figure are passed over; without any the sentence says so") {
  CHECK(aim_sentence({NAN, 0.95, NAN, 0.85}) ==
        "The share caught is 95 % at 1 deg and 85 % at 3 deg. It is 90 % or more from 1 deg to about 2 deg.");
  CHECK(aim_sentence({NAN, 0.95, NAN}) == "The share caught is 95 % at 1 deg, the only point that has one.");
  CHECK(aim_sentence({NAN, NAN}) == "There is no share caught at any of the points: too little light arrives.");
}

TEST_CASE("places between points are rounded to three digits, without powers of ten") {
  const Sweep sweep = sweep_of(axis("target.kettle.at", "mm", {0, 5000}), "intercept", {1, 0.7});
  // 0.9 a third of the way.
  CHECK(sweep_sentence(sweep, "intercept", Units::si) ==
        "The share caught is 100 % at 0 mm and 70 % at 5000 mm. It is 90 % or more from 0 mm to about 1670 mm.");
}

TEST_CASE("figures in their unit, with ±, us and si; and their labels") {
  Sweep sweep = sweep_of(axis("reflector.dish.petals", "", {6, 8}), "spot_width_50", {0.0254, 0.0127});
  sweep.points[0].figures[0].second->std_error = 0.000254;
  CHECK(sweep_sentence(sweep, "spot_width_50", Units::us) ==
        "The circle of half the light is 1.00 ± 0.01 in at 6 and 0.5 in at 8.");
  CHECK(sweep_sentence(sweep, "spot_width_50", Units::si) ==
        "The circle of half the light is 25.4 ± 0.3 mm at 6 and 12.7 mm at 8.");
  CHECK(figure_words(sweep, "spot_width_90", Units::us).label() == "circle of 90 % of the light [in]");
  CHECK(figure_words(sweep, "spot_rms_radius", Units::si).label() == "rms radius of the spot [mm]");
  sweep.scene.targets[0].shape = RectangleTarget{1, 1};
  CHECK(figure_words(sweep, "spot_width_90", Units::us).label() == "band of 90 % of the light [in]");
}

TEST_CASE("two keys: the places of most and least") {
  Sweep sweep = sweep_of(axis("sun.aim_error", "deg", {0, 0, 1, 1}), "power", {500, 450, 300, 250});
  sweep.axes[0].values = {0, std::numbers::pi / 180};
  sweep.axes.push_back(axis("reflector.dish.petals", "", {6, 8}));
  for (std::size_t k = 0; k < 4; ++k) sweep.points[k].at.push_back(k % 2 == 0 ? 6 : 8);
  CHECK(sweep_sentence(sweep, "power", Units::us) ==
        "The power is most at sun.aim_error 0 deg, reflector.dish.petals 6: 500 W; least at sun.aim_error 1 deg, "
        "reflector.dish.petals 8: 250 W.");
}

TEST_CASE("values of an axis go back to the unit in which they were written") {
  const SweepAxis warm = axis("sound.temperature", "degF", {68, 32});
  CHECK(axis_value(warm, warm.values[0]) == "68 °F");
  CHECK(axis_value(warm, warm.values[1]) == "32 °F");
  CHECK(axis_label(warm) == "sound.temperature [°F]");
  const SweepAxis count = axis("reflector.dish.petals", "", {6, 8});
  CHECK(axis_label(count) == "reflector.dish.petals");
  CHECK(axis_value(count, 6) == "6");
  const SweepAxis shift = axis("target.kettle.shift", "in", {-2.5, 2.5});
  CHECK(axis_value(shift, shift.values[0]) == "-2.5 in");
}

TEST_CASE("how the points were found: singular and plural, and what is missing") {
  Sweep sweep = sweep_of(axis("sun.aim_error", "deg", {0, 1, 2}), "intercept", {1, 1, 1});
  CHECK(method_sentence(sweep) == "All points by mirror quadrature: smooth images of the sun, no chance.");
  CHECK(method_sentence(sweep, Detail::answer).empty());
  CHECK(broken_off_sentence(sweep).empty());
  sweep.points[0].method = "rays";
  CHECK(method_sentence(sweep) ==
        "2 points by mirror quadrature, 1 by 1 000 000 random paths each, where quadrature does not apply or takes longer.");
  sweep.points[1].method = "rays";
  CHECK(method_sentence(sweep) ==
        "1 point by mirror quadrature, 2 by 1 000 000 random paths each, where quadrature does not apply or takes longer.");
  sweep.points[2].method = "rays";
  CHECK(method_sentence(sweep) == "All points by rays: the same 1 000 000 random paths for each.");
  sweep.complete = false;
  sweep.points.pop_back();
  sweep.hottest = sample::kettle_figures();
  CHECK(broken_off_sentence(sweep) == "INTERRUPTED: 2 of 3 points were done.");
  CHECK(sweep_answer(sweep, {"intercept"}, Units::us).find("\n  INTERRUPTED: 2 of 3") != std::string::npos);
  sweep.points.pop_back();
  CHECK(broken_off_sentence(sweep) == "INTERRUPTED: 1 of 3 points was done.");
}

TEST_CASE("waves: gains in dB or dBi, beams in degrees; a sum that did not settle is told") {
  Sweep sweep = sweep_of(axis("sound.frequency", "kHz", {1, 2}), "gain", {12.345, -0.5});
  sweep.scene.sound = Sound{};
  sweep.convergence.reached = true;
  CHECK(sweep_sentence(sweep, "gain", Units::us) == "The gain is 12.3 dB at 1 kHz and -0.5 dB at 2 kHz.");
  CHECK(method_sentence(sweep) == "All points by the wave integral, no chance.");
  sweep.convergence.reached = false;
  sweep.convergence.change = 4.4e-5;
  CHECK(method_sentence(sweep, Detail::answer).starts_with("Nothing here is chance. The sum over the mirror did not settle: "));
  CHECK(method_sentence(sweep) ==
        "All points by the wave integral, no chance. The sum over the mirror did not settle: good to about 0.00004 of the "
        "strongest "
        "amplitude.");
  CHECK(figure_words(sweep, "half_power_width", Units::us).per_si == testing::approx(180 / std::numbers::pi));
  sweep.scene.sound.reset();
  sweep.scene.radio = Radio{};
  CHECK(figure_words(sweep, "gain", Units::us).unit == "dBi");
  CHECK(sweep_sentence(sweep, "half_power_width", Units::us) ==
        "There is no beam at half the power at any of the points: too little of the wave arrives.");
}

TEST_CASE("the table: a line a point, gaps told, a long one thinned to its ends") {
  Sweep sweep = sweep_of(axis("sun.aim_error", "deg", {0, 1}), "intercept", {0.95, NAN});
  sweep.points[0].figures[0].second->std_error = 0.002;
  sweep.hottest = sample::kettle_figures();
  const std::string text = sweep_text(sweep, {"intercept"}, "kettle", Units::us);
  CHECK(text.find("Varied: sun.aim_error from 0 deg to 1 deg in 1 step\n") != std::string::npos);
  CHECK(text.find("  aim_error [deg]  share caught [%]\n"
                  "                0        95.0 ± 0.2\n"
                  "                1                 -\n") != std::string::npos);
  std::vector<double> degrees, shares;
  for (int k = 0; k <= 200; ++k) degrees.push_back(k), shares.push_back(0.5);
  Sweep long_one = sweep_of(axis("sun.aim_error", "deg", degrees), "intercept", shares);
  long_one.hottest = sample::kettle_figures();
  const std::string much = sweep_text(long_one, {"intercept"}, "kettle", Units::us);
  CHECK(much.find("              200                50\n") != std::string::npos);
  CHECK(much.find("in 200 steps\n") != std::string::npos);
  CHECK(much.find("of 201 points; all are in sweep.csv.") != std::string::npos);
}

TEST_CASE("a sweep over times is told by the clock") {
  SweepAxis axis{"sun.time", Dimension::time, "s", nullptr, {36000, 43200, 90000}};
  for (const Unit& unit : all_units())
    if (unit.symbol == "h") axis.unit = &unit;
  axis.midnight = std::get<Moment>(parse_moment("2026-06-21T00:00-05:00"));
  CHECK(axis_value(axis, 37800) == "10:30");
  CHECK(axis_value(axis, 90000) == "2026-06-22 01:00");
  CHECK(axis_label(axis) == "sun.time [h of 2026-06-21, UTC-05:00]");
  CHECK(axis_number(axis, 37800) == 10.5);
}
