// SPDX-License-Identifier: MIT
// Best fit of a shape to measured points by orthogonal distance, with its uncertainty.
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "base/estimate.h"
#include "survey/model.h"

namespace dishwright {

/// What places that were read more than once say of the noise (repeats.h).
struct ReadingNoise {
  double scatter = 0;     ///< standard deviation of one reading [m]
  double freedom = 0;     ///< its degrees of freedom; 0 = not known
  double mean_share = 1;  ///< mean over the places of 1/(readings there)
};

/// Measured points in the frame of the readings: for depths under a straightedge the rim plane is z = 0, the middle of the rim
/// the origin, seen from the sun x points right and y up, z toward the sun.
struct SurveyPoints {
  std::vector<Vector3> points;  ///< [m]
  std::vector<int> rows;        ///< row (line) of the file each comes from; the point's number where there are no rows
  std::vector<int> counts;      ///< how many readings each point is the mean of; empty: one each
  ReadingNoise noise;
  double skin = 0;  ///< outside readings: thickness between the measured face and the mirror face [m]; 0 = inside
  double step = 0;  ///< the readings come in multiples of this [m]; 0 = none found
  /// Variance of one point's own noise as far as it is independent from place to place [m²]; 0 where repeats do not tell it.
  double independent_noise() const { return noise.freedom > 0 ? noise.scatter * noise.scatter * noise.mean_share : 0; }
  /// Variance that rounding to `step` leaves in a point [m²]: step²/12, but where readings scatter they also round differently,
  /// and the mean of repeats takes that out: what the scatter does not show of it is common to all repeats of a place.
  double rounding_noise() const {
    return std::max(0.0, step * step / 12 - (noise.freedom > 0 ? noise.scatter * noise.scatter : 0));
  }
  /// The least that a point may be off (standard deviation) [m]: both.
  double least_noise() const { return std::sqrt(independent_noise() + rounding_noise()); }
  bool under_rim = false;  ///< depths below the rim plane: z is square to the rim. False: a cloud in any position
};

/// A shape fitted to the points that were kept.
struct ShapeFit {
  PlacedShape shape;
  Eigen::Matrix<double, fit_numbers, fit_numbers> covariance;  ///< of the numbers, in own axes
  double variance = 0;            ///< of one reading along the normal, as the covariance takes it [m²]
  std::vector<double> residuals;  ///< of all points, along the surface's normal, + = toward the sun [m]
  double rms = 0;                 ///< of the residuals of kept points [m], not corrected for the numbers fitted
  double scale = 0;               ///< robust standard deviation of one reading about the shape [m]
  double misfit = 0;              ///< n ln(mean square) + k ln n [schwarz1978]: lower fits better
  int numbers = 0;                ///< how many numbers were fitted
  int kept = 0;                   ///< points that count
};

/// Fits one kind of shape to the points with keep[i] != 0. Gauss–Newton steps with Marquardt's damping on the orthogonal
/// distance; Tukey's biweight (tuning constant 4.685 [beatontukey1974]) so that a dent does not drag
/// the shape along. The covariance is that of an M-estimator [huber1981, §7.6] with n − k degrees of
/// freedom; readings count as independent. Throws InputError where the points do not fix a shape.
enum class Weighting { robust, equal };  ///< equal: plain least squares, every point counts the same
ShapeFit fit_shape(const SurveyPoints& survey, const std::vector<char>& keep, ShapeKind kind,
                   Weighting weighting = Weighting::robust);

/// The same for a design of any shape: where it stands, and how deep it is where it has a focus.
ShapeFit fit_meant(const SurveyPoints& survey, const std::vector<char>& keep, const Meant& meant);
/// A fit of the same kind of shape as this one.
ShapeFit fit_like(const SurveyPoints& survey, const std::vector<char>& keep, const PlacedShape& shape);

/// The fits of one survey. A fit beats another where its misfit is lower by more than 6 (odds of about 20 to 1) and by ln n
/// for each number that
/// it has more [schwarz1978]. `best` beats the others, or else is `expected` or the paraboloid, if those
/// are not beaten.
struct FitSet {
  /// Paraboloid, sphere, trough; petals or a pressed sheet where the readings show them. With a design that one and, where it has
  /// a focus, the paraboloid.
  std::vector<ShapeFit> fits;
  ShapeKind best = ShapeKind::paraboloid;
  bool clear = false;  ///< the others fit worse beyond doubt

  const ShapeFit& of(ShapeKind kind) const {
    return *std::find_if(fits.begin(), fits.end(), [kind](const ShapeFit& fit) { return fit.shape.kind == kind; });
  }
  ShapeFit& of(ShapeKind kind) { return const_cast<ShapeFit&>(std::as_const(*this).of(kind)); }
  bool has(ShapeKind kind) const {
    return std::any_of(fits.begin(), fits.end(), [kind](const ShapeFit& fit) { return fit.shape.kind == kind; });
  }
  const ShapeFit& chosen() const { return of(best); }
};
/// Large clouds are thinned to some 40 000 points for it.
FitSet fit_all(const SurveyPoints& survey, const std::vector<char>& keep, ShapeKind expected);
/// The readings held against a design: it is chosen; `clear` is false where a paraboloid beats it.
FitSet fit_design(const SurveyPoints& survey, const std::vector<char>& keep, const Meant& meant);
/// Does `better` beat `other`, its further numbers paid for, beyond what rounding to the rule's marks explains?
bool beats(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& better, const ShapeFit& other);

/// Numbers of a fit with their standard errors, in the frame of the readings [m], [rad].
struct FitFigures {
  Estimate focal_length;
  std::array<Estimate, 3> focus, vertex;
  /// Between the shape's axis and z. Shallow dishes hardly tell a tilt from a shift of the vertex: the errors say so. Errors of
  /// the readings only ever add to the size of a lean, so their variance about one axis is taken off its square: with no lean, 63
  /// of 100 surveys find one within its ±.
  Estimate tilt;
  double tilt_direction = 0;  ///< the side the axis leans to: 0 = +x, π/2 = +y [rad]
  /// Where light that comes along −z meets, in x and y: the focus of the part of the surface over the middle. Unlike tilt and
  /// vertex, it is always well known. For a small tilt: vertex + 2 f · lean of the axis.
  std::array<Estimate, 2> meeting;
};
FitFigures fit_figures(const ShapeFit& fit);

/// Depth of a shape on z at a place of the readings' x, y: z of the surface there [m] (along the readings' z).
double height_at(const PlacedShape& shape, double x, double y);

}  // namespace dishwright
