// SPDX-License-Identifier: MIT
// Every shape of mirror with every shape of target, by rays, by quadrature where it applies, and as sound and radio: few paths, so that
// the sanitized build can walk through all of it. What must hold of any scene: the ledger adds up to what meets the mirrors (energy is
// neither lost nor made), a share lies between 0 and 1, and every number is one.
#include <cmath>

#include "../trace/sample_shapes.h"
#include "base/error.h"
#include "scenes.h"
#include "study/solve_scene.h"
#include "study/wave_figures.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

std::vector<SampleShape> every_shape() {
  std::vector<SampleShape> all = sample_shapes();
  const std::vector<SampleShape> plain = {{"paraboloid", Paraboloid{0.6, 1.2, 0.1}},
                                          {"sphere", SphereBowl{1.2, 1.2, 0.1}},
                                          {"trough", Trough{0.6, 1.2, 0.9}},
                                          {"arc trough", ArcTrough{1.2, 1, 0.9}},
                                          {"flat", Flat{0.6, 0.6}},
                                          {"hyperboloid", Hyperboloid{0.8, 2.4, 1.2, 0.1}}};
  all.insert(all.end(), plain.begin(), plain.end());
  return all;
}

const std::vector<TargetShape> every_target = {DiskTarget{0.1}, RectangleTarget{0.1, 0.2}, TubeTarget{0.06, 0.3}, BallTarget{0.1},
                                               PotTarget{0.1, 0.1}};

Scene light_scene(const ReflectorShape& shape, const TargetShape& goal) {
  Scene made = scene(limb_sun(), mirror(shape, 4e-3), target(goal, {0.01, 0, 0.6}), 1024, 5);
  made.reflectors[0].reflectance = 0.9;
  made.targets[0].shades = true;
  made.sun.aim_error = degrees(1);
  return made;
}

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
  CHECK(sum == doctest::Approx(figures.aperture_power.value).epsilon(1e-9));
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
  for (const SampleShape& one : every_shape()) {
    for (const TargetShape& goal : every_target) {
      CAPTURE(one.name);
      CAPTURE(goal.index());
      Scene made = light_scene(one.shape, goal);
      Watch watch;
      made.trace.method = Method::rays;
      check_light(solve_scene(made, 2, watch));
      // Quadrature where the program itself would take it.
      made.trace.method = Method::automatic;
      const TraceFigures figures = solve_figures(made, 1, watch);
      solved += figures.method == "quadrature" ? 1 : 0;
      check_light(figures);
    }
  }
  CHECK(solved >= 5);  // or the second half of the loop would show nothing
}

TEST_CASE("sound and radio: every shape of mirror") {
  int answered = 0;
  for (const SampleShape& one : every_shape()) {
    for (const bool radio : {false, true}) {
      CAPTURE(one.name);
      CAPTURE(radio);
      Scene made = light_scene(one.shape, BallTarget{0.02});
      made.reflectors[0].slope_error = 0;
      made.sun = Sun{};
      if (radio) {
        made.radio = Radio{};
        made.radio->frequencies = {1e9};
      } else {
        made.sound = Sound{};
        made.sound->frequencies = {1000};
      }
      Watch watch;
      try {
        const WaveFigures figures = wave_figures(made, WaveMaps::none, 2, watch);
        for (const WaveAnswer& answer : figures.targets.at(0).answers) CHECK(!std::isnan(answer.gain.value_or(0)));
        ++answered;
      } catch (const InputError& refusal) {
        CHECK(refusal.problems().size() >= 1);  // a mesh, say: refused in words
      }
    }
  }
  CHECK(answered >= 20);
}
