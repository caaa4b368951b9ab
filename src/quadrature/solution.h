// SPDX-License-Identifier: MIT
// The light of a scene at one order of the quadrature.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "quadrature/effort.h"
#include "quadrature/quadrature.h"
#include "quadrature/target_light.h"

namespace dishwright {

/// Everything at one order.
struct Solution {
  std::vector<double> lit;  ///< sunlight that meets each mirror [W]
  std::uint64_t samples = 0;
  double leaving = 0;  ///< [W]
  std::vector<Image> images;
  SpotWidths widths;              ///< disk and rectangle
  std::vector<MappedFace> faces;  ///< with the layout of this solution
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
  Solver(const Scene& scene, const Setting& setting, const QuadratureOptions& options, Effort& effort);
  /// Work of this order, and with `quick` of one that is solved that way [looks]: from the images of order 0 and how they will be
  /// summed. Good to a factor of two or so.
  double work(int order, bool quick);
  /// Of many patches (tiles): do a few of them, spread evenly, say that the first two orders take far more than that [looks]?
  bool surely_beyond(double most);
  /// Order 1 is what counts_for() asks for. `quick`: the maps in cells of twice the width.
  Solution solve(int order, bool quick);
  /// The brightest disc of the finer order, and what the coarser one finds in the same place.
  void find_peak(Solution& coarse, Solution& fine) const;
  /// Errors of the blur's law and its cut, relative.
  double blur_error() const;

 private:
  /// Work of order 0, whole and with `quick` [looks].
  struct FirstWork {
    double whole = 0, quick = 0;
  };

  /// The images of an order, and what light leaves the mirrors; of every `step`-th patch.
  Solution lit_mirrors(int order, std::size_t step = 1) const;
  FirstWork work_of(const std::vector<Image>& images) const;
  /// Makes the images of order 0 and estimates from them [looks].
  void look_first();
  std::vector<MappedFace> lay_out(const std::vector<Image>& images, const SpotWidths& widths) const;
  std::vector<MappedFace> divided_for(double size, double sigma) const;
  MappedFace divided(MappedFace face, bool quick) const;

  const Scene& scene_;
  const Setting& setting_;
  const QuadratureOptions& options_;
  Effort& effort_;
  std::vector<MappedFace> faces_;
  bool looked_ = false;
  std::optional<Solution> first_;  // of order 0: its images, until they are solved
  FirstWork first_work_;
};

/// Root mean square difference of two maps relative to the second's root mean square; the first may have cells of twice the
/// width.
double map_change(const Solution& coarse, const Solution& fine);

}  // namespace dishwright
