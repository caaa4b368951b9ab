// SPDX-License-Identifier: MIT
// What can hide between the readings.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "shape/height_surface.h"
#include "survey/slope_map.h"

namespace dishwright {

/// A ring of readings and the largest way between neighbours on it. A wave twice as long as that way, with its nodes at the
/// readings, is not seen; nor is anything shorter.
struct HiddenRing {
  double radius = 0;           ///< [m]
  std::vector<double> angles;  ///< of the readings, ascending from −π to π, 0 = +x [rad]
  double gap = 0;              ///< straight from one reading to the next, at its largest [m]
  /// What a skin makes that is flat from one reading to the next: gap²/(16 f), as high as the seams of petals let the middles
  /// stand (of a design without a focus: what a straight line from one to the next leaves of its own curve); 0 with
  /// `pieces_shown`; or what the readings of this ring leave over a smooth surface, as a wave, where that is more [m].
  double height = 0;
  double wave() const { return 2 * gap; }
  bool pieces_shown = false;  ///< middle and edges of every petal or bay were read: between them its shape is known
};

/// Rings of a survey whose readings stand on rings about the middle; for others only the gap between the readings.
struct Hidden {
  std::vector<HiddenRing> rings;  ///< from the inside out; empty: the readings lie on no rings
  double gap = 0;                 ///< of readings on no rings: as SlopeMap::gap [m]
  /// Of readings on no rings: rms lean about one axis of a skin in flat squares, each as wide as gap/√2: (gap/√2)/(√12 · 2 f)
  /// [rad].
  double slope = 0;
  /// Rms height over the aperture of what a skin flat from reading to reading leaves, half the path of light or radio [m].
  double half_path_rms = 0;
};

/// Readings count as on rings where every ring has four places or more and all of them but one in ten lie on such rings, and
/// no two rings are far closer than most. Clouds and troughs have none.
Hidden hidden_between(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit, const SlopeMap& map);

/// A surface with a skin on it that is flat from reading to reading along the rings: between two readings of a ring higher by
/// (t1 t2)/(4 f), t1 and t2 the ways to both along the ring; from ring to ring the waves go over into each other by cos². Only
/// ring `only`, where that is given; it ends at its neighbours. `lower`: the waves hang
/// away from the sun instead.
Heights with_hidden_waves(const Heights& measured, const Hidden& hidden, double focal_length, std::optional<std::size_t> only,
                          bool lower = false);

}  // namespace dishwright
