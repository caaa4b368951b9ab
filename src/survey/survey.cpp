// SPDX-License-Identifier: MIT
#include "survey/survey.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/error.h"
#include "survey/design_error.h"
#include "survey/made_of.h"
#include "survey/no_dish.h"
#include "survey/pieces.h"
#include "survey/rounding_doubt.h"

namespace dishwright {

namespace {

/// What the repeats say, once there is a shape to hold them against.
void use_repeats(Survey& out, bool keep_all) {
  SurveyPoints& points = out.points;
  settle_disputes(out.repeats, points, out.fit(), keep_all);
  use_scatter(out.repeats, points, out.fit());
  // The mean of a cell of a large cloud is no single place.
  if (points.points.size() > most_samples) points.noise = {};
}

/// The readings that shapes are fitted to: as they are, or as those of the round dish where two focal lengths were found.
SurveyPoints fitted_points(const Survey& out) { return out.two ? made_round(out.points, *out.two) : out.points; }

/// Petals and pressed sheets are named before what they leave of a paraboloid is called a slip.
void find_making(Survey& out) {
  if (out.fits.best == ShapeKind::trough) return;
  const SurveyPoints points = fitted_points(out);
  std::optional<ShapeFit> made = flat_petals(points, out.keep, out.fits.of(ShapeKind::paraboloid));
  if (!made) made = pressed_sheet(points, out.keep, out.fits.of(ShapeKind::paraboloid));
  if (!made || !beats(points, out.keep, *made, out.fits.chosen())) return;
  out.fits.fits.push_back(std::move(*made));
  out.fits.best = ShapeKind::meant, out.fits.clear = true;
}

/// Fit, set blunders aside, fit again: a blunder can hide a smaller one. Two focal lengths come first, else the lean of a round
/// dish would have to stand for them and their rim would look like blunders.
void fit_without_blunders(Survey& out, ShapeKind expected, const Meant& meant, bool keep_all) {
  constexpr int rounds = 4;
  for (int round = 0; round < rounds; ++round) {
    if (!meant && expected != ShapeKind::trough) out.two = two_focal_lengths(out.points, out.keep);
    out.fits = meant ? fit_design(out.points, out.keep, meant) : fit_all(fitted_points(out), out.keep, expected);
    if (!meant && expected != ShapeKind::trough) find_making(out);
    if (meant && round == 0) refuse_other_shape(out.points, out.keep, out.fit());
    refuse_on_its_side(fitted_points(out), out.keep, out.fit());
    if (round == 0) use_repeats(out, keep_all);
    if (keep_all) break;
    const std::vector<Outlier> found = find_outliers(fitted_points(out), out.keep, out.fit());
    // A survey of which a third is blunders is not one survey.
    if (found.empty() || 3 * (out.set_aside.size() + found.size()) > out.keep.size()) break;
    for (const Outlier& outlier : found) out.keep[outlier.index] = 0;
    out.set_aside.insert(out.set_aside.end(), found.begin(), found.end());
  }
}

/// What is left over of the readings themselves.
void measure_against_readings(ShapeFit& fit, const SurveyPoints& survey, const std::vector<char>& keep) {
  double sum = 0;
  for (std::size_t i = 0; i < survey.points.size(); ++i) {
    fit.residuals[i] = nearest_foot(fit.shape, fit.shape.to_own(survey.points[i])).distance + survey.skin;
    if (keep[i] != 0) sum += fit.residuals[i] * fit.residuals[i];
  }
  fit.rms = std::sqrt(sum / std::max(1, fit.kept));
}

/// The last fit of the best shape, on all points, and how sure the numbers of each shape are.
void fit_for_good(Survey& out) {
  const SurveyPoints points = fitted_points(out);
  const ShapeKind best = out.fits.best;
  const double misfit = out.fit().misfit;
  const int numbers = out.fit().numbers;
  ShapeFit& chosen = out.fits.of(best);
  chosen = fit_like(points, out.keep, chosen.shape);
  chosen.misfit = misfit, chosen.numbers = numbers;
  refuse_on_its_side(points, out.keep, chosen);
  for (ShapeFit& fit : out.fits.fits) fit.covariance = covariance_with_rounding(points, out.keep, fit);
  if (!out.two) return;
  for (ShapeFit& fit : out.fits.fits) measure_against_readings(fit, out.points, out.keep);
}

}  // namespace

namespace {

/// Fits, then what is left over: blunders, slopes, what hides, spots, the surface.
Survey surveyed(SurveyPoints points, ShapeKind expected, const Meant& meant, bool keep_all) {
  Survey out;
  out.points = std::move(points);
  out.repeats = merge_repeats(out.points, keep_all);
  out.keep.assign(out.points.points.size(), 1);
  if (!meant) refuse_no_dish(out.points, out.keep);
  fit_without_blunders(out, expected, meant, keep_all);
  fit_for_good(out);
  for (Outlier& outlier : out.set_aside) outlier.residual = out.fit().residuals[outlier.index];
  std::sort(out.set_aside.begin(), out.set_aside.end(), [](const Outlier& a, const Outlier& b) { return a.index < b.index; });
  out.figures = fit_figures(out.fit());
  out.map = slope_map(out.points, out.keep, out.fit());
  // Sound and radio feel the design's own way off a paraboloid, too.
  if (out.fit().shape.kind == ShapeKind::meant)
    out.map.half_path_rms.value = std::hypot(out.map.half_path_rms.value, design_half_path(*out.fit().shape.meant));
  out.hidden = hidden_between(out.points, out.keep, out.fit(), out.map);
  out.spots = worst_spots(out.points, out.fit(), out.map, 5);
  out.surface = std::make_shared<const MeasuredSurface>(out.points, out.fit(), out.map);
  return out;
}

}  // namespace

Survey survey_points(SurveyPoints points, ShapeKind expected, bool keep_all) {
  return surveyed(std::move(points), expected, nullptr, keep_all);
}

Survey survey_design(SurveyPoints points, const Meant& meant, bool keep_all) {
  if (!points.under_rim)
    throw InputError(fmt::format("a cloud of points cannot be held against {}", meant->word),
                     "a cloud lies in any position, and where this shape lies in it is not found out",
                     "measure depths under a straightedge, or leave --scene out and let a bowl be fitted");
  for (Vector3& point : points.points) point = meant->from_rim(point);
  refuse_unread_pieces(points, *meant);
  return surveyed(std::move(points), ShapeKind::meant, meant, keep_all);
}

}  // namespace dishwright
