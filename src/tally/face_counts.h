// SPDX-License-Identifier: MIT
// Flat pictures of target faces: which face, how large its bins, and where a point falls.
#pragma once

#include <vector>

#include "result/figures.h"
#include "trace/ray_ends.h"
#include "trace/scene_surfaces.h"

namespace dishwright {

/// One counted face and its map's layout (the numbers themselves are added by TallyCounts).
struct FaceCounts {
  int surface = 0;
  int target = 0;
  FaceForm form = FaceForm::disc;
  double radius = 0;  ///< of a wall or ball [m]
  MapFace face;       ///< layout; irradiance still empty

  /// Bin (row · columns + column) of each point; rounding beyond an edge goes to the edge bin.
  void bins(const WeightedPoints& points, int* bin) const;

 private:
  void find_bins(const WeightedPoints& points, int* bin) const;
};

/// Charts of all counted faces in file order; `fine` by target.
std::vector<FaceCounts> make_face_counts(const Scene& scene, const SurfaceList& list, const std::vector<double>& fine);

}  // namespace dishwright
