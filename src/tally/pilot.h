// SPDX-License-Identifier: MIT
// A short first run that finds where the light is, so that the main run can count it finely there. Its paths enter no figure.
#pragma once

#include <vector>

#include "trace/piece.h"
#include "trace/ray_ends.h"

namespace dishwright {

/// Where to look for the brightest place of one target. The disc is 1/10 of spot_width_50 across; where a target has no such width (tube,
/// ball, pot) 1/10 of twice the median distance of its light from its middle, for a tube across its axis only.
struct PeakWindow {
  bool any = false;                                          ///< false: no light, or light in a point (no finite peak)
  double disc = 0;                                           ///< diameter of the disc over which the peak is averaged [m]
  Vector3 middle = Vector3::Zero();                          ///< own frame, on the target [m]
  Vector3 across = Vector3::UnitX(), up = Vector3::UnitY();  ///< tangent axes
  double radius = 0;                                         ///< of a curved face [m]; 0 where it is flat
  static constexpr int cells = 128;                          ///< each way; eight to a disc
  double cell() const { return disc / 8; }
};

/// What the pilot learned about one target.
struct Aim {
  double centre_x = 0, centre_y = 0;  ///< of all light on the unbounded plane, disks and rectangles [m]
  double r50 = 0, r90 = 0;            ///< half spot widths about it [m]; from the target's size where no light came
  double scale = 1;                   ///< length for moments [m]
  PeakWindow window;
};

/// Keeps every ray end of a short run.
class Pilot : public RayEnds {
 public:
  Pilot(const Scene& scene, const PieceList& list);
  void begin(std::uint32_t /*replicate*/) override {}
  void started(int /*paths*/) override {}
  void left_mirrors(double /*weight*/) override {}
  void booked(int /*slot*/, double /*weight*/) override {}
  void landed(int piece, const WeightedPoints& points) override;
  void crossed(int target, const WeightedPoints& points) override;

  /// One a target, in file order.
  std::vector<Aim> aims() const;

 private:
  struct Point {
    Vector3 place;
    double weight;
  };
  Aim aim_of(std::size_t target) const;
  PeakWindow window_of(std::size_t target, double width_50) const;
  const Scene& scene_;
  const PieceList& list_;
  std::vector<std::vector<Point>> landed_, crossed_;  // by target
};

/// A pot's base ends at this height, in its widths: room for rounding.
inline constexpr double base_slack = 1e-6;
/// Moves a point near a target onto its surface (own frame).
Vector3 snap(const TargetShape& shape, const Vector3& point);
/// The place of a target (own frame) that the window's plane shows at this distance from its middle along `across` and `up` [m], and the
/// cosine of the target's normal there with the window's.
struct SeenPlace {
  Vector3 place;
  double cosine = 1;
};
SeenPlace seen_place(const TargetShape& shape, const PeakWindow& window, double along_across, double along_up);

}  // namespace dishwright
