// SPDX-License-Identifier: MIT
// Is the surface good enough? One verdict a use, with its uncertainty.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/estimate.h"

namespace dishwright {

/// so_far: it passes, but what the readings cannot see could spoil it.
enum class Verdict { pass, fail, too_close, so_far };

/// "pass", "fail", "too close to call", "passes so far".
std::string verdict_word(Verdict verdict);

/// A use and what was found.
struct UseVerdict {
  std::string use;     ///< "kettle", "speech", "10.4 GHz"
  std::string figure;  ///< "share caught", "surface error in wavelengths"
  Estimate value;      ///< [1]
  double limit = 0;    ///< [1]
  bool more_is_better = false;
  Verdict verdict = Verdict::too_close;
  double frequency = 0;  ///< [Hz]; 0 for light
  Estimate loss;         ///< waves: lost from the gain, negative [dB]
  double hidden = 0;     ///< by how much what the readings cannot see could make the value worse [1]
  /// Yes, no, or nothing where the readings do not decide.
  std::optional<bool> holds() const {
    if (verdict == Verdict::pass || verdict == Verdict::fail) return verdict == Verdict::pass;
    return std::nullopt;
  }
};

/// A pass or a fail needs the value to be clear of the limit by two standard errors (95 of 100); in between it is too close to
/// call.
Verdict judge(const Estimate& value, double limit, bool more_is_better);

/// Sound or radio of one frequency on a surface whose axial half-path rms is known. Limit: a sixteenth of a wavelength (common
/// practice; rules from 1/4 to 1/16 circulate). Loss by [ruze1966]: G/G0 = exp(−(4π ε/λ)²), true for
/// errors that change within a small part of the dish. `speed`: of the waves [m/s]. A pass that does not stand with `hidden_rms`
/// [m] added in the square is one so far.
UseVerdict wave_use(const std::string& use, double frequency, double speed, const Estimate& half_path_rms, double hidden_rms = 0);

/// Light on a target: the share of the mirror's light that it catches. A pass that does not stand with the share `at_risk` taken
/// off is one so far.
UseVerdict light_use(const std::string& use, const Estimate& share, double wanted, double at_risk = 0);

constexpr double highest_speech = 4000;  ///< upper end of telephone speech, rounded up from 3.4 kHz [Hz]

}  // namespace dishwright
