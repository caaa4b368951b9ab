// SPDX-License-Identifier: MIT
// Every shape of mirror with every shape of target, by rays and by quadrature where it applies: few paths, so that the sanitized
// build can walk through all of it. What must hold of any scene: the ledger adds up to what meets the mirrors (energy is neither
// lost nor made), a share lies between 0 and 1, and every number is one.
#include <cmath>

#include "approx.h"
#include "effort.h"
#include "every_shape.h"
#include "scenes.h"
#include "study/causes.h"
#include "study/light_figures.h"
#include "study/mirror_best.h"
#include "study/side_view.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

const std::vector<TargetShape> every_target = {DiskTarget{0.1}, RectangleTarget{0.1, 0.2}, TubeTarget{0.06, 0.3}, BallTarget{0.1},
                                               PotTarget{0.1, 0.1}};

void check_share(const std::optional<Estimate>& share) {
  if (!share) return;
  CHECK(std::isfinite(share->value));
  CHECK(share->value >= 0);
  CHECK(share->value <= 1);
}

void check_light(const TraceFigures& figures) {
  double sum = 0;
  for (const LedgerLine& line : figures.ledger) {
    CHECK(line.power.value >= 0);
    sum += line.power.value;
  }
  CHECK(figures.aperture_power.value > 0);
  CHECK(sum == testing::approx(figures.aperture_power.value).epsilon(1e-9));
  check_share(figures.caught_share);
  for (const TargetFigures& one : figures.targets) {
    check_share(one.intercept);
    // Shares of a path are single numbers of 7 digits.
    CHECK(one.power.value <= 0.9 * (1 + 1e-7) * figures.aperture_power.value + 3 * one.power.std_error.value_or(0));
  }
}

}  // namespace

TEST_CASE("light: every shape of mirror with every shape of target") {
  int solved = 0;
  std::size_t number = 0;
  for (const SampleShape& one : every_shape()) {
    ++number;
    for (const TargetShape& goal : every_target) {
      // Under the sanitizers two targets a shape, in turn; all of those that quadrature takes.
      const bool in_turn = (goal.index() + number) % 5 % 3 == 0 || one.name.find("paraboloid") != std::string::npos;
      if (testing::sanitized && !testing::full_run() && !in_turn) continue;
      CAPTURE(one.name);
      CAPTURE(goal.index());
      Scene made = scene_of(one.shape, goal);
      Watch watch;
      made.trace.method = Method::rays;
      check_light(light_figures(made, LightMap::made, 2, watch));
      // Quadrature where the program itself would take it.
      made.trace.method = Method::automatic;
      const TraceFigures figures = light_figures(made, LightMap::none, 1, watch);
      solved += figures.method == "quadrature" ? 1 : 0;
      check_light(figures);
    }
  }
  CHECK(solved >= 5);  // or the second half of the loop would show nothing
}

TEST_CASE("light: every shape has a side view, a brightest place and causes, and nothing in them that is no number") {
  std::size_t number = 0;
  for (const SampleShape& one : every_shape()) {
    const TargetShape& goal = every_target[number++ % every_target.size()];
    if (testing::sanitized && !testing::full_run() && number % 4 != 1) continue;
    CAPTURE(one.name);
    CAPTURE(goal.index());
    const Scene made = scene_of(one.shape, goal);
    const SideView view = side_view(made);
    CHECK_FALSE(view.profile.empty());
    CHECK_FALSE(view.rays.empty());
    CHECK(view.width > 0);
    REQUIRE(view.targets.size() == 1);
    CHECK(view.targets[0].size() >= 2);
    for (const CutRay& ray : view.rays) {
      for (const CutPoint& at : ray.way) CHECK((std::isfinite(at.across) && std::isfinite(at.up)));
      CHECK(std::hypot(ray.toward.across, ray.toward.up) <= 1 + 1e-9);
    }
    const Watch watch;
    const auto best = mirror_best(made, 2, watch);
    if (one.name == "hyperboloid") {  // it shows the sun its back
      CHECK_FALSE(best);
      continue;
    }
    REQUIRE(best);
    CHECK(std::isfinite(best->irradiance.value));
    CHECK(best->irradiance.value > 0.3 * made.sun.beam);  // no mirror here is so bent that its light is nowhere as bright
    for (const double place : best->at) CHECK(std::isfinite(place));
    const Causes causes = find_causes(made, 2, watch);
    check_share(causes.share);
    for (const CauseCost& cost : causes.costs) check_share(cost.share);
    CHECK(causes.costs.size() >= 3);  // aim, slope, sun
  }
}
