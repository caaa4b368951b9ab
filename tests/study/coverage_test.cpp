// SPDX-License-Identifier: MIT
// Stated errors are honest: over 400 seeds the 68 % and 95 % intervals hold the long-run value as often as they say.
#include <array>

#include "effort.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

const int seeds = testing::repeats(400);

struct Tally {
  int within_68 = 0, within_95 = 0;
  void add(const Estimate& estimate, double truth, int freedom) {
    const double off = std::abs(estimate.value - truth);
    within_68 += off <= student_quantile(0.68, freedom) * *estimate.std_error ? 1 : 0;
    within_95 += off <= student_quantile(0.95, freedom) * *estimate.std_error ? 1 : 0;
  }
};

// Binomial limits at 3.5 standard deviations; three figures, two intervals each: about 0.3 % that any of the six falls outside by
// chance. Of 400, 272 ± 33 and 380 ± 15: errors understated by 15 % would show, since 68 % becomes 60 %.
void check_frequency(const std::string& what, const Tally& tally) {
  INFO(what, ": ", tally.within_68, " and ", tally.within_95, " of ", seeds);
  const double n = seeds;
  CHECK(std::abs(tally.within_68 / n - 0.68) <= testing::share_allowance(0.68, seeds, 3.5));
  CHECK(std::abs(tally.within_95 / n - 0.95) <= testing::share_allowance(0.95, seeds, 3.5));
}

Scene sampled(std::uint64_t paths, std::uint64_t seed) {
  // Slope error 4 mrad and the limb-darkened sun: a spot with soft edges; the disk catches about four fifths.
  return scene(limb_sun(), mirror(dish_of(degrees(45)), 4e-3), target(DiskTarget{0.04}, {0, 0, 1}), paths, seed);
}

Scene flat_topped(std::uint64_t paths, std::uint64_t seed) {
  // Uniform sun on an exact dish: within 4.65 mm of the focus the irradiance is constant, so that where the brightest disc is
  // found does not change its expected value.
  return scene(uniform_sun(), mirror(dish_of(degrees(45))), target(DiskTarget{0.04}, {0, 0, 1}), paths, seed);
}

}  // namespace

TEST_CASE("intercept and spot width: intervals cover" * doctest::test_suite("slow")) {
  const TraceFigures truth = traced(sampled(20'000'000, 990'001));
  Tally intercept, width;
  for (int seed = 1; seed <= seeds; ++seed) {
    const TraceFigures figures = traced(sampled(20'000, static_cast<std::uint64_t>(seed)));
    intercept.add(*figures.targets[0].intercept, truth.targets[0].intercept->value, figures.replicates - 1);
    width.add(*figures.targets[0].spot_width_90, truth.targets[0].spot_width_90->value, figures.replicates - 1);
  }
  check_frequency("intercept", intercept);
  check_frequency("spot_width_90", width);
}

TEST_CASE("peak irradiance: intervals cover" * doctest::test_suite("slow")) {
  // Truth: beam · sin²φ/sin²θs (closed form).
  const double truth = 1000 * std::pow(std::sin(degrees(45)) / std::sin(sun_angle), 2);
  Tally peak;
  for (int seed = 1; seed <= seeds; ++seed) {
    const TraceFigures figures = traced(flat_topped(20'000, static_cast<std::uint64_t>(seed)));
    peak.add(*figures.targets[0].peak_irradiance, truth, figures.replicates - 1);
  }
  check_frequency("peak_irradiance", peak);
}
