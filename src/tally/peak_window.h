// SPDX-License-Identifier: MIT
// Where on a target the brightest place is looked for.
#pragma once

#include <vector>

#include "base/vector.h"
#include "scene/scene.h"
#include "tally/peak_fit.h"

namespace dishwright {

/// A place on a target (own frame) and the light that fell there.
struct LitPlace {
  Vector3 place;
  double weight;
};

/// Where to look for the brightest place of one target. The disc is 1/10 of spot_width_50 across; where a target has no such
/// width (tube, ball, pot) 1/10 of twice the median distance of its light from its middle, for a tube across its axis only. It is
/// never wider than the face.
struct PeakWindow {
  bool any = false;                                          ///< false: no light, or light in a point (no finite peak)
  bool point = false;                                        ///< light in a point
  double disc = 0;                                           ///< diameter of the disc over which the peak is averaged [m]
  double start_across = 0, start_up = 0;                     ///< where the pilot saw it, from the middle [m]
  double half_across = 0, half_up = 0;                       ///< the window reaches this far from its middle each way [m]
  Vector3 middle = Vector3::Zero();                          ///< own frame, on the target [m]
  Vector3 across = Vector3::UnitX(), up = Vector3::UnitY();  ///< tangent axes; `up` along a tube's or pot's axis
  double radius = 0;                                         ///< of a curved face [m]; 0 where it is flat
  static constexpr int cells = PeakCounts::cells;            ///< each way
};

/// The window about the brightest place that the light of the pilot shows.
PeakWindow peak_window(const TargetShape& shape, const std::vector<LitPlace>& light, double width_50);

/// The widest disc that goes onto the window's face [m].
double widest_disc(const TargetShape& shape, const PeakWindow& window);

/// Counts of the window with what the face looks like there; `weight` as in PeakCounts.
PeakCounts peak_counts(const TargetShape& shape, const PeakWindow& window, double disc, const std::vector<std::int64_t>& weight,
                       std::vector<double> paths);

/// A pot's base ends at this height, in its widths: room for rounding.
inline constexpr double base_slack = 1e-6;
/// Moves a point near a target onto its surface (own frame).
Vector3 snap(const TargetShape& shape, const Vector3& point);

}  // namespace dishwright
