// SPDX-License-Identifier: MIT
// How good surface, aim and place of the target must be, so that the target still catches a wanted share of the mirror's light.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/estimate.h"
#include "base/stop.h"
#include "scene/scene.h"

namespace dishwright {

/// A point of a curve: a value, and the share caught there with its standard error.
struct SharePoint {
  double at = 0;  ///< [unit of the limit]
  double share = 0, std_error = 0;
};

/// How far one thing may go while all else stays as the file has it.
struct ToleranceLimit {
  std::string key;  ///< "slope_error", "aim_error", "offset_along", "offset_across", "focal_length_error", "petals", "tile"
  std::string
      side;  ///< "", or which way: "away from the mirror", "toward the mirror", "+x", "-x", "+y", "-y", "longer", "shorter"
  bool at_least = false;  ///< the limit is a smallest value (petals), not a largest
  std::optional<Estimate>
      limit;          ///< size of the deviation where the share falls to the wanted one [rad, m, 1]; empty: see `open` and `best`
  bool open = false;  ///< the share is still enough at the end of the search, `searched`
  double searched = 0;            ///< largest value tried
  SharePoint best;                ///< the greatest share met
  std::vector<SharePoint> curve;  ///< all points tried, rising
};

/// Slope error, aim error and a shift away from the mirror: each without the other two, and all together. All else is as the file has it.
struct ToleranceBudget {
  Estimate slope_alone, aim_alone, along_alone;    ///< limits of each without the other two [rad, rad, m]
  Estimate fraction;                               ///< of its own limit that each may use when all three are there at once [1]
  double by_root_sum_square = 0.5773502691896258;  ///< the same by the textbook rule, 1/√3
};

struct Tolerance {
  Scene scene;
  std::size_t target = 0;
  double wanted = 0.9;
  Estimate share;                         ///< caught with everything as the file has it [1]
  std::vector<ToleranceLimit> limits;     ///< in the order above; offsets and focal length once a side
  std::optional<ToleranceBudget> budget;  ///< empty where one of the three has no limit
  bool holds() const { return share.value >= wanted; }
};

/// The limit of a key: of its sides the smallest; empty where no side has one, or one is missed from the start.
std::optional<Estimate> tightest(const Tolerance& all, const std::string& key);

/// Finds all limits by root finding on traced shares: `paths` paths a point, the same random numbers each time, and only the share is counted.
/// Each limit's std_error = error of the share / slope of the curve there. From the value that does no harm outward: the first place where the
/// share falls below the wanted one counts, found on about 16 steps and then narrowed; a dip narrower than a step can be missed. Needs a sun.
/// wanted: 0 < wanted < 1. Throws Interrupted when watch.stop is set.
Tolerance find_tolerance(const Scene& scene, std::size_t target, double wanted, std::uint64_t paths, int threads, Watch& watch);

}  // namespace dishwright
