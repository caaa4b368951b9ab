// SPDX-License-Identifier: MIT
#include "sky/disc.h"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "base/wide.h"

namespace dishwright {

namespace {

// The aureole law is written for a sun of 4.65 mrad with angles in mrad; it reaches out to 43.6 mrad.
constexpr double disc_edge = 4.65;
constexpr double aureole_edge = 43.6;
constexpr int disc_cells = 1024;
constexpr int aureole_cells = 4096;

double limb_radiance(double area) {
  const double mu = std::sqrt(std::max(0.0, 1 - area));
  return 0.3 + 0.93 * mu - 0.23 * mu * mu;
}

double aureole_disc_radiance(double area) {
  const double scaled = disc_edge * std::sqrt(area);
  return std::cos(0.326 * scaled) / std::cos(0.308 * scaled);
}

double aureole_disc_integral(double area) {
  return boost::math::quadrature::gauss<double, 20>::integrate(aureole_disc_radiance, 0.0, area);
}

struct AureoleLaw {
  double power;  // γ
  double level;  // e^κ
};

AureoleLaw aureole_law(double chi) {
  return {2.2 * std::log(0.52 * chi) * std::pow(chi, 0.43) - 0.1, std::exp(0.9 * std::log(13.5 * chi) * std::pow(chi, -0.3))};
}

// ∫ θ^(p−1) dθ from a to b; p near 0 is the logarithm.
double power_integral(double p, double a, double b) {
  const double log_ratio = std::log(b / a);
  if (std::abs(p * log_ratio) < 1e-9) return log_ratio * std::pow(a, p);
  return std::pow(a, p) * std::expm1(p * log_ratio) / p;
}

// Upper end of the same integral for a given value.
double power_integral_end(double p, double a, double value) {
  const double relative = value * std::pow(a, -p);
  if (std::abs(p * relative) < 1e-9) return a * std::exp(relative);
  return a * std::exp(std::log1p(p * relative) / p);
}

// Share of the power that the law puts outside the disc. Disc: ∫ L θ dθ = (edge²/2) ∫ L d(area).
double realised_share(const AureoleLaw& law) {
  const double disc = disc_edge * disc_edge / 2 * aureole_disc_integral(1);
  const double around = law.level * power_integral(law.power + 2, disc_edge, aureole_edge);
  return around / (around + disc);
}

// Realised share grows with χ on the whole interval (checked in tests/sky/disc_test.cpp).
AureoleLaw law_for_share(double share) {
  double low = 1e-6, high = 0.95;
  for (int i = 0; i < 100; ++i) {
    const double middle = (low + high) / 2;
    (realised_share(aureole_law(middle)) < share ? low : high) = middle;
  }
  return aureole_law((low + high) / 2);
}

// Linear interpolation; position in cells, 0 … size − 2.
inline float look_up(const float* table, float position) {
  const int cell = static_cast<int>(position);
  const float part = position - static_cast<float>(cell);
  return table[cell] + part * (table[cell + 1] - table[cell]);
}

/// sin² θ is the share drawn, times what the darkening makes of it (a table).
void darkened_sines(const float* u, const float* disc, float edge, float* sin_angle, int n) {
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float ratio = look_up(disc, std::sqrt(1.0F - u[i]) * disc_cells);
    sin_angle[i] = edge * std::sqrt(u[i] * ratio);
  }
}

}  // namespace

DiscSampler::DiscSampler(DiscProfile profile, double half_angle, double aureole_share, bool draws)
    : profile_(profile), half_angle_(half_angle), aureole_share_(profile == DiscProfile::aureole ? aureole_share : 0) {
  const double widest = profile == DiscProfile::aureole ? 0.1 : std::numbers::pi / 2;
  if (!(half_angle >= 0 && half_angle <= widest)) throw std::invalid_argument("half_angle of the sun out of range");
  if (!(aureole_share_ >= 0 && aureole_share_ <= 0.8)) throw std::invalid_argument("aureole_share out of range");
  if (profile_ == DiscProfile::uniform) return;

  disc_total_ = profile_ == DiscProfile::limb_darkened ? 0.805 : aureole_disc_integral(1);
  if (aureole_share_ > 0) {
    // 1 − share is kept exact in float, so that the fast path splits disc and aureole at the same u.
    aureole_share_ = 1.0 - static_cast<double>(static_cast<float>(1.0 - aureole_share_));
    const AureoleLaw law = law_for_share(aureole_share_);
    aureole_power_ = law.power;
    aureole_level_ = law.level;
  }

  if (draws) fill_tables();
}

void DiscSampler::fill_tables() {
  // Padding: the neighbour of the last point, and room for the fast path's unused reads beyond the split (√(u/(1−share) − 1)
  // cells).
  const double reach = std::max(1.0, std::sqrt(aureole_share_ / (1 - aureole_share_)));
  disc_table_.resize(static_cast<std::size_t>(disc_cells * reach) + 3, 1.0F);
  for (int i = 0; i <= disc_cells; ++i) {
    const double root = static_cast<double>(i) / disc_cells;
    const double u = 1 - root * root;
    const double ratio = u > 0 ? disc_area_of(u) / u : disc_total_;
    disc_table_[static_cast<std::size_t>(i)] = static_cast<float>(ratio);
  }
  disc_table_[disc_cells + 1] = disc_table_[disc_cells];

  if (aureole_share_ <= 0) return;
  aureole_table_.resize(aureole_cells + 2);
  for (int i = 0; i <= aureole_cells; ++i) {
    const double scaled = aureole_scaled(static_cast<double>(i) / aureole_cells);
    aureole_table_[static_cast<std::size_t>(i)] = static_cast<float>(std::sin(half_angle_) * scaled / disc_edge);
  }
  aureole_table_.back() = aureole_table_[aureole_cells];
}

double DiscSampler::disc_power_within(double area) const {
  if (profile_ == DiscProfile::uniform) return area;
  if (profile_ == DiscProfile::aureole) return aureole_disc_integral(area) / disc_total_;
  // ∫ (0.3 + 0.93 µ − 0.23 µ²) dt with µ² = 1 − t.
  const double mu = std::sqrt(std::max(0.0, 1 - area));
  return (0.3 * area + 0.62 * (1 - mu * mu * mu) - 0.23 * (area - area * area / 2)) / disc_total_;
}

double DiscSampler::disc_area_of(double share) const {
  if (profile_ == DiscProfile::uniform) return share;
  // The radiance falls outward, so the share is concave in the area and Newton's steps from 0 climb to the root from below.
  double area = 0;
  for (int i = 0; i < 60; ++i) {
    const double radiance = profile_ == DiscProfile::limb_darkened ? limb_radiance(area) : aureole_disc_radiance(area);
    const double step = (share - disc_power_within(area)) * disc_total_ / radiance;
    area = std::min(area + step, 1.0);
    if (std::abs(step) < 1e-14 * area) break;
  }
  return area;
}

double DiscSampler::aureole_scaled(double share) const {
  const double exponent = aureole_power_ + 2;
  return power_integral_end(exponent, disc_edge, share * power_integral(exponent, disc_edge, aureole_edge));
}

void DiscSampler::sin_angles(const float* u, float* sin_angle, int n) const {
  const float edge = static_cast<float>(std::sin(half_angle_));
  if (profile_ == DiscProfile::uniform) {
#pragma omp simd
    for (int i = 0; i < n; ++i) sin_angle[i] = edge * std::sqrt(u[i]);
    return;
  }
  // sin² θ is the share drawn, times what the darkening makes of it (a table).
  const float* disc = disc_table_.data();
  if (aureole_share_ <= 0) {
    on_wide_lanes<darkened_sines>(u, disc, edge, sin_angle, n);
    return;
  }
  // With an aureole its share of the numbers goes to a table of its own.
  const float* around = aureole_table_.data();
  const float split = static_cast<float>(1 - aureole_share_);
  const float to_disc = static_cast<float>(1 / (1 - aureole_share_));
  const float to_around = static_cast<float>(aureole_cells / aureole_share_);
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    // Both are computed and one is taken: no branches. Beyond the split the disc table is read in its padding.
    const float inside = u[i] * to_disc;
    const float within = edge * std::sqrt(inside * look_up(disc, std::sqrt(std::abs(1.0F - inside)) * disc_cells));
    const float position = (u[i] - split) * to_around;
    const float beyond = look_up(around, 0.5F * (position + std::abs(position)));
    sin_angle[i] = position < 0 ? within : beyond;
  }
}

double DiscSampler::sin_angle(double u) const {
  const double edge = std::sin(half_angle_);
  const double split = 1 - aureole_share_;
  if (u < split) return edge * std::sqrt(disc_area_of(u / split));
  return edge * aureole_scaled((u - split) / aureole_share_) / disc_edge;
}

double DiscSampler::relative_radiance(double angle) const {
  if (half_angle_ <= 0) return angle == 0 ? 1 : 0;
  const double ratio = std::sin(angle) / std::sin(half_angle_);
  if (ratio <= 1) {
    if (profile_ == DiscProfile::uniform) return 1;
    return profile_ == DiscProfile::limb_darkened ? limb_radiance(ratio * ratio) : aureole_disc_radiance(ratio * ratio);
  }
  if (aureole_share_ <= 0 || ratio * disc_edge > aureole_edge) return 0;
  return aureole_level_ * std::pow(ratio * disc_edge, aureole_power_);
}

double DiscSampler::largest_angle() const {
  if (aureole_share_ <= 0) return half_angle_;
  return std::asin(std::sin(half_angle_) * aureole_edge / disc_edge);
}

}  // namespace dishwright
