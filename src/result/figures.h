// SPDX-License-Identifier: MIT
// What a trace answers: every figure with its standard error, the ledger, and the maps. SI units throughout; where a
// lamp is given in lumens, W stands for lm and irradiance for illuminance, and the unit of each figure says so.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/estimate.h"
#include "result/keep_clear.h"

namespace dishwright {

/// One flat picture of one face of a target. Bins have equal area. Row 0 is the lowest y.
///
/// disk, rectangle, pot base: the target's own x, y as seen from the sun (x right, y up).
/// tube, pot side: unrolled; x = arc length from the +x side, counter-clockwise seen from the end (+y end of a tube, lid of a
/// pot), y = along the axis. ball: x = arc length along the equator from +x, y = height z (equal-area unrolling).
struct MapFace {
  std::string name;        ///< "front", "all round", "side", "base"
  std::string across, up;  ///< what x and y are, in words: "x", "around", "height"
  int columns = 0, rows = 0;
  double x_from = 0, x_to = 0, y_from = 0, y_to = 0;  ///< [m]
  bool round = false;                                 ///< only the inscribed circle belongs to the face
  std::vector<double> irradiance;                     ///< [W/m²], rows × columns; 0 outside a round face
};

/// Share of the light leaving the mirrors that reaches the target's unbounded plane, from the front, inside a width about
/// plane_centroid: a circle's diameter for a disk or a pot's base, a band's width for a rectangle.
struct ShareCurve {
  std::vector<double> width;      ///< [m], rising
  std::vector<double> share;      ///< [1], never falling
  std::vector<double> std_error;  ///< of share, over replicates [1]; 0 where there is only one
};

/// Why a target that light reaches has no peak.
enum class NoPeak {
  none,      ///< it has one, or nobody said why not
  point,     ///< the light meets in a point
  few_paths  ///< too few paths came to tell the place
};

struct TargetFigures {
  std::string name;
  std::string shape;
  double area = 0;  ///< counted area [m²]
  Estimate power;   ///< reflected light on the counted faces [W]
  /// The same where each mirror's finish is at the low and at the high end of its range; empty where no mirror has one [W].
  std::optional<std::array<double, 2>> power_range;
  Estimate direct_power;                       ///< light that came straight from sun or lamp onto the counted faces [W]
  std::optional<Estimate> total_power;         ///< lamp only: power + direct_power [W]
  std::optional<Estimate> intercept;           ///< power / power leaving the mirrors at their first reflection [1]
  std::optional<Estimate> peak_irradiance;     ///< mean over the brightest disc of 1/10 of spot_width_50 [W/m²]
  std::optional<Estimate> peak_concentration;  ///< peak_irradiance / beam [1]
  NoPeak no_peak = NoPeak::none;
  std::optional<Estimate> mean_irradiance;  ///< power / counted area [W/m²]
  std::optional<Estimate>
      evenness;  ///< lamp, disk and rectangle: darkest part / mean of the half-light circle (tally/uniformity.h) [1]
  /// All light on the unbounded plane, about its centroid. Disk, base of a pot: diameter; rectangle: width of the band [m].
  std::optional<Estimate> spot_width_50, spot_width_90;
  std::optional<Estimate> spot_rms_radius;              ///< radial, the target's own light; disk and rectangle [m]
  std::optional<std::array<Estimate, 2>> centroid;      ///< of the target's own light; disk and rectangle [m]
  std::optional<std::array<double, 2>> plane_centroid;  ///< centre of the spot-width circles, all light on the plane [m]
  std::optional<ShareCurve> share_curve;                ///< where there are spot widths
  std::vector<MapFace> map;
};

struct LedgerLine {
  std::string where;  ///< "kettle", "shaded by kettle", "absorbed by dish", "back of dish", "missed", "straight to kettle", …
  Estimate power;     ///< [W]
};

/// The brightest that the mirrors can make sunlight anywhere, whatever the targets get.
struct MirrorBest {
  Estimate irradiance;         ///< mean over the brightest disc of 1/10 of the spot, on a plane square to the light [W/m²]
  std::array<double, 3> at{};  ///< about where, in the frame [m]
  double from_mirror = 0;      ///< as far from the middle of its mirror [m]
  bool aimed_true = false;     ///< with the aim error of the project taken off, where that makes it brighter
};

struct TraceFigures {
  std::uint64_t seed = 0;
  std::uint64_t paths = 0;
  int replicates = 0;
  std::string method = "rays";
  double beam = 0;          ///< [W/m²]; 0 with a lamp
  Estimate aperture_power;  ///< beam × silhouette of the mirrors toward the sun; of a lamp all that it sends out [W]
  std::optional<Estimate> caught_share;  ///< lamp only: share of its light that meets the bright side of a mirror first [1]
  std::vector<TargetFigures> targets;
  std::vector<LedgerLine> ledger;         ///< adds up to aperture_power
  std::optional<MirrorBest> mirror_best;  ///< sunlight: where it was looked for (study/mirror_best.h)
  std::optional<KeepClear> keep_clear;    ///< sunlight: where it was asked for (study/keep_clear.h)
};

/// Brightest light on any target [W/m²]: its peak, or its mean where there is no peak; 0 where none arrives.
double brightest(const TraceFigures& figures);

}  // namespace dishwright
