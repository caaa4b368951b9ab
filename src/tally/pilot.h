// SPDX-License-Identifier: MIT
// A short first run that finds where the light is, so that the main run can count it finely there. Its paths enter no figure.
#pragma once

#include <vector>

#include "tally/peak_window.h"
#include "trace/ray_ends.h"
#include "trace/scene_surfaces.h"

namespace dishwright {

/// What the pilot learned about one target.
struct TargetScale {
  double centre_x = 0, centre_y = 0;  ///< of all light on the unbounded plane, where it has one [m]
  double r50 = 0, r90 = 0;            ///< half spot widths about it [m]; from the target's size where no light came
  double scale = 1;                   ///< length for moments [m]
  PeakWindow window;
};

/// Keeps every ray end of a short run.
class Pilot : public RayEnds {
 public:
  Pilot(const Scene& scene, const SurfaceList& list);
  void begin(std::uint32_t /*replicate*/) override {}
  void started(int /*paths*/) override {}
  void left_mirrors(double /*weight*/) override {}
  void scored(int /*slot*/, double /*weight*/) override {}
  void landed(int surface, const WeightedPoints& points) override;
  void crossed(int target, const WeightedPoints& points) override;

  /// One a target, in file order.
  std::vector<TargetScale> scales() const;

 private:
  TargetScale scale_of(std::size_t target) const;
  double measure_plane(std::size_t target, TargetScale& aim) const;
  const Scene& scene_;
  const SurfaceList& list_;
  std::vector<std::vector<LitPlace>> landed_, crossed_;  // by target
};

}  // namespace dishwright
