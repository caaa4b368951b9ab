// SPDX-License-Identifier: MIT
// Sweeps against closed forms.
#include "study/sweep.h"

#include <cmath>

#include "base/error.h"
#include "scenes.h"
#include "study/ray_figures.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

Scene dish_with(double slope, double radius) {
  return scene(point_sun(), mirror(Paraboloid{1, 0.1, 0}, slope), target(DiskTarget{2 * radius}, {0, 0, 1}), 100'000, 9);
}

SweepAxis axis_of(std::vector<double> values) {
  return {"reflector.dish.slope_error", Dimension::angle, "rad", nullptr, std::move(values)};
}

}  // namespace

// Share of a round Gaussian spot of rms 2σf within R: 1 − exp(−R²/(8 σ² f²)).
TEST_CASE("sweep: the share over slope errors is the round Gaussian's, by rays and by quadrature") {
  const double radius = 0.02;
  const std::vector<double> slopes = {2e-3, 4e-3, 6e-3, 8e-3, 12e-3};
  for (const Method method : {Method::rays, Method::quadrature}) {
    Watch watch;
    const Sweep sweep = run_sweep(
        {axis_of(slopes)}, 0,
        [&](std::size_t k) {
          Scene made = dish_with(slopes[k], radius);
          made.trace.method = method;
          return made;
        },
        2, watch);
    REQUIRE(sweep.complete);
    REQUIRE(sweep.points.size() == slopes.size());
    for (const SweepPoint& point : sweep.points) {
      const auto share = figure_at(point, "intercept");
      REQUIRE(share);
      CHECK(point.method == (method == Method::rays ? "rays" : "quadrature"));
      const double expected = 1 - std::exp(-radius * radius / (8 * point.at[0] * point.at[0]));
      CHECK(std::abs(share->value - expected) < 0.003 + 4 * share->std_error.value_or(0));
    }
  }
}

TEST_CASE("sweep: the second axis runs faster; stopping keeps what is done") {
  const SweepAxis first{"a", Dimension::number, "1", nullptr, {1, 2}}, second{"b", Dimension::number, "1", nullptr, {10, 20, 30}};
  CHECK(values_at({first, second}, 0) == std::vector<double>{1, 10});
  CHECK(values_at({first, second}, 2) == std::vector<double>{1, 30});
  CHECK(values_at({first, second}, 3) == std::vector<double>{2, 10});
  Watch watch;
  const auto stops_at = [&](std::size_t last) {
    return [&watch, last](std::size_t k) {
      if (k == last) watch.stop = true;
      return dish_with(4e-3, 0.02);
    };
  };
  const Sweep some = run_sweep({first, second}, 0, stops_at(4), 2, watch);
  CHECK_FALSE(some.complete);
  CHECK(some.points.size() == 4);
  CHECK(some.count() == 6);
  Watch at_once;
  at_once.stop = true;
  CHECK_THROWS_AS(run_sweep(
                      {first, second}, 0, [](std::size_t) { return dish_with(4e-3, 0.02); }, 2, at_once),
                  Interrupted);
}

TEST_CASE("sweep: surfaces are kept while they stay, and each point is the figures of its scene traced alone") {
  // Slope and aim leave the surfaces as they are; the target's place, its name and its shade do not.
  std::vector<Scene> scenes(6, dish_with(4e-3, 0.02));
  scenes[1].reflectors[0].slope_error = 8e-3;
  scenes[2].sun.aim_error = 5e-3;
  scenes[3].targets[0].pose.at.z() = 1.02;
  scenes[4].targets[0].shades = false;
  scenes[5].reflectors[0].flaws.twist = 0.01;
  GeometryCache geometries;
  std::vector<const SceneGeometry*> met;
  std::vector<std::shared_ptr<const SceneGeometry>> held;
  for (const Scene& one : scenes) held.push_back(geometries.of(one)), met.push_back(held.back().get());
  CHECK(met[0] == met[1]);
  CHECK(met[1] == met[2]);
  for (std::size_t k = 3; k < scenes.size(); ++k) CHECK(met[k] != met[k - 1]);

  Watch watch;
  const Sweep sweep = run_sweep(
      {{"k", Dimension::number, "1", nullptr, {0, 1, 2, 3, 4, 5}}}, 0, [&](std::size_t k) { return scenes[k]; }, 2, watch);
  for (std::size_t k = 0; k < scenes.size(); ++k) {
    Watch own;
    const TraceFigures alone = ray_figures(scenes[k], 1, own);
    CHECK(figure_at(sweep.points[k], "intercept")->value == alone.targets[0].intercept->value);
    CHECK(figure_at(sweep.points[k], "spot_width_50")->value == alone.targets[0].spot_width_50->value);
  }
}
