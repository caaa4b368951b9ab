// SPDX-License-Identifier: MIT
// Sweeps against closed forms.
#include "study/sweep.h"

#include <cmath>

#include "base/error.h"
#include "scenes.h"

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
