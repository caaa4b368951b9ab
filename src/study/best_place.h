// SPDX-License-Identifier: MIT
// Where along the axis a target catches most. An arc's best place is nearer to the mirror than its paraxial focus.
#pragma once

#include <optional>

#include "base/estimate.h"
#include "base/progress.h"
#include "scene/scene.h"

namespace dishwright {

/// All places are distances of the first target's own origin from the first reflector's vertex, along that reflector's axis [m].
struct BestPlace {
  Estimate place;               ///< the best place found [m]; no error where `flat`
  double started_at = 0;        ///< place in the project file
  std::optional<double> focus;  ///< the reflector's own (paraxial) focus, where it has one
  double from = 0, to = 0;      ///< what was searched
  double even_from = 0,
         even_to = 0;    ///< all places about the best that are not worse beyond 2 standard errors, to a step of the search
  bool flat = false;     ///< those fill an eighth of the search or more: `place` is their middle
  bool at_edge = false;  ///< the best lies at an end of the search: better places may lie beyond
  bool dark = false;     ///< the target catches nothing anywhere: `place` is where it stood
};

/// Looks for the place of the first target, moved along the first reflector's axis, that catches the largest share of the light
/// (intercept), from half to one and a half times the focal length (of the target's own distance where the mirror has no focus).
///
/// Grids of 33, then 17 places with the same random numbers, each grid about the best of the one before, until its neighbours
/// differ by less than 2 standard errors or its step is below 1/2000 of the focal length. The place is the top of a cubic through
/// the last grid where that fits within the noise (its error: the jackknife's over replicates of that top, or the step/√12 where
/// that is larger), else the middle of the places that are alike, with the spread of an even chance over them and a step on
/// either side. `scene.trace.paths` paths a place, at most 131 072.
BestPlace find_best_place(const Scene& scene, int threads, Watch& watch);

/// The scene with its first target moved along the first reflector's axis to a place [m].
Scene with_target_at(const Scene& scene, double place);

/// Paths that find_best_place walks at most, for progress.
std::uint64_t most_search_paths(const Scene& scene);

}  // namespace dishwright
