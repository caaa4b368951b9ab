// SPDX-License-Identifier: MIT
// From counts to figures: accounts filled by hand, every figure and its ± worked out again here from the counts.
#include "tally/estimates.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "approx.h"
#include "counting.h"

using namespace dishwright;
using testing::approx;
using testing::Ends;

namespace {

constexpr std::uint32_t replicates = 4;
constexpr double flux = 500;                                    // [W]
constexpr std::array<double, replicates> count = {3, 3, 2, 2};  // paths: ten, the first two replicates take one more

/// By hand, for each replicate: started, left the mirrors, hit the target, were missed [paths].
struct Counts {
  double started, left, hit, missed;
};
constexpr std::array<Counts, replicates> by_hand = {{{3, 2.5, 2, 0.5}, {3, 3, 1, 2}, {2, 1, 0.75, 1.25}, {2, 2, 2, 0}}};

/// √((n − 1)/n Σ (θ_r − mean)²) over the statistic of all replicates but one.
double direct_jackknife(const std::function<double(int without)>& statistic) {
  double mean = 0, sum = 0;
  for (int r = 0; r < 4; ++r) mean += statistic(r) / 4;
  for (int r = 0; r < 4; ++r) sum += std::pow(statistic(r) - mean, 2);
  return std::sqrt(3 * sum / 4);
}

/// Σ over the replicates but one.
double sum_without(int without, const std::function<double(std::size_t)>& of) {
  double sum = 0;
  for (std::size_t r = 0; r < replicates; ++r) sum += static_cast<int>(r) == without ? 0 : of(r);
  return sum;
}
double paths_without(int r) {
  return sum_without(r, [](std::size_t k) { return count.at(k); });
}

void check_figure(const Estimate& figure, const std::string& unit, const std::function<double(int)>& truth) {
  CHECK(figure.value == approx(truth(-1)).epsilon(1e-9));
  REQUIRE(figure.std_error.has_value());
  CHECK(figure.std_error.value() == approx(direct_jackknife(truth)).epsilon(1e-9));
  CHECK(figure.unit == unit);
  REQUIRE(figure.without_one.size() == replicates);
  for (int r = 0; r < 4; ++r) CHECK(figure.without_one[static_cast<std::size_t>(r)] == approx(truth(r)).epsilon(1e-9));
}

struct Run {
  explicit Run(const std::vector<TargetShape>& shapes, bool lamp = false, std::uint32_t of = replicates)
      : scene(testing::scene_of(shapes, lamp)), list(make_surfaces(scene)) {
    TargetScale aim = testing::scale_of(0.1, 0.2);
    aim.centre_x = 0.05;
    plan = make_tally_plan(scene, list, of, std::vector<TargetScale>(shapes.size(), aim));
    totals.plan = PathPlan{7, 10, of};
    totals.source_power = flux;
    totals.direct.assign(shapes.size(), Estimate{12, std::nullopt, "W"});
  }
  Run(const Run&) = delete;
  Run& operator=(const Run&) = delete;
  void fill(TallyCounts& counts) const {
    for (std::size_t r = 0; r < plan.replicates; ++r) {
      const Counts& one = by_hand.at(r);
      counts.begin(static_cast<std::uint32_t>(r));
      counts.started(static_cast<int>(one.started));
      counts.left_mirrors(one.left * full_weight);
      counts.scored(0, one.hit * full_weight);
      counts.scored(list.missed_slot, one.missed * full_weight);
    }
  }
  TraceFigures figures(const TallyCounts& counts) const { return estimate_figures(plan, counts, totals); }
  Scene scene;
  SurfaceList list;
  TallyPlan plan;
  RunTotals totals;
};

}  // namespace

TEST_CASE("power, intercept and mean irradiance, with the jackknife over replicates of unequal size") {
  const Run run({DiskTarget{0.5}});
  TallyCounts counts(run.plan);
  run.fill(counts);
  const TraceFigures figures = run.figures(counts);
  CHECK(figures.seed == 7);
  CHECK(figures.paths == 10);
  CHECK(figures.replicates == 4);
  CHECK(figures.aperture_power.value == flux);
  CHECK(!figures.aperture_power.std_error);
  CHECK(!figures.caught_share);
  const TargetFigures& target = figures.targets.at(0);
  CHECK(target.shape == "disk");
  const double area = std::numbers::pi * 0.0625;
  CHECK(target.area == approx(area));
  const auto hit = [](int r) { return sum_without(r, [](std::size_t k) { return by_hand.at(k).hit; }); };
  const auto left = [](int r) { return sum_without(r, [](std::size_t k) { return by_hand.at(k).left; }); };
  CHECK(target.power.value == approx(flux * 5.75 / 10));
  check_figure(target.power, "W", [&](int r) { return flux * hit(r) / paths_without(r); });
  check_figure(target.intercept.value(), "1", [&](int r) { return hit(r) / left(r); });
  check_figure(target.mean_irradiance.value(), "W/m2", [&](int r) { return flux * hit(r) / paths_without(r) / area; });
  CHECK(target.direct_power.value == 12);
  CHECK(!target.total_power);
  CHECK(!target.spot_width_50);  // nothing crossed the plane
  CHECK(!target.peak_irradiance);
  CHECK(target.no_peak == NoPeak::few_paths);
}

TEST_CASE("where not every point of the silhouette counts, its power is sampled too") {
  Run run({DiskTarget{0.5}});
  run.totals.every_point_counts = false;
  TallyCounts counts(run.plan);
  const std::array<int, 4> started = {2, 3, 1, 2};
  for (std::uint32_t r = 0; r < 4; ++r) counts.begin(r), counts.started(started.at(r));
  check_figure(run.figures(counts).aperture_power, "W",
               [&](int r) { return flux * sum_without(r, [&](std::size_t k) { return started.at(k); }) / paths_without(r); });
}

TEST_CASE("ledger: targets and what missed always stand in it, other lines where light went; it adds up") {
  const Run run({DiskTarget{0.5}, DiskTarget{0.2}});
  TallyCounts counts(run.plan);
  run.fill(counts);
  const auto names = [](const TraceFigures& figures) {
    std::vector<std::string> out;
    for (const LedgerLine& line : figures.ledger) out.push_back(line.where);
    return out;
  };
  CHECK(names(run.figures(counts)) == std::vector<std::string>{"target 1", "target 2", "missed"});
  counts.begin(0), counts.scored(run.list.absorbed_slot[0], 0.5 * full_weight);
  const TraceFigures figures = run.figures(counts);
  CHECK(names(figures) == std::vector<std::string>{"target 1", "target 2", "absorbed by dish", "missed"});
  double sum = 0;
  for (const LedgerLine& line : figures.ledger) sum += line.power.value;
  // 5.75 + 0 + 0.5 + 3.75 paths of ten.
  CHECK(sum == approx(flux));
  check_figure(figures.ledger[2].power, "W", [&](int r) { return r == 0 ? 0 : flux * 0.5 / paths_without(r); });
}

TEST_CASE("a lamp: its straight light and the total, whose ± knows that both met the same paths; lumens are told") {
  Run run({DiskTarget{0.5}}, true);
  run.scene.lamp->in_lumens = true;
  TallyCounts counts(run.plan);
  run.fill(counts);
  const std::array<double, 4> straight = {0.25, 0.5, 0.75, 0}, reached = {2.5, 3, 1.5, 2};
  for (std::uint32_t r = 0; r < 4; ++r) {
    counts.begin(r);
    counts.scored(run.list.direct_slot.at(0), straight.at(r) * full_weight);
    counts.reached_mirrors(reached.at(r) * full_weight);
  }
  const TraceFigures figures = run.figures(counts);
  const TargetFigures& target = figures.targets.at(0);
  CHECK(figures.beam == 0);
  check_figure(target.direct_power, "lm",
               [&](int r) { return flux * sum_without(r, [&](std::size_t k) { return straight.at(k); }) / paths_without(r); });
  check_figure(target.total_power.value(), "lm", [&](int r) {
    return flux * sum_without(r, [&](std::size_t k) { return by_hand.at(k).hit + straight.at(k); }) / paths_without(r);
  });
  check_figure(figures.caught_share.value(), "1",
               [&](int r) { return sum_without(r, [&](std::size_t k) { return reached.at(k); }) / paths_without(r); });
  CHECK(target.mean_irradiance->unit == "lm/m2");
  CHECK(!target.evenness);
  bool unmet = false;
  for (const LedgerLine& line : figures.ledger) unmet = unmet || line.where == "missed the mirrors";
  CHECK(unmet);
}

TEST_CASE("centroid and rms radius of known places, and their jackknife") {
  const Run run({DiskTarget{1}});
  TallyCounts counts(run.plan);
  // One place a replicate, of this weight [paths].
  const std::array<std::array<double, 3>, 4> places = {{{0.1, 0.02, 1}, {-0.05, 0.1, 0.5}, {0.2, -0.15, 0.25}, {0, 0, 1}}};
  for (std::uint32_t r = 0; r < 4; ++r) {
    const auto& [x, y, weight] = places.at(r);
    counts.begin(r);
    counts.left_mirrors(weight * full_weight), counts.scored(0, weight * full_weight);
    Ends one;
    one.add(x, y, 0, weight);
    one.land(counts, testing::surface_of(run.list, 0));
  }
  const TargetFigures target = run.figures(counts).targets.at(0);
  const auto mean = [&](int without, const std::function<double(double, double)>& of) {
    const double weight = sum_without(without, [&](std::size_t k) { return places.at(k)[2]; });
    return sum_without(without, [&](std::size_t k) { return places.at(k)[2] * of(places.at(k)[0], places.at(k)[1]); }) / weight;
  };
  const auto mean_x = [&](int r) { return mean(r, [](double x, double) { return x; }); };
  const auto mean_y = [&](int r) { return mean(r, [](double, double y) { return y; }); };
  const auto rms = [&](int r) {
    return std::sqrt(mean(r, [](double x, double y) { return x * x + y * y; }) - std::pow(mean_x(r), 2) - std::pow(mean_y(r), 2));
  };
  // Sums are rounded to 2^-30 of the scale, 0.2 m: 2e-10 m.
  const auto near = [](const Estimate& figure, const std::function<double(int)>& truth) {
    CHECK(std::abs(figure.value - truth(-1)) <= 2e-9);
    CHECK(std::abs(figure.std_error.value() - direct_jackknife(truth)) <= 2e-9);
    CHECK(figure.unit == "m");
  };
  near(target.centroid.value()[0], mean_x);
  near(target.centroid.value()[1], mean_y);
  near(target.spot_rms_radius.value(), rms);
}

TEST_CASE("maps: the bins' irradiance times their area is the power on the face") {
  const Run run({RectangleTarget{0.4, 0.2}});
  TallyCounts counts(run.plan);
  const double hits = 5.75;
  for (std::uint32_t r = 0; r < 4; ++r) {
    counts.begin(r);
    Ends ends;
    ends.add(-0.2, -0.1, 0, by_hand.at(r).hit / 2), ends.add(0.07, 0.03, 0, by_hand.at(r).hit / 2);
    ends.land(counts, testing::surface_of(run.list, 0));
  }
  const TargetFigures target = run.figures(counts).targets.at(0);
  REQUIRE(target.map.size() == 1);
  const MapFace& face = target.map[0];
  const double bin_area = 0.4 * 0.2 / (face.columns * face.rows);
  double power = 0;
  for (const double light : face.irradiance) power += light * bin_area;
  CHECK(power == approx(flux * hits / 10));
  CHECK(face.irradiance[0] == approx(flux * hits / 20 / bin_area));
}

TEST_CASE("one replicate gives values without ±") {
  const Run run({DiskTarget{0.5}}, false, 1);
  TallyCounts counts(run.plan);
  counts.begin(0);
  counts.started(10), counts.left_mirrors(8 * full_weight), counts.scored(0, 6 * full_weight);
  const TargetFigures target = run.figures(counts).targets.at(0);
  CHECK(target.power.value == approx(300));
  CHECK(!target.power.std_error);
  CHECK(target.intercept->value == approx(0.75));
}

TEST_CASE("no light: powers are zero, what would be a ratio of nothing is left out") {
  const Run run({DiskTarget{0.5}});
  const TallyCounts counts(run.plan);
  const TargetFigures target = run.figures(counts).targets.at(0);
  CHECK(target.power.value == 0);
  CHECK(target.power.std_error.value() == 0);
  CHECK(!target.intercept);
  CHECK(!target.centroid);
  CHECK(!target.spot_rms_radius);
  CHECK(!target.plane_centroid);
  CHECK(target.no_peak == NoPeak::none);
}

TEST_CASE("evenness: one half of the replicates finds the darkest part, the other measures it") {
  Run run({DiskTarget{1}}, true);
  run.plan.even[0].any = true, run.plan.even[0].x = 0, run.plan.even[0].y = 0, run.plan.even[0].radius = 0.2;
  TallyCounts counts(run.plan);
  // Part 0 (the middle) is the darkest of the first half: 16 paths, the others 20. In the second half it has 18 and 24, and all
  // others 30 each but part 1, which has 5: the darkest of all, but nobody had looked for it there.
  const auto fill = [&](std::uint32_t replicate, int middle, int others, int first) {
    counts.begin(replicate);
    Ends ends;
    for (int k = 0; k < middle; ++k) ends.add(0, 0);
    for (int ring = 1; ring < 5; ++ring) {
      for (int piece = 0; piece < 2 * ring + 1; ++piece) {
        const double angle = 2 * std::numbers::pi * (piece + 0.5) / (2 * ring + 1), r = 0.04 * (ring + 0.5);
        for (int k = 0; k < (ring == 1 && piece == 0 ? first : others); ++k) ends.add(r * std::cos(angle), r * std::sin(angle));
      }
    }
    ends.land(counts, testing::surface_of(run.list, 0));
  };
  fill(0, 8, 10, 10), fill(1, 8, 10, 10), fill(2, 18, 30, 5), fill(3, 24, 30, 5);
  const Estimate even = run.figures(counts).targets.at(0).evenness.value();
  CHECK(even.value == approx(25 * 42.0 / (42 + 23 * 60 + 10)));
  // Without the third: 25·24/(24 + 690 + 5); without the fourth: 25·18/(18 + 695). Of two: ± is half their difference.
  CHECK(even.std_error.value() == approx(std::abs(25 * 24.0 / 719 - 25 * 18.0 / 713) / 2));
  // Too few in the half that looks: 24 of 25 parts with 10 paths is below 10 on the mean.
  TallyCounts few(run.plan);
  few.begin(0);
  Ends ends;
  for (int k = 0; k < 249; ++k) ends.add(0, 0);
  ends.land(few, testing::surface_of(run.list, 0));
  CHECK(!run.figures(few).targets.at(0).evenness);
}

TEST_CASE("the brightest light of a run: peaks, or means where there is no peak") {
  TraceFigures figures;
  CHECK(brightest(figures) == 0);
  figures.targets.resize(3);
  figures.targets[0].mean_irradiance = Estimate{900, std::nullopt, "W/m2"};
  figures.targets[1].mean_irradiance = Estimate{5000, std::nullopt, "W/m2"};
  figures.targets[1].peak_irradiance = Estimate{800, std::nullopt, "W/m2"};  // (cannot be, but the peak is what counts)
  CHECK(brightest(figures) == 900);
  figures.targets[2].peak_irradiance = Estimate{1200, std::nullopt, "W/m2"};
  CHECK(brightest(figures) == 1200);
}
