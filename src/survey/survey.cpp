// SPDX-License-Identifier: MIT
#include "survey/survey.h"

#include <algorithm>

#include "survey/no_dish.h"
#include "survey/rounding_doubt.h"

namespace dishwright {

namespace {

/// What the repeats say, once there is a shape to hold them against.
void use_repeats(Survey& out, bool keep_all) {
  settle_disputes(out.repeats, out.points, out.fit(), keep_all);
  use_scatter(out.repeats, out.points, out.fit());
  // The mean of a cell of a large cloud is no single place.
  if (out.points.points.size() > most_samples) out.points.noise = {};
}

/// Fit, set blunders aside, fit again: a blunder can hide a smaller one.
void fit_without_blunders(Survey& out, ShapeKind expected, bool keep_all) {
  constexpr int rounds = 4;
  for (int round = 0; round < rounds; ++round) {
    out.fits = fit_all(out.points, out.keep, expected);
    refuse_on_its_side(out.points, out.keep, out.fit());
    if (round == 0) use_repeats(out, keep_all);
    if (keep_all) break;
    const std::vector<Outlier> found = find_outliers(out.points, out.keep, out.fit());
    // A survey of which a third is blunders is not one survey.
    if (found.empty() || 3 * (out.set_aside.size() + found.size()) > out.keep.size()) break;
    for (const Outlier& outlier : found) out.keep[outlier.index] = 0;
    out.set_aside.insert(out.set_aside.end(), found.begin(), found.end());
  }
}

}  // namespace

Survey survey_points(SurveyPoints points, ShapeKind expected, bool keep_all) {
  Survey out;
  out.points = std::move(points);
  out.repeats = merge_repeats(out.points, keep_all);
  out.keep.assign(out.points.points.size(), 1);
  refuse_no_dish(out.points, out.keep);
  fit_without_blunders(out, expected, keep_all);
  const ShapeKind best = out.fits.best;
  const double misfit = out.fit().misfit;
  out.fits.fits[static_cast<std::size_t>(best)] = fit_shape(out.points, out.keep, best);
  out.fits.fits[static_cast<std::size_t>(best)].misfit = misfit;
  refuse_on_its_side(out.points, out.keep, out.fit());
  for (Outlier& outlier : out.set_aside) outlier.residual = out.fit().residuals[outlier.index];
  std::sort(out.set_aside.begin(), out.set_aside.end(), [](const Outlier& a, const Outlier& b) { return a.index < b.index; });
  for (ShapeFit& fit : out.fits.fits) fit.covariance = covariance_with_rounding(out.points, out.keep, fit);
  out.figures = fit_figures(out.fit());
  out.map = slope_map(out.points, out.keep, out.fit());
  out.spots = worst_spots(out.points, out.fit(), out.map, 5);
  out.surface = std::make_shared<const MeasuredSurface>(out.points, out.fit(), out.map);
  return out;
}

}  // namespace dishwright
