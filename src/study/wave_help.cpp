// SPDX-License-Identifier: MIT
#include "study/wave_help.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

/// By how much the lesser of the two conditions of a band is met [dB]; below 0: not.
double margin(const WaveGain& gain) { return std::min(gain.gain - heard_change, gain.reflected_gain); }

/// Where the margin passes 0 between two frequencies.
double crossing(double f0, double f1, double below, double above) {
  const double share = std::isfinite(below) && std::isfinite(above) ? below / (below - above) : 0.5;
  return f0 * std::pow(f1 / f0, share);
}

std::vector<PitchBand> bands_of(const std::vector<double>& frequencies, const std::vector<WaveGain>& gains) {
  std::vector<PitchBand> bands;
  for (std::size_t k = 0; k < gains.size(); ++k) {
    const bool in = margin(gains[k]) >= 0, before = k > 0 && margin(gains[k - 1]) >= 0;
    const auto between = [&] { return crossing(frequencies[k - 1], frequencies[k], margin(gains[k - 1]), margin(gains[k])); };
    if (in && !before) bands.push_back({k > 0 ? between() : frequencies[k], frequencies.back()});
    if (!in && before) bands.back().to = between();
  }
  return bands;
}

/// Lowest place of a parabola through three places.
double lowest_of(const double (&x)[3], const double (&y)[3]) {
  const double left = (y[1] - y[0]) / (x[1] - x[0]), right = (y[2] - y[1]) / (x[2] - x[1]);
  const double bend = (right - left) / (x[2] - x[0]);
  return bend > 0 ? (x[0] + x[1]) / 2 - left / (2 * bend) : x[1];
}

/// The dip about frequency number k. The power is smooth there, in log f, also where it goes to zero.
CancelledPitch dip_at(std::size_t k, const std::vector<double>& frequencies, const std::vector<WaveGain>& gains,
                      const std::function<double(double)>& gain_at) {
  const auto power = [](double gain) { return std::pow(10, gain / 10); };
  double x[3], y[3];
  for (std::size_t j = 0; j < 3; ++j) x[j] = std::log(frequencies[k + j - 1]), y[j] = power(gains[k + j - 1].gain);
  CancelledPitch dip{frequencies[k], gains[k].gain};
  for (int round = 0; round < 3; ++round) {
    const double at = std::clamp(lowest_of(x, y), x[0], x[2]), gain = gain_at(std::exp(at));
    if (gain < dip.gain) dip = {std::exp(at), gain};
    // The three nearest to the lowest.
    const double near = std::max(1e-4, (x[2] - x[0]) / 8), middle = std::log(dip.frequency);
    for (int j = 0; j < 3; ++j) x[j] = middle + (j - 1) * near, y[j] = power(j == 1 ? dip.gain : gain_at(std::exp(x[j])));
  }
  return dip;
}

}  // namespace

WaveHelp wave_help(const std::vector<double>& frequencies, const std::vector<WaveGain>& gains,
                   const std::function<double(double)>& gain_at) {
  WaveHelp help;
  help.bands = bands_of(frequencies, gains);
  double least = INFINITY, most = -INFINITY;
  for (const WaveGain& gain : gains) {
    if (margin(gain) < 0 && std::isfinite(gain.gain)) least = std::min(least, gain.gain), most = std::max(most, gain.gain);
  }
  if (least <= most) help.least_elsewhere = least, help.most_elsewhere = most;
  for (std::size_t k = 1; k + 1 < gains.size(); ++k) {
    const double gain = gains[k].gain;
    if (!(gain < heard_change && gain < gains[k - 1].gain && gain <= gains[k + 1].gain)) continue;
    const CancelledPitch dip = dip_at(k, frequencies, gains, gain_at);
    if (dip.gain <= -heard_change) help.cancelled.push_back(dip);
  }
  return help;
}

}  // namespace dishwright
