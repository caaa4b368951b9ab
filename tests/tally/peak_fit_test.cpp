// SPDX-License-Identifier: MIT
// The brightest disc from counts of known light: Gaussian spot, ridge, even light, against closed forms.
#include "tally/peak_fit.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "approx.h"
#include "base/estimate.h"
#include "effort.h"
#include "tally/peak_surface.h"
#include "trace/rays.h"

using namespace dishwright;

namespace {

constexpr int replicates = 32, cells = PeakCounts::cells;

/// A window 12 wide in which single paths fall, 32 × `paths`; draw(random) gives their places.
template <typename Draw>
std::vector<std::int64_t> fall(std::uint64_t seed, int paths, const Draw& draw) {
  std::vector<std::int64_t> weight(static_cast<std::size_t>(replicates) * cells * cells, 0);
  std::mt19937_64 random(seed);
  for (int k = 0; k < replicates * paths; ++k) {
    const auto [x, y] = draw(random);
    const int column = static_cast<int>(std::floor((x + 6) / 12 * cells)),
              row = static_cast<int>(std::floor((y + 6) / 12 * cells));
    if (column < 0 || row < 0 || column >= cells || row >= cells) continue;
    weight[static_cast<std::size_t>((k % replicates * cells + row) * cells + column)] += static_cast<std::int64_t>(full_weight);
  }
  return weight;
}

PeakCounts window(const std::vector<std::int64_t>& weight, int paths) {
  PeakCounts counts;
  counts.half_x = counts.half_y = 6;
  counts.disc = 1;
  counts.paths.assign(replicates, paths);
  counts.weight = &weight;
  counts.on_face.assign(static_cast<std::size_t>(cells) * cells, 1);
  counts.facing.assign(static_cast<std::size_t>(cells) * cells, 1);
  counts.keep_on_face = [](double&, double&) {};
  return counts;
}

struct Judged {
  int runs = 0, within_68 = 0, within_95 = 0;
  double off = 0, off2 = 0;  // in the true value
};

template <typename Draw>
Judged judge(int runs, int paths, double truth, const Draw& draw) {
  Judged out;
  for (int k = 0; k < runs; ++k) {
    const auto weight = fall(100 + static_cast<std::uint64_t>(k), paths, draw);
    const auto found = find_peak(window(weight, paths));
    REQUIRE(found);
    REQUIRE(found->without_one.size() == replicates);
    const double error = jackknife_error(replicates, [&](int r) { return found->without_one[static_cast<std::size_t>(r)]; });
    const double off = found->value - truth;
    out.within_68 += std::abs(off) <= student_quantile(0.68, replicates - 1) * error ? 1 : 0;
    out.within_95 += std::abs(off) <= student_quantile(0.95, replicates - 1) * error ? 1 : 0;
    out.off += off / truth, out.off2 += off * off / truth / truth;
    ++out.runs;
  }
  return out;
}

// Coverage within 3.3 binomial standard errors of a band of ± 6 about 68 % and ± 3 about 95 %. The mean lies within 3.3 of its
// own standard errors and 0.35 standard errors of a single run: a place found on one half and measured on the other lay half an
// error low.
void check_honest(const char* what, const Judged& judged) {
  const double n = judged.runs, mean = judged.off / n, spread = std::sqrt(judged.off2 / n - mean * mean);
  INFO(what, ": mean ", 100 * mean, " %, spread ", 100 * spread, " %, ", judged.within_68, " and ", judged.within_95, " of ", n);
  CHECK(std::abs(judged.within_68 / n - 0.68) <= 0.06 + testing::share_allowance(0.68, judged.runs));
  CHECK(std::abs(judged.within_95 / n - 0.95) <= 0.03 + testing::share_allowance(0.95, judged.runs));
  CHECK(std::abs(mean) <= spread * (0.35 + 3.3 / std::sqrt(n)));
}

}  // namespace

TEST_CASE("mean of a surface over an ellipse: as many points say") {
  SurfaceTerms terms;
  for (int k = 0; k < surface_terms; ++k) terms(k) = std::sin(1.0 + k);
  double sum = 0;
  constexpr int rings = 200, around = 64;
  const double u = 0.3, v = -0.4, a = 0.5, b = 0.2;
  for (int i = 0; i < rings; ++i) {
    for (int j = 0; j < around; ++j) {
      const double r = std::sqrt((i + 0.5) / rings), angle = 2 * std::numbers::pi * j / around;
      sum += ellipse_means(u + a * r * std::cos(angle), v + b * r * std::sin(angle), 0, 0).dot(terms) / (rings * around);
    }
  }
  // The ring rule is good to 1/(24 rings²) of the fourth-degree terms.
  CHECK(ellipse_means(u, v, a, b).dot(terms) == testing::approx(sum).epsilon(1e-5));
}

TEST_CASE("Gaussian spot: the mean over the brightest disc, at few and many paths" * doctest::test_suite("slow")) {
  // Mean over the middle disc of diameter 1: (1 − e^{−q})/q / (2πσ²), q = 1/(8σ²).
  for (const double sigma : {3.0, 1.2}) {
    const double q = 1 / (8 * sigma * sigma), truth = (1 - std::exp(-q)) / q / (2 * std::numbers::pi * sigma * sigma);
    for (const int paths : {100, 2000}) {
      const auto draw = [sigma](std::mt19937_64& random) {
        std::normal_distribution<double> normal(0, sigma);
        const double x = 0.7 + normal(random), y = -0.4 + normal(random);
        return std::pair(x, y);
      };
      check_honest("Gaussian", judge(testing::repeats(200), paths, truth, draw));
    }
  }
}

TEST_CASE("ridge: the light along it is averaged, and the most of many noisy discs is not taken" * doctest::test_suite("slow")) {
  // Even along y over the window and beyond, Gaussian across (σ = 2): on the ridge erf(0.5/(σ√2) …) averaged over the disc; to
  // 1e-4 of it 1/(√(2π) σ · 16) · (1 − a²/(8σ²)), a = 0.5 (mean of x²/2σ² over a disc of radius a is a²/(8σ²)).
  const double sigma = 2, truth = 1 / (std::sqrt(2 * std::numbers::pi) * sigma * 16) * (1 - 0.25 / (8 * sigma * sigma));
  const auto draw = [sigma](std::mt19937_64& random) {
    std::normal_distribution<double> normal(0, sigma);
    std::uniform_real_distribution<double> even(-8, 8);
    const double x = normal(random), y = even(random);
    return std::pair(x, y);
  };
  const Judged judged = judge(testing::repeats(200), 300, truth, draw);
  check_honest("ridge", judged);
  // A single disc holds 9600 · π/4 · 0.0124 = 94 paths: 10 %. The surface does better by far: 0.047 in 200 runs. A rms from n runs
  // has a relative standard error of 1/√(2n); 3.3 of them for 50 runs are a third.
  CHECK(std::sqrt(judged.off2 / judged.runs) < 0.047 * (1 + 3.3 / std::sqrt(2.0 * judged.runs)));
}

TEST_CASE("even light: no place is brighter than it" * doctest::test_suite("slow")) {
  const double truth = 1.0 / 256;
  const auto draw = [](std::mt19937_64& random) {
    std::uniform_real_distribution<double> even(-8, 8);
    const double x = even(random), y = even(random);
    return std::pair(x, y);
  };
  check_honest("even", judge(testing::repeats(200), 300, truth, draw));
}

TEST_CASE("light in a tip that no smooth surface follows: discs are counted") {
  // Half of the light evenly in a disc of diameter 1, the rest wide: the mean over it is 0.5/(π/4) and the wide part's 0.5/256.
  const auto draw = [](std::mt19937_64& random) {
    std::uniform_real_distribution<double> even(-8, 8), share(0, 1);
    const bool tip = share(random) < 0.5;
    const double r = 0.5 * std::sqrt(share(random)), angle = 2 * std::numbers::pi * share(random);
    const double x = tip ? r * std::cos(angle) : even(random), y = tip ? r * std::sin(angle) : even(random);
    return std::pair(x, y);
  };
  const auto weight = fall(5, 3000, draw);
  const auto found = find_peak(window(weight, 3000));
  REQUIRE(found);
  // Middles stand 3/32 apart each way, so one is up to 0.07 off, and cells on the rim, 3/16 wide, count in part: 4/π · 0.07 = 8
  // %, and as much again, of a disc with a sharp edge.
  const double truth = 0.5 / (std::numbers::pi / 4) + 0.5 / 256;
  CHECK(found->value < 1.02 * truth);
  CHECK(found->value > 0.83 * truth);
}

TEST_CASE("a disc as wide as the face: the mean over the face") {
  const auto draw = [](std::mt19937_64& random) {
    std::normal_distribution<double> normal(0, 1);
    const double x = normal(random), y = normal(random);
    return std::pair(x, y);
  };
  const auto weight = fall(3, 300, draw);
  PeakCounts counts = window(weight, 300);
  counts.disc = 12;
  counts.keep_on_face = [](double& x, double& y) { x = y = 0; };
  const auto found = find_peak(counts);
  REQUIRE(found);
  CHECK(found->value == testing::approx(1 / (std::numbers::pi * 36)).epsilon(2e-3));  // all paths, but for cells cut by the rim
}

TEST_CASE("too few paths tell no place") {
  const auto draw = [](std::mt19937_64& random) {
    std::normal_distribution<double> normal(0, 2);
    const double x = normal(random), y = normal(random);
    return std::pair(x, y);
  };
  CHECK(!find_peak(window(fall(3, 1, draw), 1)));
  for (int seed = 0; seed < 50; ++seed) {  // and with a few more it is a sane number
    const auto weight = fall(static_cast<std::uint64_t>(seed), 3, draw);
    const auto found = find_peak(window(weight, 3));
    if (!found) continue;
    CHECK(std::isfinite(found->value));
    CHECK(found->value > 0);
    CHECK(found->value < 0.4);  // ten times the truth
  }
}
