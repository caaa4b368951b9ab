// SPDX-License-Identifier: MIT
// Who wants to know where rays end. Called by one thread for one block at a time; weights are whole numbers (rays.h).
#pragma once

#include <cstdint>

namespace dishwright {

/// Points with weights, n of each.
struct WeightedPoints {
  int n = 0;
  const double* x = nullptr;
  const double* y = nullptr;
  const double* z = nullptr;
  const double* weight = nullptr;
};

class RayEnds {
 public:
  virtual ~RayEnds() = default;
  /// A block of this replicate begins.
  virtual void begin(std::uint32_t replicate) = 0;
  /// So many paths of the block started (of sunlight: on the silhouette).
  virtual void started(int paths) = 0;
  /// Weight of a lamp's light that met the bright side of a mirror first.
  virtual void reached_mirrors(double /*weight*/) {}
  /// Weight that left mirrors at first reflections.
  virtual void left_mirrors(double weight) = 0;
  /// Weight scored on a ledger line.
  virtual void scored(int slot, double weight) = 0;
  /// Light on a counted face: points in the target's own frame. `surface` indexes SurfaceList::surfaces.
  virtual void landed(int surface, const WeightedPoints& points) = 0;
  /// Reflected light at its first crossing of the unbounded plane of a disk, a rectangle or the base of a pot, from the front:
  /// own x, y.
  virtual void crossed(int target, const WeightedPoints& points) = 0;
};

/// Hears nothing: where only the steps of paths, or their time, are asked for.
class NoRayEnds : public RayEnds {
 public:
  void begin(std::uint32_t /*replicate*/) override {}
  void started(int /*paths*/) override {}
  void left_mirrors(double /*weight*/) override {}
  void scored(int /*slot*/, double /*weight*/) override {}
  void landed(int /*surface*/, const WeightedPoints& /*points*/) override {}
  void crossed(int /*target*/, const WeightedPoints& /*points*/) override {}
};

}  // namespace dishwright
