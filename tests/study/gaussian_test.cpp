// SPDX-License-Identifier: MIT
// Intercept of a Gaussian spot: long-focus optics (f/D = 20), so that the spot is 2 · slope error · f on each axis.
#include "../known_values/read_table.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double slope = 2e-3;       // [rad]
constexpr double sigma = 2 * slope;  // [m] at f = 1 m
const Paraboloid long_dish{1, 0.05, 0};
const Trough long_trough{1, 0.05, 0.05};

// What the closed forms leave out, relative to σ: across the plane of incidence cos i, i <= 0.0125 (8e-5), distance f + z (1.6e-4
// at the rim, 8e-5 on average), tan of 2·slope (3e-5). The intercept changes by at most 0.74 of that.
constexpr double allowance = 2e-4;

TraceFigures spot_of(const ReflectorShape& dish, const TargetShape& shape, const Vector3& at, const Sun& shine = point_sun()) {
  return traced(scene(shine, mirror(dish, slope), target(shape, at), 1'000'000, 77));
}

}  // namespace

TEST_CASE("circle of radius nσ catches 1 − exp(−n²/2), a slit of half-width nσ erf(n/√2)" * doctest::test_suite("slow")) {
  for (const auto& row : known::read_table("gaussian_intercept.csv")) {
    const double n = row.at("n_sigma");
    CAPTURE(n);
    const TraceFigures circle = spot_of(long_dish, DiskTarget{2 * n * sigma}, {0, 0, 1});
    check_agrees("circle", *circle.targets[0].intercept, row.at("circle_intercept"), circle.replicates - 1, allowance);
    const TraceFigures slit = spot_of(long_trough, RectangleTarget{2 * n * sigma, 0.2}, {0, 0, 1});
    check_agrees("slit", *slit.targets[0].intercept, row.at("slit_intercept"), slit.replicates - 1, allowance);
    CHECK(*circle.targets[0].intercept->std_error < 1e-3);
  }
}

TEST_CASE("pointing offset of 1σ, radius 2σ: 0.730988 circle, 0.839995 slit" * doctest::test_suite("slow")) {
  // Closed forms: non-central χ² with two degrees of freedom; [erf(3/√2) + erf(1/√2)]/2.
  // Once by moving the target, once by aiming off: the spot moves by f · tan(aim error). Sideways, so that x and y are both
  // tried.
  for (const auto& [x, y] : {std::pair{sigma, 0.0}, std::pair{0.0, -sigma}}) {
    const TraceFigures circle = spot_of(long_dish, DiskTarget{4 * sigma}, {x, y, 1});
    check_agrees("circle, target moved", *circle.targets[0].intercept, 0.730988, circle.replicates - 1, allowance);
  }
  const TraceFigures slit = spot_of(long_trough, RectangleTarget{4 * sigma, 0.2}, {sigma, 0, 1});
  check_agrees("slit, target moved", *slit.targets[0].intercept, 0.839995, slit.replicates - 1, allowance);
  for (const double side : {0.0, degrees(90), degrees(200)}) {
    const TraceFigures circle = spot_of(long_dish, DiskTarget{4 * sigma}, {0, 0, 1}, point_sun(std::atan(sigma), side));
    check_agrees("circle, aimed off", *circle.targets[0].intercept, 0.730988, circle.replicates - 1, allowance);
  }
  const TraceFigures aimed = spot_of(long_trough, RectangleTarget{4 * sigma, 0.2}, {0, 0, 1}, point_sun(std::atan(sigma), 0));
  check_agrees("slit, aimed off", *aimed.targets[0].intercept, 0.839995, aimed.replicates - 1, allowance);
}

TEST_CASE("the spot moves away from the side the sun leans to") {
  const TraceFigures figures = spot_of(long_dish, DiskTarget{0.2}, {0, 0, 1}, point_sun(std::atan(0.02), degrees(30)));
  const auto& centroid = *figures.targets[0].centroid;
  check_agrees("x", centroid[0], -0.02 * std::cos(degrees(30)), figures.replicates - 1, 2e-5);
  check_agrees("y", centroid[1], -0.02 * std::sin(degrees(30)), figures.replicates - 1, 2e-5);
}

TEST_CASE("widths and rms radius of a Gaussian spot") {
  // Circle holding p: 2σ√(−2 ln(1−p)); band: 2σ · 0.674490, 2σ · 1.644854 (normal quantiles); rms radius √2 σ.
  const TraceFigures circle = spot_of(long_dish, DiskTarget{0.1}, {0, 0, 1});
  const int freedom = circle.replicates - 1;
  const TargetFigures& disk = circle.targets[0];
  check_agrees("50 %", *disk.spot_width_50, 2 * sigma * std::sqrt(2 * std::log(2.0)), freedom, 3e-4 * 2 * sigma);
  check_agrees("90 %", *disk.spot_width_90, 2 * sigma * std::sqrt(2 * std::log(10.0)), freedom, 3e-4 * 4 * sigma);
  check_agrees("rms", *disk.spot_rms_radius, std::sqrt(2.0) * sigma, freedom, 3e-4 * sigma);
  const TraceFigures slit = spot_of(long_trough, RectangleTarget{0.1, 0.2}, {0, 0, 1});
  check_agrees("band 50 %", *slit.targets[0].spot_width_50, 2 * sigma * 0.674490, freedom, 3e-4 * 2 * sigma);
  check_agrees("band 90 %", *slit.targets[0].spot_width_90, 2 * sigma * 1.644854, freedom, 3e-4 * 4 * sigma);
}

TEST_CASE("the widths look at the unbounded plane, the rms radius at the target's own light") {
  const TraceFigures small = spot_of(long_dish, DiskTarget{sigma}, {0, 0, 1});
  const TargetFigures& disk = small.targets[0];
  check_agrees("90 %", *disk.spot_width_90, 2 * sigma * std::sqrt(2 * std::log(10.0)), small.replicates - 1, 3e-4 * 4 * sigma);
  // Rms radius of a Gaussian cut at radius a = σ/2: ⟨r²⟩ = 2σ² − a² e^(−q)/(1 − e^(−q)), q = a²/2σ² (closed form).
  const double q = 0.125;
  const double cut = 2 * sigma * sigma - sigma * sigma / 4 * std::exp(-q) / (1 - std::exp(-q));
  check_agrees("rms", *disk.spot_rms_radius, std::sqrt(cut), small.replicates - 1, 3e-4 * sigma);
}
