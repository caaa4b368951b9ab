// SPDX-License-Identifier: MIT
// The smeared sun: sums of Gaussians and the round table against convolutions done by brute force.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "base/quadrature_rule.h"
#include "quadrature/image.h"
#include "quadrature/narrow_kernel.h"
#include "quadrature/sun_kernel.h"

using namespace dishwright;

namespace {

constexpr double pi = std::numbers::pi;

Sun sun_of(DiscProfile profile, double aureole_share = 0.05) {
  Sun sun;
  sun.disc = profile;
  sun.aureole_share = aureole_share;
  return sun;
}

/// Disc ⊗ Gaussian of widths s1, s2 at (x, y): sums over the radiance law itself, on a polar grid far finer than the Gaussians.
double by_brute_force(const Sun& sun, double s1, double s2, double x, double y) {
  const DiscSampler disc(sun.disc, sun.half_angle, sun.aureole_share);
  const bool aureole = disc.largest_angle() > sun.half_angle;
  const int rings = aureole ? 9376 : 1500, around = 90;  // the disc's edge, 1/9.376 of the aureole's, falls between two rings
  const double edge = disc.largest_angle();
  double sum = 0, power = 0;
  for (int i = 0; i < rings; ++i) {
    const double r = (i + 0.5) / rings * edge, weight = disc.relative_radiance(r) * r;
    power += weight * around;
    if (weight == 0) continue;
    for (int k = 0; k < around; ++k) {
      const double a = (x - r * std::cos(2 * pi * k / around)) / s1, b = (y - r * std::sin(2 * pi * k / around)) / s2;
      sum += weight * std::exp(-(a * a + b * b) / 2);
    }
  }
  return sum / power / (2 * pi * s1 * s2);
}

double by_lobes(const SunLobes& sun, double s1, double s2, double x, double y) {
  double sum = 0;
  for (const Lobe& lobe : sun.lobes) {
    const double v1 = s1 * s1 + lobe.variance, v2 = s2 * s2 + lobe.variance;
    sum += lobe.share * std::exp(-std::pow(x - lobe.x, 2) / (2 * v1) - std::pow(y - lobe.y, 2) / (2 * v2)) /
           (2 * pi * std::sqrt(v1 * v2));
  }
  return sum;
}

double by_table(const NarrowKernel& kernel, const std::vector<float>& rows, double x, double y) {
  const double place = std::hypot(x, y) * static_cast<double>(kernel.per_step());
  const std::size_t count = rows.size() / NarrowKernel::harmonics, step = std::min(static_cast<std::size_t>(place), count - 2);
  const double part = std::min(place, static_cast<double>(count - 2)) - static_cast<double>(step), angle = std::atan2(y, x);
  double sum = 0;
  for (std::size_t m = 0; m < NarrowKernel::harmonics; ++m) {
    const double from = static_cast<double>(rows[step * NarrowKernel::harmonics + m]),
                 to = static_cast<double>(rows[(step + 1) * NarrowKernel::harmonics + m]);
    sum += (from + part * (to - from)) * std::cos(2 * static_cast<double>(m) * angle);
  }
  return sum;
}

}  // namespace

TEST_CASE("a sum of Gaussians is the smeared sun, also where the smear differs along the two axes") {
  // Largest error relative to the middle. Power 1e-3 would show a wrong ladder, a wrong Bessel function or shares that do not add
  // up.
  for (const DiscProfile profile : {DiscProfile::uniform, DiscProfile::limb_darkened, DiscProfile::aureole}) {
    for (const double ratio : {0.15, 0.31, 0.45, 0.8, 1.2, 2.0}) {
      const Sun sun = sun_of(profile);
      const double s2 = ratio * sun.half_angle, s1 = 1.3 * s2;
      const SunLobes lobes = sun_lobes(sun, s2);
      CAPTURE(static_cast<int>(profile));
      CAPTURE(ratio);
      CAPTURE(lobes.error);
      const double middle = by_brute_force(sun, s1, s2, 0, 0);
      double worst = 0;
      for (const auto& [x, y] : {std::pair{0.0, 0.0}, {0.5, 0.2}, {0.9, 0.0}, {0.0, 1.0}, {0.8, 0.8}, {1.5, -0.5}, {-2.5, 1.0}}) {
        const double px = x * sun.half_angle, py = y * sun.half_angle;
        worst = std::max(worst, std::abs(by_lobes(lobes, s1, s2, px, py) - by_brute_force(sun, s1, s2, px, py)));
      }
      CHECK(worst / middle < 1e-3);
      CHECK(worst / middle < 5 * lobes.error + 3e-4);  // the stated error is honest
      double shares = 0;
      for (const Lobe& lobe : lobes.lobes) shares += lobe.share;
      CHECK(shares == testing::approx(1).epsilon(1e-9));
    }
  }
}

// The Gaussian 2 slope wide along the plane of incidence, cos i of that across it; for cosines between the tables.
TEST_CASE("the table of a narrow slope error is the smeared sun for every angle of incidence, with the error that it states") {
  for (const DiscProfile profile : {DiscProfile::uniform, DiscProfile::limb_darkened}) {
    for (const double steepest : {1.0, 0.9, 0.6}) {
      const Sun sun = sun_of(profile);
      const double slope = 0.12 * sun.half_angle / steepest, spread = 0.03 * sun.half_angle;
      const NarrowKernel kernel(sun, slope, spread, steepest);
      CAPTURE(static_cast<int>(profile));
      CAPTURE(steepest);
      CHECK(kernel.error() < 2e-3);
      for (const double cosine : {steepest, 0.37 * steepest + 0.63, 1.0}) {
        const std::vector<float> rows = kernel.table(cosine);
        const double s1 = std::hypot(2 * slope, spread), s2 = std::hypot(2 * slope * cosine, spread);
        const double middle = by_brute_force(sun, s1, s2, 0, 0);
        double worst = 0;
        for (const auto& [x, y] :
             {std::pair{0.0, 0.0}, {0.5, 0.2}, {0.95, 0.1}, {0.0, 1.0}, {0.8, 0.7}, {1.2, -0.3}, {-1.6, 0.9}}) {
          const double px = x * sun.half_angle, py = y * sun.half_angle;
          worst = std::max(worst, std::abs(by_table(kernel, rows, px, py) - by_brute_force(sun, s1, s2, px, py)));
        }
        CHECK(worst / middle < kernel.error() + 3e-4);  // and what the sum itself is good for
      }
    }
  }
}

TEST_CASE("variance of the sun: a²/4 along one axis for a uniform disc") {
  // Closed form for the disc in sines; tangents differ by a² (2e-5).
  CHECK(sun_rings(sun_of(DiscProfile::uniform), 10).variance == testing::approx(4.65e-3 * 4.65e-3 / 4).epsilon(1e-4));
  // 0.3 + 0.93 µ − 0.23 µ²: ∫ area · radiance / ∫ radiance = (0.15 + 0.93 · 4/15 − 0.23/6) / 0.805, halved.
  const double moment = (0.15 + 0.93 * 4 / 15 - 0.23 / 6) / 0.805 / 2;
  CHECK(sun_rings(sun_of(DiscProfile::limb_darkened), 10).variance == testing::approx(moment * 4.65e-3 * 4.65e-3).epsilon(1e-4));
}

TEST_CASE("the round table: power 1, the bare disc's own radiance, and a smeared disc") {
  for (const double spread : {0.0, 0.5e-3, 3e-3, 20e-3}) {
    for (const DiscProfile profile : {DiscProfile::uniform, DiscProfile::limb_darkened, DiscProfile::aureole}) {
      const Sun sun = sun_of(profile);
      const RoundKernel kernel = round_kernel(sun, spread);
      CAPTURE(spread);
      CAPTURE(static_cast<int>(profile));
      double power = 0;
      for (std::size_t i = 1; i < kernel.table.size(); ++i)
        power += kernel.table[i] * 2 * pi * static_cast<double>(i) / kernel.per_step / kernel.per_step;
      CHECK(power == testing::approx(1).epsilon(1.2e-4));
      if (spread == 0) continue;
      const double middle = by_brute_force(sun, spread, spread, 0, 0);
      for (const double x : {0.0, 2e-3, 4.65e-3, 6e-3}) {
        const std::size_t step = static_cast<std::size_t>(x * kernel.per_step);
        const double part = x * kernel.per_step - static_cast<double>(step);
        const double found = step + 1 < kernel.table.size() ? kernel.table[step] * (1 - part) + kernel.table[step + 1] * part : 0;
        CHECK(std::abs(found - by_brute_force(sun, spread, spread, x, 0)) < 2e-3 * middle);
      }
    }
  }
  const RoundKernel bare = round_kernel(sun_of(DiscProfile::uniform), 0);
  CHECK(bare.table[100] == testing::approx(1 / (pi * 4.65e-3 * 4.65e-3)).epsilon(1e-3));
}

TEST_CASE("Gauss-Legendre integrates polynomials exactly") {
  for (const int n : {1, 2, 5, 12, 16, 40}) {
    const Rule rule = gauss_rule(n);
    const int degree = std::min(2 * n - 1, 31);
    double sum = 0;
    for (std::size_t i = 0; i < rule.at.size(); ++i) sum += rule.weight[i] * std::pow(rule.at[i], degree);
    CHECK(sum == testing::approx(1.0 / (degree + 1)).epsilon(1e-12));
  }
}
