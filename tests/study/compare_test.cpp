// SPDX-License-Identifier: MIT
// Differences between scenes that meet the same random numbers: closed forms, honest errors, the share curve.
#include "study/compare.h"
#include "result/figure_table.h"

#include <array>

#include "approx.h"
#include "effort.h"
#include "scenes.h"
#include "study/caught_share.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

/// Height above the axis at the paraxial focus of a bowl, R = 1, for a ray at height h; and its inverse.
double aberration(double h) {
  const double incidence = std::asin(h);
  return (1 / std::cos(incidence) - 1) / 2 * std::tan(2 * incidence);
}
double height_of(double off) {
  return root_of(0, 0.6, [&](double h) { return aberration(h) - off; });
}

Scene bowl(double rim, std::uint64_t paths = 400'000, std::uint64_t seed = 5) {
  return scene(point_sun(), mirror(SphereBowl{1, 2 * rim, 0}), target(DiskTarget{0.02}, {0, 0, 0.5}), paths, seed);
}

/// Slope error 4 mrad and the limb-darkened sun; the disk of 40 mm stands `up` above the focus.
Scene blurred(double up, std::uint64_t paths, std::uint64_t seed) {
  return scene(limb_sun(), mirror(dish_of(degrees(45)), 4e-3), target(DiskTarget{0.04}, {0, 0, 1 + up}), paths, seed);
}

Comparison compared(const std::vector<Scene>& scenes, int threads = 2, bool best = false) {
  std::vector<Contestant> contestants;
  contestants.reserve(scenes.size());
  for (const Scene& made : scenes) contestants.push_back({"scene " + std::to_string(contestants.size()), "", made, {}, {}});
  Watch watch;
  return compare_scenes(contestants, best, threads, watch);
}

}  // namespace

TEST_CASE("a scene differs from itself by exactly nothing") {
  const Comparison all = compared({blurred(0, 100'000, 3), blurred(0, 100'000, 3)});
  CHECK(all.differences.size() == compared_rows(FigureSource::light).size());
  for (const PairDifference& pair : all.differences) {
    CAPTURE(pair.figure);
    CHECK(pair.difference.value == 0);
    CHECK(*pair.difference.std_error == 0);
  }
}

TEST_CASE("difference of two bowls under a point sun") {
  // Light within h lands within the disk of radius a where aberration(h) <= a: share (h/rim)², power beam · π h² in both.
  const double inner = height_of(0.01), first = 0.35, second = 0.45;
  const Comparison all = compared({bowl(first), bowl(second)});
  const double share = std::pow(inner / first, 2) - std::pow(inner / second, 2);
  const int freedom = all.contestants[0].figures.replicates - 1;
  check_agrees("share", *pair_difference(all, 0, 1, "intercept"), share, freedom, 1e-5);
  check_agrees("the other way round", *pair_difference(all, 1, 0, "intercept"), -share, freedom, 1e-5);
  check_agrees("power", *pair_difference(all, 0, 1, "power"), 0, freedom, 1000 * pi * inner * inner * 1e-5);
  CHECK(all.contestants[0].figures.targets[0].power.value == testing::approx(1000 * pi * inner * inner).epsilon(1e-3));
  check_agrees("90 % width", *pair_difference(all, 1, 0, "spot_width_90"),
               2 * (aberration(second * std::sqrt(0.9)) - aberration(first * std::sqrt(0.9))), freedom, 1e-5);
}

TEST_CASE("share of the light against diameter: a bowl under a point sun") {
  const double rim = 0.45;
  const TraceFigures figures = traced(bowl(rim, 1'000'000));
  const ShareCurve& curve = *figures.targets[0].share_curve;
  REQUIRE(curve.width.size() > 50);
  CHECK(curve.share.front() == 0);
  CHECK(curve.share.back() == testing::approx(1).epsilon(1e-12));
  int compared_points = 0;
  for (std::size_t i = 0; i < curve.width.size(); ++i) {
    if (i > 0) CHECK(curve.width[i] > curve.width[i - 1]);
    if (i > 0) CHECK(curve.share[i] >= curve.share[i - 1]);
    const double off = curve.width[i] / 2;
    if (off < 1e-3 || off > aberration(rim)) continue;
    ++compared_points;
    check_agrees("share", {curve.share[i], curve.std_error[i], "1"}, std::pow(height_of(off) / rim, 2), figures.replicates - 1,
                 3e-5);
  }
  CHECK(compared_points > 30);
}

TEST_CASE("the share curve meets the widths and ends below one where mirrors lose light to none") {
  const TraceFigures figures = traced(blurred(0.01, 400'000, 9));
  const TargetFigures& spot = figures.targets[0];
  const auto share_at = [&](double width) {
    const ShareCurve& curve = *spot.share_curve;
    const std::size_t i =
        static_cast<std::size_t>(std::lower_bound(curve.width.begin(), curve.width.end(), width) - curve.width.begin());
    const double part = (width - curve.width[i - 1]) / (curve.width[i] - curve.width[i - 1]);
    return curve.share[i - 1] + part * (curve.share[i] - curve.share[i - 1]);
  };
  // All light of a dish crosses the plane: half of it within spot_width_50 (between points the curve bends by less than 1e-3).
  CHECK(share_at(spot.spot_width_50->value) == testing::approx(0.5).epsilon(2e-3));
  CHECK(share_at(spot.spot_width_90->value) == testing::approx(0.9).epsilon(1e-3));
  CHECK(share_at(0.04) == testing::approx(spot.intercept->value).epsilon(2e-3));
}

TEST_CASE("stated errors of a difference are honest, and smaller than those of two separate runs" * doctest::test_suite("slow")) {
  // Truth from 20 million paths; its own error is 1/30 of a run's. Binomial limits at 3.5 standard deviations: of 300 seeds 204 ±
  // 28.3, 285 ± 13.2. An error taken from the two runs as if independent would be 1.7 × too large here: 68 % becomes 91 % = 273.
  const int seeds = testing::repeats(300);
  const Comparison truth = compared({blurred(0, 20'000'000, 990'001), blurred(0.001, 20'000'000, 990'001)});
  const double expected = pair_difference(truth, 0, 1, "intercept")->value;
  std::array<int, 2> within{};
  double paired = 0, separate = 0;
  for (int seed = 1; seed <= seeds; ++seed) {
    const std::uint64_t own = static_cast<std::uint64_t>(seed);
    const Comparison all = compared({blurred(0, 20'000, own), blurred(0.001, 20'000, own)});
    const Estimate gap = *pair_difference(all, 0, 1, "intercept");
    const int freedom = all.contestants[0].figures.replicates - 1;
    const double off = std::abs(gap.value - expected);
    within[0] += off <= student_quantile(0.68, freedom) * *gap.std_error ? 1 : 0;
    within[1] += off <= student_quantile(0.95, freedom) * *gap.std_error ? 1 : 0;
    paired += *gap.std_error;
    separate += std::hypot(*all.contestants[0].figures.targets[0].intercept->std_error,
                           *all.contestants[1].figures.targets[0].intercept->std_error);
  }
  INFO(within[0], " and ", within[1], " of ", seeds, "; errors paired ", paired / seeds, ", separate ", separate / seeds);
  CHECK(std::abs(within[0] / static_cast<double>(seeds) - 0.68) <= testing::share_allowance(0.68, seeds, 3.5));
  CHECK(std::abs(within[1] / static_cast<double>(seeds) - 0.95) <= testing::share_allowance(0.95, seeds, 3.5));
  CHECK(paired < 0.75 * separate);
}

TEST_CASE("one figure alone is the trace's") {
  for (const Scene& made : {blurred(0.002, 50'000, 4), bowl(0.4, 30'001, 8)}) {
    Watch watch;
    const Estimate share = caught_share(made, made.trace.paths, 2, watch);
    const Estimate intercept = *traced(made).targets[0].intercept;
    CHECK(share.value == intercept.value);
    CHECK(*share.std_error == testing::approx(*intercept.std_error).epsilon(1e-9));
    CHECK(share.without_one.size() == intercept.without_one.size());
    CHECK(watch.done == made.trace.paths);
  }
}

TEST_CASE("a comparison is the same on any number of threads" * doctest::test_suite("slow")) {
  const std::vector<Scene> scenes = {blurred(0, 40'000, 2), bowl(0.4, 40'000, 2)};
  const Comparison one = compared(scenes, 1, true), three = compared(scenes, 3, true);
  for (std::size_t i = 0; i < scenes.size(); ++i)
    CHECK(one.contestants[i].best->place.value == three.contestants[i].best->place.value);
  REQUIRE(one.differences.size() == three.differences.size());
  for (std::size_t i = 0; i < one.differences.size(); ++i) {
    CHECK(one.differences[i].difference.value == three.differences[i].difference.value);
    CHECK(*one.differences[i].difference.std_error == *three.differences[i].difference.std_error);
  }
}

TEST_CASE("all meet the first one's seed and paths; an accuracy is met by all") {
  const Comparison all = compared({blurred(0, 20'000, 2), blurred(0.01, 50'000, 9)});
  CHECK(all.contestants[1].figures.seed == 2);
  CHECK(all.contestants[1].figures.paths == 20'000);
  CHECK(all.contestants[1].scene.notes.size() == 1);
  std::vector<Scene> scenes = {blurred(0, 20'000, 2), blurred(0.02, 20'000, 2)};
  scenes[0].trace.accuracy = 4e-4;
  const Comparison fine = compared(scenes);
  CHECK(fine.contestants[0].figures.paths == fine.contestants[1].figures.paths);
  for (const Contestant& one : fine.contestants) CHECK(*one.figures.targets[0].intercept->std_error < 4e-4 * 1.3);
}

TEST_CASE("figures that one of two lacks have no difference; Ctrl-C ends it") {
  Scene ball = blurred(0, 20'000, 2);
  ball.targets[0].shape = BallTarget{0.05};
  const Comparison all = compared({blurred(0, 20'000, 2), ball});
  CHECK_FALSE(pair_difference(all, 0, 1, "spot_width_50").has_value());
  CHECK(pair_difference(all, 0, 1, "intercept").has_value());
  Watch watch;
  watch.stop = true;
  CHECK_THROWS_AS(compare_scenes({{"a", "", ball, {}, {}}, {"b", "", ball, {}, {}}}, true, 2, watch), Interrupted);
}
