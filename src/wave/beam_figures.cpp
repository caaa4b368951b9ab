// SPDX-License-Identifier: MIT
#include "wave/beam_figures.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

using Strength = std::function<double(double)>;

/// Highest (sign 1) or lowest (−1) place between two angles, by golden section.
double extreme(const Strength& strength, double low, double high, double sign) {
  const double golden = (std::sqrt(5.0) - 1) / 2;
  double a = high - golden * (high - low), b = low + golden * (high - low);
  double at_a = sign * strength(a), at_b = sign * strength(b);
  for (int step = 0; step < 26; ++step) {
    if (at_a > at_b) {
      high = b, b = a, at_b = at_a;
      a = high - golden * (high - low), at_a = sign * strength(a);
    } else {
      low = a, a = b, at_a = at_b;
      b = low + golden * (high - low), at_b = sign * strength(b);
    }
  }
  return (low + high) / 2;
}

double crossing(const Strength& strength, double above, double below, double level) {
  for (int step = 0; step < 30; ++step) {
    const double middle = (above + below) / 2;
    (strength(middle) >= level ? above : below) = middle;
  }
  return (above + below) / 2;
}

/// One side of the beam, walked outward from the sample next to the peak.
struct Side {
  std::optional<double> half_power, null, lobe;  // angle, angle, strength
};
Side walk(const std::vector<double>& angles, const std::vector<double>& strengths, const Strength& strength, int peak, int step,
          double peak_angle, double level) {
  const int n = static_cast<int>(angles.size());
  const auto s = [&](int k) { return strengths[static_cast<std::size_t>(k)]; };
  const auto a = [&](int k) { return angles[static_cast<std::size_t>(k)]; };
  Side side;
  int k = peak;
  while (k >= 0 && k < n && (s(k) >= level || k == peak)) k += step;
  if (k < 0 || k >= n) return side;
  side.half_power = crossing(strength, k - step == peak ? peak_angle : a(k - step), a(k), level);
  while (k + step >= 0 && k + step < n && s(k + step) < s(k)) k += step;
  if (k + step < 0 || k + step >= n) return side;
  side.null = extreme(strength, std::min(a(k - step), a(k + step)), std::max(a(k - step), a(k + step)), -1);
  int best = k;
  for (int j = k; j >= 0 && j < n; j += step) {
    if (s(j) > s(best)) best = j;
  }
  side.lobe = s(best);
  if (best > 0 && best + 1 < n) side.lobe = strength(extreme(strength, a(best - 1), a(best + 1), 1));
  return side;
}

}  // namespace

Beam beam_figures(const std::vector<double>& angles, const std::vector<Complex>& reflected, const Strength& strength) {
  std::vector<double> strengths;
  strengths.reserve(reflected.size());
  for (const Complex& value : reflected) strengths.push_back(std::abs(value));
  const int n = static_cast<int>(angles.size());
  // Where two samples beside a peak are equal to rounding, either will do.
  const int peak = static_cast<int>(std::max_element(strengths.begin(), strengths.end()) - strengths.begin());
  Beam beam;
  beam.peak_angle = extreme(strength, angles[static_cast<std::size_t>(std::max(peak - 1, 0))],
                            angles[static_cast<std::size_t>(std::min(peak + 1, n - 1))], 1);
  beam.peak = strength(beam.peak_angle);
  const double level = beam.peak * std::sqrt(0.5);
  const Side left = walk(angles, strengths, strength, peak, -1, beam.peak_angle, level);
  const Side right = walk(angles, strengths, strength, peak, 1, beam.peak_angle, level);
  if (left.half_power && right.half_power) beam.half_power_width = *right.half_power - *left.half_power;
  if (left.null) beam.first_null = beam.peak_angle - *left.null;
  if (right.null) beam.first_null = std::min(beam.first_null.value_or(10), *right.null - beam.peak_angle);
  const double lobe = std::max(left.lobe.value_or(0), right.lobe.value_or(0));
  if (lobe > 0) beam.side_lobe = 20 * std::log10(lobe / beam.peak);
  return beam;
}

}  // namespace dishwright
