// SPDX-License-Identifier: MIT
#include "quadrature/sun_kernel.h"

#include <Eigen/QR>
#include <algorithm>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <numbers>

#include "base/quadrature_rule.h"
#include "sky/disc.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double aureole_reach = 43.6 / 4.65;  // outer edge of the aureole in half angles of the disc

/// e^(−x) I0(x) for x >= 0.
double scaled_bessel_i0(double x) {
  if (x > 40) return (1 + (0.125 + (0.0703125 + 0.0732421875 / x) / x) / x) / std::sqrt(2 * pi * x);
  return std::exp(-x) * boost::math::cyl_bessel_i(0, x);
}

/// Variances of the concentric Gaussians to try, in squares of the half angle. Found by trial: error below 1e-4 for a bare disc.
std::vector<double> ladder(double ratio, bool aureole) {
  const int rungs = ratio >= 1 ? 3 : ratio >= 0.7 ? 4 : ratio >= 0.4 ? 6 : 8;
  const double top = ratio >= 1 ? 0.4 : 0.25;
  std::vector<double> variances;
  variances.reserve(static_cast<std::size_t>(rungs) + 6);
  for (int k = 0; k < rungs; ++k) variances.push_back(top * k / (rungs - 1));
  for (double wide = 0.6; aureole && wide < 32; wide *= 2) variances.push_back(wide);
  return variances;
}

/// Least squares over the Hankel transforms, weighted by the narrowest Gaussian's.
SunLobes concentric_lobes(const Sun& sun, const SunRings& rings, double narrowest) {
  const double unit = std::sin(sun.half_angle), ratio = narrowest / unit;
  const bool aureole = rings.edge > 2 * unit;
  const std::vector<double> variances = ladder(ratio, aureole);
  // Wave numbers per half angle; where the sun is wide, crowded toward 0.
  const Rule rule = gauss_rule(aureole || ratio < 0.7 ? 48 : 16);
  const int count = static_cast<int>(rule.at.size()), unknowns = static_cast<int>(variances.size());
  Eigen::MatrixXd left(count + 1, unknowns);
  Eigen::VectorXd right(count + 1);
  const double highest = 5.5 / ratio, lowest = aureole ? 0.02 : 0;
  double norm = 0;
  for (int i = 0; i < count; ++i) {
    const double at = rule.at[static_cast<std::size_t>(i)];
    const double k = aureole ? lowest * std::pow(highest / lowest, at) : highest * at;
    const double step = rule.weight[static_cast<std::size_t>(i)] * (aureole ? k * std::log(highest / lowest) : highest);
    const double weight = std::sqrt(step * k) * std::exp(-k * k * ratio * ratio / 2);
    double transform = 0;
    for (std::size_t j = 0; j < rings.share.size(); ++j)
      transform += rings.share[j] * boost::math::cyl_bessel_j(0, k * rings.tangent[j] / unit);
    for (int j = 0; j < unknowns; ++j) left(i, j) = weight * std::exp(-k * k * variances[static_cast<std::size_t>(j)] / 2);
    right(i) = weight * transform;
    norm += right(i) * right(i);
  }
  left.row(count).setConstant(1e3);  // the shares add up to 1
  right(count) = 1e3;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> solver(left);
  solver.setThreshold(1e-11);
  const Eigen::VectorXd share = solver.solve(right);
  SunLobes out;
  for (int j = 0; j < unknowns; ++j)
    out.lobes.push_back({share(j) / share.sum(), unit * unit * variances[static_cast<std::size_t>(j)], 0, 0});
  out.error = std::sqrt((left * share - right).head(count).squaredNorm() / norm);
  return out;
}

/// Single points of the sun: rings of its power, each with points closer than 1.2 × narrowest.
SunLobes point_lobes(const Sun& sun, double narrowest) {
  const double wide = std::sin(sun.half_angle);
  const SunRings rings = sun_rings(sun, std::max(4, static_cast<int>(std::ceil(1.8 * wide / narrowest))));
  SunLobes out;
  double start = 0;
  for (std::size_t j = 0; j < rings.share.size(); ++j) {
    const int around = std::max(3, static_cast<int>(std::ceil(2 * pi * rings.tangent[j] / (1.2 * narrowest))));
    start += 0.618;
    for (int k = 0; k < around; ++k) {
      const double angle = 2 * pi * (k + start) / around;
      out.lobes.push_back({rings.share[j] / around, 0, rings.tangent[j] * std::cos(angle), rings.tangent[j] * std::sin(angle)});
    }
  }
  out.error = 2e-4;  // by trial
  return out;
}

}  // namespace

SunRings sun_rings(const Sun& sun, int per_part) {
  SunRings rings;
  if (sun.half_angle <= 0) {
    rings.tangent = {0}, rings.share = {1};
    return rings;
  }
  const DiscSampler disc(sun.disc, sun.half_angle, sun.aureole_share, false);
  const Rule rule = gauss_rule(per_part);
  const double edge = std::sin(sun.half_angle);
  const auto add = [&](double sine, double weight) {
    rings.tangent.push_back(sine / std::sqrt(1 - sine * sine));
    rings.share.push_back(weight * disc.relative_radiance(std::asin(sine)));
  };
  // Inside: sin θ = edge · sin t, smooth at the centre and at the darkening edge alike.
  for (std::size_t i = 0; i < rule.at.size(); ++i) {
    const double t = rule.at[i] * pi / 2;
    add(edge * std::sin(t), rule.weight[i] * pi / 2 * std::sin(t) * std::cos(t) * edge * edge);
  }
  rings.edge = std::tan(sun.half_angle);
  // The aureole, in even steps of ln sin θ.
  if (disc.largest_angle() > sun.half_angle * 1.001) {
    const double span = std::log(aureole_reach);
    for (std::size_t i = 0; i < rule.at.size(); ++i) {
      const double sine = edge * std::exp(span * rule.at[i]);
      add(sine, rule.weight[i] * span * sine * sine);
    }
    rings.edge = std::tan(disc.largest_angle());
  }
  // Shares of the whole, and the variance along one axis.
  double total = 0;
  for (const double share : rings.share) total += share;
  rings.total = total;
  for (std::size_t i = 0; i < rings.share.size(); ++i) {
    rings.share[i] /= total;
    rings.variance += rings.share[i] * rings.tangent[i] * rings.tangent[i] / 2;
  }
  return rings;
}

double lobe_reach(double share, double variance) {
  constexpr double cut = 5;  // σ
  return std::sqrt(2 * variance * std::max(0.0, cut * cut / 2 + std::log(std::max(std::abs(share), 1e-30))));
}

SunLobes sun_lobes(const Sun& sun, double narrowest) {
  if (sun.half_angle <= 0) return {{Lobe{}}, 0, 0};
  const SunRings rings = sun_rings(sun, sun.disc == DiscProfile::aureole || narrowest < 0.7 * sun.half_angle ? 24 : 10);
  SunLobes out =
      narrowest >= narrow_lobes * sun.half_angle ? concentric_lobes(sun, rings, narrowest) : point_lobes(sun, narrowest);
  out.variance = rings.variance;
  return out;
}

RoundKernel round_kernel(const Sun& sun, double spread) {
  const bool sharp = spread < 0.01 * sun.half_angle;
  const double disc_edge = std::tan(sun.half_angle);
  const int per_part = sharp || disc_edge <= 0 ? 48 : std::clamp(static_cast<int>(4 * disc_edge / spread), 48, 400);
  const SunRings rings = sun_rings(sun, per_part);
  const DiscSampler disc(sun.disc, sun.half_angle, sun.aureole_share, false);
  // A sharp disc's edge falls midway between two steps.
  const double step = sharp                      ? disc_edge / 511.5
                      : spread > 0.3 * disc_edge ? spread / 40
                                                 : std::min(disc_edge / 127.5, spread / 6);
  const int count = static_cast<int>((rings.edge + (sharp ? 0 : 5.5 * spread)) / step) + 1;
  const auto radiance = [&](double tangent) {
    const double secant2 = 1 + tangent * tangent;
    return disc.relative_radiance(std::atan(tangent)) / (secant2 * secant2);
  };
  const auto smeared = [&](double tangent) {
    // In the aureole, where the light falls evenly over many spreads, it stays as it is.
    if (tangent > disc_edge + 8 * spread && spread < 0.1 * tangent && disc_edge > 0 && rings.edge > 1.1 * disc_edge)
      return radiance(tangent) * spread * spread / rings.total;
    double sum = 0;
    for (std::size_t j = 0; j < rings.share.size(); ++j) {
      const double apart = (tangent - rings.tangent[j]) / spread;
      if (std::abs(apart) > 9) continue;
      sum += rings.share[j] * std::exp(-apart * apart / 2) * scaled_bessel_i0(tangent * rings.tangent[j] / (spread * spread));
    }
    return sum;
  };
  double power = 0;
  std::vector<double> density;
  for (int i = 0; i < count; ++i) {
    density.push_back(sharp ? radiance(i * step) : smeared(i * step));
    power += density.back() * 2 * pi * step * step * (i == 0 ? 1.0 / 6 : i);  // straight pieces times the distance
  }
  RoundKernel out;
  out.variance = rings.variance;
  out.error = spread < 0.3 * disc_edge ? 4e-4 : 1e-5;  // by comparing layouts of cells
  for (const double value : density) out.table.push_back(static_cast<float>(value / power));
  out.table.insert(out.table.end(), 2, 0.0F);
  out.per_step = static_cast<float>(1 / step);
  out.edge = static_cast<float>(count * step);
  return out;
}

}  // namespace dishwright
