// SPDX-License-Identifier: MIT
// The stated ± of the peak and of the widths covers in all kinds of scenes, and is small.
#include <functional>

#include "effort.h"
#include "scenes.h"
#include "study/light_figures.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

using Figure = std::function<const std::optional<Estimate>&(const TargetFigures&)>;
const std::optional<Estimate>& peak_of(const TargetFigures& target) { return target.peak_irradiance; }

struct Judged {
  int runs = 0, within_68 = 0, within_95 = 0;
  double off = 0, off2 = 0;
};

Judged judge(Scene made, std::uint64_t paths, int runs, double truth, const Figure& figure) {
  Judged out;
  for (int seed = 1; seed <= runs; ++seed) {
    made.trace.paths = paths;
    made.trace.seed = static_cast<std::uint64_t>(seed);
    const TraceFigures figures = traced(made);
    const std::optional<Estimate>& value = figure(figures.targets[0]);
    REQUIRE(value);
    const double off = value->value - truth;
    out.within_68 += std::abs(off) <= student_quantile(0.68, figures.replicates - 1) * *value->std_error ? 1 : 0;
    out.within_95 += std::abs(off) <= student_quantile(0.95, figures.replicates - 1) * *value->std_error ? 1 : 0;
    out.off += off / truth, out.off2 += off * off / truth / truth;
    ++out.runs;
  }
  return out;
}

// 68 ± 5 % and 95 ± 4 %, and 3.3 binomial standard errors for the seeds that happened to be taken.
void check_covers(const std::string& what, const Judged& judged) {
  const double n = judged.runs, mean = judged.off / n, spread = std::sqrt(judged.off2 / n - mean * mean);
  INFO(what, ": mean ", 100 * mean, " %, spread ", 100 * spread, " %, ", judged.within_68, " and ", judged.within_95, " of ", n);
  CHECK(std::abs(judged.within_68 / n - 0.68) <= 0.05 + testing::share_allowance(0.68, judged.runs));
  CHECK(std::abs(judged.within_95 / n - 0.95) <= 0.04 + testing::share_allowance(0.95, judged.runs));
  CHECK(std::abs(mean) <= spread * (0.4 + 3.3 / std::sqrt(n)));
}

/// By quadrature, which shares only the definition with the tracer.
double peak_by_quadrature(Scene made) {
  made.trace.method = Method::quadrature;
  Watch watch;
  return light_figures(made, LightMap::made, 2, watch).targets[0].peak_irradiance->value;
}
/// By so many paths that the place of the disc is settled.
double peak_by_many_paths(Scene made) {
  made.trace.paths = 4'000'000;
  made.trace.seed = 990'001;
  return traced(made).targets[0].peak_irradiance->value;
}

Scene kettle() {
  Sun shine = limb_sun();
  shine.aim_error = degrees(0.5);
  Scene made = scene(shine, mirror(Paraboloid{0.6096, 1.2192, 0.0508}, 4e-3), target(PotTarget{0.1524, 0.127}, {0, 0, 0.6096}));
  return made;
}
Scene griddle() {
  Sun shine = limb_sun();
  shine.aim_error = degrees(0.5);
  Reflector dish = mirror(Trough{0.3048, 0.9144, 1.524}, 5e-3);
  dish.specular_spread = 3e-3;
  return scene(shine, dish, target(RectangleTarget{0.0762, 1.524}, {0, 0, 0.3048}));
}

}  // namespace

TEST_CASE("peak of a kettle and of a trough's bar: covers" * doctest::test_suite("slow")) {
  const int runs = testing::repeats(200);
  check_covers("kettle", judge(kettle(), 20'000, runs, peak_by_quadrature(kettle()), peak_of));
  const double bar = peak_by_quadrature(griddle());
  const Judged judged = judge(griddle(), 20'000, runs, bar, peak_of);
  check_covers("griddle", judged);
  CHECK(std::sqrt(judged.off2 / judged.runs) < 0.08);  // single discs hold one path
}

TEST_CASE("peak of a bowl, a disk and a ball: covers" * doctest::test_suite("slow")) {
  const int runs = testing::repeats(200);
  const Scene bowl = scene(limb_sun(), mirror(SphereBowl{2, 1.2, 0}, 1e-3), target(DiskTarget{0.4}, {0, 0, 1}));
  check_covers("bowl", judge(bowl, 20'000, runs, peak_by_quadrature(bowl), peak_of));
  Sun aside = limb_sun();
  aside.aim_error = degrees(0.5);
  const Scene disk = scene(aside, mirror(Paraboloid{1, 1.5, 0}, 4e-3), target(DiskTarget{0.4}, {0, 0, 1}));
  check_covers("disk", judge(disk, 20'000, runs, peak_by_quadrature(disk), peak_of));
  const Scene ball = scene(limb_sun(), mirror(Paraboloid{1, 1.2, 0}, 1e-3), target(BallTarget{0.1}, {0, 0, 1}));
  check_covers("ball", judge(ball, 20'000, runs, peak_by_quadrature(ball), peak_of));
}

TEST_CASE("peak of a spot that lies beyond the edge of its plate: covers" * doctest::test_suite("slow")) {
  const int runs = testing::repeats(200);
  Sun aside = limb_sun();
  aside.aim_error = degrees(3.5);
  const Scene plate = scene(aside, mirror(Paraboloid{0.6, 1, 0}, 5e-3), target(RectangleTarget{0.06, 0.06}, {0, 0, 0.6}));
  check_covers("plate", judge(plate, 20'000, runs, peak_by_quadrature(plate), peak_of));
  const Scene disk = scene(aside, mirror(Paraboloid{0.6, 1, 0}, 5e-3), target(DiskTarget{0.06}, {0, 0, 0.6}));
  check_covers("round plate", judge(disk, 20'000, runs, peak_by_quadrature(disk), peak_of));
}

TEST_CASE("peak of tiles and of a lamp's beam: covers" * doctest::test_suite("slow")) {
  const int runs = testing::repeats(200);
  Facets tiles;
  tiles.focal_length = 1, tiles.width = 1.2, tiles.tile = 0.05;
  const Scene tiled = scene(limb_sun(), mirror(tiles, 2e-3), target(DiskTarget{0.4}, {0, 0, 1}));
  check_covers("tiles", judge(tiled, 20'000, runs, peak_by_many_paths(tiled), peak_of));
  Scene lit = scene(limb_sun(), mirror(Paraboloid{0.6096, 1.2192, 0}, 4e-3), target(DiskTarget{3.66}, {0, 0, 7.62}));
  Lamp lamp;
  lamp.shape = BallLamp{0.06};
  lamp.pose.at = Vector3(0, 0, 0.6096);
  lamp.power = 800;
  lit.lamp = lamp;
  check_covers("lamp", judge(lit, 20'000, runs, peak_by_many_paths(lit), peak_of));
}

TEST_CASE("spot widths at few paths: cover" * doctest::test_suite("slow")) {
  Scene made = scene(limb_sun(), mirror(dish_of(degrees(45)), 4e-3), target(DiskTarget{0.04}, {0, 0, 1}));
  made.trace.paths = 10'000'000;
  const TraceFigures truth = traced(made);
  for (const std::uint64_t paths : {1000, 10'000}) {
    const int runs = testing::repeats(800);
    check_covers("half", judge(
                             made, paths, runs, truth.targets[0].spot_width_50->value,
                             [](const TargetFigures& t) -> const auto& { return t.spot_width_50; }));
    check_covers("most", judge(
                             made, paths, runs, truth.targets[0].spot_width_90->value,
                             [](const TargetFigures& t) -> const auto& { return t.spot_width_90; }));
  }
}
