// SPDX-License-Identifier: MIT
// The peak of a bump whose law is known, through window and counts together: its place and height, a flat top, and a bump beyond
// the edge.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "approx.h"
#include "base/estimate.h"
#include "tally/peak_fit.h"
#include "tally/peak_window.h"
#include "trace/rays.h"

using namespace dishwright;

namespace {

constexpr int replicates = 32, cells = PeakWindow::cells;
constexpr double pi = std::numbers::pi;

/// Poisson counts of `paths` paths a replicate, whose density [1/m²] at a window's (x, y) is given, on the cells that are face.
template <typename Density>
std::vector<std::int64_t> poisson(const PeakWindow& window, int paths, const Density& density, const PeakCounts& shape) {
  std::mt19937_64 random(3);
  std::vector<std::int64_t> weight;
  const double cell_x = 2 * window.half_across / cells, cell_y = 2 * window.half_up / cells;
  for (int r = 0; r < replicates; ++r) {
    for (int k = 0; k < cells * cells; ++k) {
      const double x = (k % cells + 0.5) * cell_x - window.half_across,
                   y = (std::floor(k / double{cells}) + 0.5) * cell_y - window.half_up;
      const double mean = paths * density(x, y) * cell_x * cell_y * shape.on_face[static_cast<std::size_t>(k)];
      weight.push_back(mean > 0 ? std::poisson_distribution<std::int64_t>(mean)(random) * static_cast<std::int64_t>(full_weight)
                                : 0);
    }
  }
  return weight;
}

PeakWindow window_of(double half) {
  PeakWindow window;
  window.any = true, window.half_across = window.half_up = half;
  return window;
}

struct Bump {
  double x = 0, y = 0, sigma = 1;
  double density(double at_x, double at_y) const {
    return std::exp(-(std::pow(at_x - x, 2) + std::pow(at_y - y, 2)) / (2 * sigma * sigma)) / (2 * pi * sigma * sigma);
  }
};

std::optional<FoundPeak> peak_of(const TargetShape& shape, const PeakWindow& window, double disc, int paths,
                                 const std::function<double(double, double)>& density) {
  static const std::vector<std::int64_t> none;
  const PeakCounts layout = peak_counts(shape, window, disc, none, {});
  const std::vector<std::int64_t> weight = poisson(window, paths, density, layout);
  return find_peak(peak_counts(shape, window, disc, weight, std::vector<double>(replicates, paths)));
}

double error_of(const FoundPeak& found) {
  return jackknife_error(replicates, [&](int r) { return found.without_one.at(static_cast<std::size_t>(r)); });
}

}  // namespace

TEST_CASE("a bump on a wide face: place and height") {
  // σ = 10 mm, disc 3 mm: its mean is (1 − e^{−q})/q of the top, q = a²/(2σ²) with a = 1.5 mm.
  const Bump bump{0.004, -0.007, 0.01};
  const auto found =
      peak_of(DiskTarget{1}, window_of(0.03), 0.003, 3'000, [&](double x, double y) { return bump.density(x, y); });
  REQUIRE(found);
  const double q = 0.0015 * 0.0015 / (2 * 0.01 * 0.01), truth = (1 - std::exp(-q)) / q / (2 * pi * 0.01 * 0.01);
  CHECK(std::abs(found->value - truth) <= 3.5 * error_of(*found));
  // 96 000 paths, of which one disc holds 1080 (3 %); all of the light, if its law were known, would tell the height to 1/√96 000
  // (0.3 %).
  CHECK(error_of(*found) / truth < 0.02);
  CHECK(error_of(*found) / truth > 0.003);
  // A place d off is d²/(2σ²) lower: 3 mm are 4 %, about what noise of 1 % and the bend of the surface leave open.
  CHECK(std::hypot(found->x - bump.x, found->y - bump.y) <= 0.003);
}

TEST_CASE("a bump of very many paths, which no smooth surface follows to their precision: discs are counted") {
  const Bump bump{0.004, -0.007, 0.01};
  const auto found =
      peak_of(DiskTarget{1}, window_of(0.03), 0.003, 100'000, [&](double x, double y) { return bump.density(x, y); });
  REQUIRE(found);
  const double q = 0.0015 * 0.0015 / (2 * 0.01 * 0.01), truth = (1 - std::exp(-q)) / q / (2 * pi * 0.01 * 0.01);
  // 3.2 million paths, of which a disc holds 36 000: 0.53 %, and the ± also holds where the halves look.
  CHECK(std::abs(found->value - truth) <= 3.5 * error_of(*found));
  CHECK(error_of(*found) / truth < 0.0106);
  CHECK(error_of(*found) / truth > 0.0038);
}

TEST_CASE("a flat top: the height of the plateau, though each of its places is as bright") {
  // Even within 12 mm of the middle, falling off beyond (Gaussian, 4 mm): ∫ = π R² + 2π ∫ (R + t) e^{−t²/2s²} dt = π R² + 2π (R s
  // √(π/2) + s²).
  const double radius = 0.012, fall = 0.004;
  const double whole = pi * radius * radius + 2 * pi * (radius * fall * std::sqrt(pi / 2) + fall * fall);
  const auto density = [&](double x, double y) {
    const double beyond = std::max(0.0, std::hypot(x, y) - radius);
    return std::exp(-beyond * beyond / (2 * fall * fall)) / whole;
  };
  const auto found = peak_of(DiskTarget{1}, window_of(0.03), 0.003, 3'000, density);
  REQUIRE(found);
  CHECK(std::abs(found->value * whole - 1) <= 3.5 * error_of(*found) * whole);
  CHECK(error_of(*found) * whole < 0.03);  // a disc holds 670 paths: 4 %
  CHECK(error_of(*found) * whole > 0.003);
  CHECK(std::hypot(found->x, found->y) <= radius);
}

TEST_CASE("a bump beyond the edge of the face: the disc that just fits, at the edge") {
  // The face ends at x = 0.02 (a wall 40 mm wide); the light's middle is at x = 0.03, σ = 20 mm. The brightest disc on the face
  // has its middle at 0.02 − 0.002. Mean of the light over it: by a polar rule of 40 × 40 points, good to 1e-5.
  const Bump bump{0.03, 0, 0.02};
  PeakWindow window = window_of(0.02);
  window.start_across = 0.015;  // what a pilot sees
  const auto found =
      peak_of(RectangleTarget{0.04, 1}, window, 0.004, 10'000, [&](double x, double y) { return bump.density(x, y); });
  REQUIRE(found);
  double truth = 0;
  for (int i = 0; i < 40; ++i) {
    for (int j = 0; j < 40; ++j) {
      const double r = 0.002 * std::sqrt((i + 0.5) / 40), angle = 2 * pi * j / 40;
      truth += bump.density(0.018 + r * std::cos(angle), r * std::sin(angle)) / 1600;
    }
  }
  CHECK(std::abs(found->value - truth) <= 3.5 * error_of(*found));
  CHECK(error_of(*found) / truth < 0.02);  // a disc holds 1330 paths: 2.7 %
  CHECK(error_of(*found) / truth > 0.002);
  CHECK(found->x == testing::approx(0.018).epsilon(0.02));
  CHECK(std::abs(found->y) <= 0.005);  // 3 % of the height
}

TEST_CASE("even light on a tube, seen aside: counts are of the shadow on the window's plane, the peak is of the surface") {
  // Even light all round the tube, 1/(2πRL) a path: turned parts of the face show more counts an area of the plane, by their
  // cosine: at the window's edges 15 % more.
  const double radius = 0.02, length = 0.1;
  PeakWindow window = window_of(0.01);
  window.radius = radius, window.middle = Vector3(radius, 0, 0);
  window.start_across = 0.008;
  const double even = 1 / (2 * pi * radius * length);
  const auto found = peak_of(TubeTarget{2 * radius, length}, window, 0.002, 300'000, [&](double x, double) {
    return even / std::sqrt(1 - x * x / (radius * radius));  // counts a plane area
  });
  REQUIRE(found);
  CHECK(std::abs(found->value / even - 1) <= 3.5 * error_of(*found) / even);
  CHECK(error_of(*found) / even < 0.012);  // 9.6 million paths, 2400 in a disc (2 %), 320 000 in the window (0.2 %)
  CHECK(error_of(*found) / even > 0.0015);
}
