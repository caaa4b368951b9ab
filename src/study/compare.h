// SPDX-License-Identifier: MIT
// Several scenes with the same random numbers, and by how much their figures differ.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "study/best_place.h"

namespace dishwright {

/// A scene that takes part. Names are unique.
struct Contestant {
  std::string name;
  std::string rule;               ///< how its curve follows from the file's; empty where it is a file of its own
  Scene scene;                    ///< has passed scene checks
  std::optional<BestPlace> best;  ///< filled in by compare_scenes when asked for
  TraceFigures figures;           ///< filled in by compare_scenes
  bool stays = false;             ///< its target is not moved, though the others' are
  std::string read_digest = {};   ///< of the scene as it was read; empty where nobody asks
};

/// a − b of one figure of the first targets. The error is the jackknife's over the replicates' own differences.
struct PairDifference {
  std::size_t a = 0, b = 0;  ///< numbers of the contestants, a < b
  std::string figure;        ///< "power", "intercept", … as in the JSON of a trace
  Estimate difference;
};

struct Comparison {
  std::vector<Contestant> contestants;
  std::vector<PairDifference> differences;  ///< by pair, then by figure; figures that one of the two lacks are left out
};

/// Traces every scene with the paths and seed of the first (2 or more). Where that asks for an accuracy, all get as many paths as
/// the hardest of them needs. `best_place`: each first target that does not stay is moved to its own best place first. Throws
/// Interrupted when watch.stop is set.
Comparison compare_scenes(std::vector<Contestant> contestants, bool best_place, int threads, Watch& watch);

/// The difference of one figure of a pair, in either order (its sign follows); empty where it is not there.
std::optional<Estimate> pair_difference(const Comparison& all, std::size_t a, std::size_t b, const std::string& figure);

}  // namespace dishwright
