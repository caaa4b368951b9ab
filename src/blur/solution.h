// SPDX-License-Identifier: MIT
// The light of a scene at one order of the quadrature.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "blur/quadrature.h"
#include "blur/target_light.h"

namespace dishwright {

/// Everything at one order.
struct Solution {
  std::vector<double> lit;  ///< sunlight that meets each mirror [W]
  std::uint64_t samples = 0;
  double work = 0;     ///< cells under all images
  double leaving = 0;  ///< [W]
  std::vector<Image> images;
  SpotWidths widths;              ///< disk and rectangle
  std::vector<TargetFace> faces;  ///< with the layout of this solution
  std::vector<FaceLight> light;   ///< by face
  double power = 0;               ///< on all faces [W]
  double back = 0, lid = 0;       ///< on a target's back, or inside a tube; on a pot's lid [W]
  double size = 0;  ///< spot_width_50, or twice the median distance of the light from its middle [m]; 0 where no light is
  std::optional<Peak> peak;
  double all_lit() const;
};

/// Makes solutions of one setting, which must outlive it.
class Solver {
 public:
  Solver(const Scene& scene, const Setting& setting, const QuadratureOptions& options);
  /// Order 1 is what counts_for() asks for. `quick`: the maps in cells of twice the width.
  Solution solve(double order, bool quick);
  /// The brightest disc of the finer order, and what the coarser one finds in the same place.
  static void find_peak(Solution& coarse, Solution& fine);
  /// Errors of the blur's law and its cut, relative.
  double blur_error() const;

 private:
  std::vector<Image> make_images(double order, Solution& out) const;
  std::vector<TargetFace> lay_out(const std::vector<Image>& images, const SpotWidths& widths) const;

  const Scene& scene_;
  const Setting& setting_;
  const QuadratureOptions& options_;
  std::vector<std::vector<double>> changes_;  // by patch
  std::vector<TargetFace> faces_;
};

/// Root mean square difference of two maps relative to the second's root mean square; the first may have cells of twice the width.
double map_change(const Solution& coarse, const Solution& fine);

}  // namespace dishwright
