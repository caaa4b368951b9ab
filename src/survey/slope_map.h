// SPDX-License-Identifier: MIT
// How far the surface leans away from the fitted shape, place by place, and how much of that is only the roughness of the
// readings.
#pragma once

#include <optional>
#include <vector>

#include "base/estimate.h"
#include "survey/fit.h"
#include "survey/local_fit.h"

namespace dishwright {

/// Larger clouds are averaged in cells.
constexpr std::size_t most_samples = 12000;

/// A place on the shape and what was measured there: one reading, or the mean of the points in one cell of a large cloud.
struct SurveySample {
  Eigen::Vector2d place;  ///< x, y in the shape's own frame [m]
  Vector3 foot, normal;   ///< nearest point of the shape and its normal, own frame
  double residual = 0;    ///< along the normal, + = toward the sun [m]
  double share = 0;       ///< of the aperture area that lies nearest to this place [1]
  std::size_t first = 0;  ///< number of its (first) point in the survey
};

/// What the map says at a sample.
struct SlopePoint {
  double value = 0, value_error = 0;  ///< smoothed residual and the readings' part in its error [m]
  double slope_x = 0, slope_y = 0;    ///< lean about the two tangent axes [rad]; x: own x laid into the surface
  double error_x = 0, error_y = 0;    ///< what the scatter of the readings puts in [rad]
};

/// A single reading that the smoothing would wash out although it is well beyond the scatter: a small hump or dent that only one
/// reading met. It counts as a hump height · (1 − (distance/reach)²)² on top of the smooth surface.
struct LoneHump {
  std::size_t sample = 0;
  double height = 0;  ///< [m]
  double reach = 0;   ///< to the readings around it [m]
};

struct SlopeMap {
  std::vector<SurveySample> samples;
  std::vector<SlopePoint> points;  ///< one a sample
  std::vector<LoneHump> humps;     ///< counted in points[].value already
  LocalRule rule;                  ///< chosen by leaving out each reading in turn [stone1974]
  double reading_scatter =
      0;               ///< of one sample about the smooth surface [m]; waves shorter than about two spacings count as scatter
  double spacing = 0;  ///< between neighbouring samples (median) [m]
  double gap = 0;      ///< diameter of the largest discs between samples [m]: what is smaller can hide
  double area = 0;     ///< aperture covered [m²]

  /// Rms lean about one axis over the aperture, the scatter's part taken out [rad]: sqrt(mean(slope²) − scatter² · mean(Σ
  /// weights²)).
  Estimate rms_x, rms_y;
  /// The same for one axis, mean of both: what `slope_error` of a project file means.
  Estimate rms;
  Estimate raw_rms;        ///< one axis, scatter still in it
  double scatter_rms = 0;  ///< one axis, what the scatter alone makes [rad]
  /// Rms of half the path error of light or radio along the axis: residual × normal's z [m]; the rounding of the readings taken
  /// out.
  Estimate half_path_rms;
};

/// What rounding to the survey's step does to each sample of a surface like the smoothed one of the map, along the normal [m];
/// draw number `draw` of `draws`. Errors of neighbours are alike where the surface is nearly level, or on a ring that is level: they
/// are no independent scatter. The surface that was found lies near the marks at which it was read, so it would round as it did:
/// it is lifted, and made steeper or deeper, by other parts of a step in each draw, up to one step at the rim.
std::vector<double> rounding_errors(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map, int draw, int draws);

/// How errors of the readings along the normal, one a sample [m], change the numbers of the fit (linearised, least squares, every
/// sample counted once). What the shape takes up so is taken out of `errors`. No change where the samples do not fix it.
FitVector taken_up(const PlacedShape& shape, const std::vector<SurveySample>& samples, std::vector<double>& errors);

SlopeMap slope_map(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit);

/// What the smoothing of the map takes away of the slopes that the readings show, rms of one axis [rad]: sqrt(rms² − slope² of
/// the smooth map, the scatter's part taken out of both); 0 where the readings show no more than the map has.
double smoothed_away(const SlopeMap& map);

/// Slope noise between two neighbouring readings rounded to multiples of `step` at this spacing [rad]: √2 · (step/√12) / spacing.
double rounding_slope_noise(double step, double spacing);

/// The two unit tangents at a normal: own x and y laid into the surface.
std::pair<Vector3, Vector3> tangents(const Vector3& normal);

}  // namespace dishwright
