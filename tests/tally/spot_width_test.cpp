// SPDX-License-Identifier: MIT
// Widths that hold a share of the light, and the curve of the share, of light whose law is known.
#include "tally/spot_width.h"

#include <doctest/doctest.h>

#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <functional>
#include <random>

#include "approx.h"
#include "base/estimate.h"
#include "effort.h"
#include "tally/share_curve.h"
#include "trace/rays.h"

using namespace dishwright;

namespace {

/// Counts of paths by their distance from the middle.
class Rings {
 public:
  Rings(double r50, double r90, int replicates) : bins(RadialBins::around(r50, r90)), rows(static_cast<std::size_t>(replicates)) {
    for (TallyCounts::Row& row : rows) row.radial = {std::vector<std::int64_t>(bins.count, 0)};
  }
  void add(int replicate, double distance) {
    TallyCounts::Row& row = rows[static_cast<std::size_t>(replicate)];
    ++row.radial[0][bins.bin(static_cast<float>(distance * distance))];
    ++row.left;
  }
  Estimate width(double share, bool band = false) const { return spot_width(bins, rows, 0, share, band); }
  RadialBins bins;
  std::vector<TallyCounts::Row> rows;
};

/// n paths, the k-th at the distance within which the share (k + 1/2)/n of the light falls.
Rings by_law(double r50, double r90, const std::function<double(double)>& distance) {
  constexpr int n = 100'000, replicates = 4;
  Rings rings(r50, r90, replicates);
  for (int k = 0; k < n; ++k) rings.add(k % replicates, distance((k + 0.5) / n));
  return rings;
}

// Bins are 1/128 to 1/256 of the squared distance wide; light is taken as even in area (a band: in distance) inside one. What a
// law of second order within the bin leaves out is (1/256)²/8: 2e-6; the steps of 1e-5 in the share are less than 1e-5 of the
// widths.
constexpr double bin_fineness = 2e-5;

}  // namespace

TEST_CASE("bins of squared distances: edges belong to the upper bin, what lies beyond to the last ones") {
  const RadialBins bins = RadialBins::around(0.01, 0.02);
  CHECK(bins.edge(0) == 0);
  for (std::uint32_t b = 1; b < bins.count; b += 97) {
    const float edge = static_cast<float>(bins.edge(b));
    CHECK(bins.bin(edge) == b);
    CHECK(bins.bin(std::nextafter(edge, 0.0F)) == b - 1);
    CHECK(bins.edge(b + 1) / bins.edge(b) - 1 <= 1.0 / 128 + 1e-12);  // 128 to an octave
    CHECK(bins.edge(b + 1) / bins.edge(b) - 1 >= 1.0 / 256 - 1e-12);
  }
  // The half width over 2^12 and the nine-tenths width times 2^12 are still told apart.
  CHECK(bins.bin(static_cast<float>(std::pow(0.01 / 4096, 2) / 2)) == 0);
  CHECK(bins.bin(static_cast<float>(std::pow(0.02 * 4096, 2) / 2)) < bins.count - 1);
  CHECK(bins.bin(0) == 0);
  CHECK(bins.bin(1e30F) == bins.count - 1);
}

TEST_CASE("widths of an even disc: D √share") {
  const Rings disc = by_law(0.7, 0.95, [](double share) { return std::sqrt(share); });
  for (const double share : {0.1, 0.5, 0.9, 0.99}) {
    CAPTURE(share);
    CHECK(disc.width(share).value == testing::approx(2 * std::sqrt(share)).epsilon(bin_fineness));
  }
  CHECK(disc.width(0.5).unit == "m");
}

TEST_CASE("widths of a Gaussian spot: 2 σ √(2 ln 1/(1 − share))") {
  const double sigma = 0.003;
  const Rings spot = by_law(sigma, 2 * sigma, [=](double share) { return sigma * std::sqrt(-2 * std::log1p(-share)); });
  for (const double share : {0.5, 0.9}) {
    CAPTURE(share);
    CHECK(spot.width(share).value == testing::approx(2 * sigma * std::sqrt(-2 * std::log1p(-share))).epsilon(bin_fineness));
  }
}

TEST_CASE("widths of bands: even light, and a Gaussian line") {
  const Rings even = by_law(0.5, 0.9, [](double share) { return share; });
  CHECK(even.width(0.5, true).value == testing::approx(1.0).epsilon(bin_fineness));
  CHECK(even.width(0.9, true).value == testing::approx(1.8).epsilon(bin_fineness));
  // Share within ± x of a Gaussian: erf(x/(σ√2)).
  const auto distance = [](double share) { return 0.02 * std::sqrt(2.0) * boost::math::erf_inv(share); };
  const Rings line = by_law(0.02, 0.04, distance);
  CHECK(line.width(0.5, true).value == testing::approx(2 * distance(0.5)).epsilon(bin_fineness));
  CHECK(line.width(0.9, true).value == testing::approx(2 * distance(0.9)).epsilon(bin_fineness));
}

TEST_CASE("width of light in one ring: the ring's own bin holds it") {
  Rings ring(0.5, 0.5, 2);
  for (int k = 0; k < 100; ++k) ring.add(k % 2, 0.5);
  const Estimate width = ring.width(0.5);
  CHECK(width.value == testing::approx(1).epsilon(0.5 / 128));
  CHECK(width.std_error.value() == 0);
}

TEST_CASE("the ± of a width: the binomial law's, and 68 and 95 of 100 runs within it") {
  // Even disc of radius 1, N paths: of the share within a fixed width the variance is p (1 − p)/N; dw/dp = 1/√p, so that σ(w) =
  // √((1 − p)/N).
  constexpr int replicates = 32, paths = 40 * replicates;
  const int runs = testing::repeats(800);
  for (const double share : {0.5, 0.9}) {
    CAPTURE(share);
    const double truth = 2 * std::sqrt(share), sigma = std::sqrt((1 - share) / paths);
    std::mt19937_64 random(11);
    std::uniform_real_distribution<double> even(0, 1);
    double off = 0, off2 = 0, error2 = 0;
    int within_68 = 0, within_95 = 0;
    for (int run = 0; run < runs; ++run) {
      Rings rings(0.7, 0.95, replicates);
      for (int k = 0; k < paths; ++k) rings.add(k % replicates, std::sqrt(even(random)));
      const Estimate width = rings.width(share);
      const double apart = width.value - truth, error = width.std_error.value();
      off += apart, off2 += apart * apart, error2 += error * error;
      within_68 += std::abs(apart) <= student_quantile(0.68, replicates - 1) * error ? 1 : 0;
      within_95 += std::abs(apart) <= student_quantile(0.95, replicates - 1) * error ? 1 : 0;
    }
    // A mean of n squares of Gaussian errors is known to √(2/n); each run's own ± to √(1/(2·31)), its square to twice that. 3.3
    // of each.
    const double n = runs;
    CHECK(std::abs(off / n) <= 3.3 * sigma / std::sqrt(n) + 0.1 * sigma);
    CHECK(std::abs(off2 / n / (sigma * sigma) - 1) <= 3.3 * std::sqrt(2 / n) + 0.03);
    CHECK(std::abs(error2 / n / (sigma * sigma) - 1) <= 3.3 * std::sqrt(2.0 / 31 / n) + 0.05);
    CHECK(std::abs(within_68 / n - 0.68) <= testing::share_allowance(0.68, runs) + 0.02);
    CHECK(std::abs(within_95 / n - 0.95) <= testing::share_allowance(0.95, runs) + 0.01);
  }
}

TEST_CASE("curve of the share: (w/D)² of an even disc, from nothing to all of what comes, and no more") {
  Rings disc = by_law(0.7, 0.95, [](double share) { return std::sqrt(share); });
  disc.rows[0].left += 25'000;  // a fifth of the light that left the mirrors missed the plane
  const ShareCurve curve = share_curve(disc.bins, disc.rows, 0);
  REQUIRE(curve.width.size() > 100);
  CHECK(curve.share.front() == 0);
  CHECK(curve.share.back() == testing::approx(0.8));
  CHECK(curve.width.back() >= 2);
  CHECK(curve.width.back() <= 2 * std::sqrt(1 + 5.0 / 128));  // the fourth bin edge after the rim at most
  for (std::size_t k = 1; k < curve.width.size(); ++k) {
    CHECK(curve.width[k] > curve.width[k - 1]);
    if (curve.width[k] < 2)
      CHECK(std::abs(curve.share[k] - 0.8 * std::pow(curve.width[k] / 2, 2)) <= 1e-5);  // one path of 125 000
  }
}

TEST_CASE("curve of the share: its ± is the jackknife of a ratio, done by hand") {
  // Two of three replicates have all of their light within the first ring, one has none of it there. Left the mirrors: 10, 20, 30
  // paths.
  Rings rings(1, 1, 3);
  for (int k = 0; k < 10; ++k) rings.add(0, 0.5);
  for (int k = 0; k < 20; ++k) rings.add(1, 0.5);
  for (int k = 0; k < 30; ++k) rings.add(2, 2);
  const ShareCurve curve = share_curve(rings.bins, rings.rows, 0);
  REQUIRE(curve.share.size() >= 3);
  CHECK(curve.share[1] == testing::approx(30.0 / 60));
  // Without each: 20/50, 10/40, 30/30; mean 0.55; √(2/3 Σ (x − 0.55)²).
  const double sum = std::pow(0.4 - 0.55, 2) + std::pow(0.25 - 0.55, 2) + std::pow(1 - 0.55, 2);
  CHECK(curve.std_error[1] == testing::approx(std::sqrt(2.0 / 3 * sum)));
  CHECK(curve.std_error.back() == testing::approx(0));
  CHECK(share_curve(rings.bins, {TallyCounts::Row{0, 0, 0, {}, {}, {}, {std::vector<std::int64_t>(rings.bins.count, 0)}}}, 0)
            .width.empty());
}
