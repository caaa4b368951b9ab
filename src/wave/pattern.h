// SPDX-License-Identifier: MIT
// Directivity: how the answer changes with direction, and the widths and side lobes of a cut.
#pragma once

#include <vector>

#include "wave/setup.h"

namespace dishwright {

/// One cut: directions at angles from `axis` toward `side`, both unit and square to each other; toward = cos(angle) axis +
/// sin(angle) side.
struct PatternCut {
  Vector3 axis = Vector3::UnitZ();
  Vector3 side = Vector3::UnitX();
  Vector3 toward(double angle) const;  ///< angle [rad]
};

struct Pattern {
  std::vector<double> angles;      ///< [rad]
  std::vector<Complex> reflected;  ///< by angle
  std::vector<Complex> direct;     ///< by angle
  Convergence convergence;
};
/// Listening: plane waves from each direction, heard at `place`; amplitudes against the incident wave.
Pattern listening_pattern(const Scene& scene, const WaveSetup& setup, const Vector3& place, const PatternCut& cut,
                          const std::vector<double>& angles);
/// Sending: R·amplitude far away in each direction, from a feed of unit power gain: |reflected|² is the gain [1, against the same
/// power sent evenly to all sides]; direct: the feed's own (its spillover), phase about the origin.
Pattern sending_pattern(const Scene& scene, const WaveSetup& setup, const Feed& feed, const PatternCut& cut,
                        const std::vector<double>& angles);
/// The same for a point speaker: |reflected| against the speaker alone in the open.
Pattern sending_pattern(const Scene& scene, const WaveSetup& setup, const Vector3& speaker, const PatternCut& cut,
                        const std::vector<double>& angles);
/// `count` angles from..to [rad], ends included.
std::vector<double> angle_steps(double from, double to, int count);

/// Figures of a beam, from fresh sums at the angles that matter (not from a chart's samples).
struct Beam {
  double peak_angle = 0;  ///< [rad]
  double peak = 0;        ///< |reflected| there [1]
  std::optional<double>
      half_power_width;  ///< full width between the −3.01 dB (power one half) points about the peak [rad]; empty: wider than ±90°
  std::optional<double> first_null;  ///< of the pattern beyond the peak, away from it [rad]; nearest side
  std::optional<double> side_lobe;   ///< highest lobe beyond the first nulls, against the peak [dB]
  Convergence convergence;
};
Beam listening_beam(const Scene& scene, const WaveSetup& setup, const Vector3& place, const PatternCut& cut);
Beam sending_beam(const Scene& scene, const WaveSetup& setup, const Feed& feed, const PatternCut& cut);

}  // namespace dishwright
