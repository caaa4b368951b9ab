// SPDX-License-Identifier: MIT
// How far one thing may go wrong until a figure falls below what is wanted.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/estimate.h"

namespace dishwright {

/// A point of a curve: a value, and the figure there with its standard error: the share caught [1], or a gain [dB].
struct LimitPoint {
  double at = 0;  ///< [unit of the limit]
  double figure = 0, std_error = 0;
};

/// How far one thing may go while all else stays as the file has it.
struct ToleranceLimit {
  /// Light: "slope_error", "aim_across" and "aim_along" (of a trough), "petals", "tile"; waves: "surface_rms", "waviness"; both:
  /// "aim_error", "offset_along", "offset_across", "focal_length_error".
  std::string key;
  /// "", or which way: "away from the mirror", "toward the mirror", "+x", "-x", "+y", "-y", "longer", "shorter".
  std::string side;
  bool at_least = false;  ///< the limit is a smallest value (petals), not a largest
  std::optional<Estimate>
      limit;  ///< size of the deviation where the figure falls to the wanted one [rad, m, 1]; empty: see `open` and `best`
  bool open = false;              ///< the figure is still enough at the end of the search, `searched`
  double searched = 0;            ///< largest value tried
  double here = 0;                ///< the file's own value [unit of the limit]; 0 of a shift: the target stands where it stands
  LimitPoint best;                ///< the greatest figure met
  std::vector<LimitPoint> curve;  ///< all points tried, rising
};

/// The figure where one thing is off by a value; empty where that cannot be built.
using FigureAt = std::function<std::optional<LimitPoint>(double at)>;

/// Goes outward from 0 to `end` (> 0) in `steps` growing steps until the figure is below `wanted`, then narrows the place to a
/// ten-thousandth or to the noise. The first crossing counts; a dip narrower than a step can be missed.
ToleranceLimit limit_outward(const std::string& key, const std::string& side, double end, int steps, double wanted,
                             const FigureAt& figure_at);
/// Sorts the curve and finds the best of it.
void put_in_order(ToleranceLimit& limit);

}  // namespace dishwright
