// SPDX-License-Identifier: MIT
#include "survey/survey.h"

#include <algorithm>

namespace dishwright {

Survey survey_points(SurveyPoints points, ShapeKind expected, bool keep_all) {
  Survey out;
  out.points = std::move(points);
  out.keep.assign(out.points.points.size(), 1);
  // Fit, set blunders aside, fit again: a blunder can hide a smaller one.
  constexpr int rounds = 4;
  for (int round = 0; round < rounds; ++round) {
    out.fits = fit_all(out.points, out.keep, expected);
    if (keep_all) break;
    const std::vector<Outlier> found = find_outliers(out.points, out.keep, out.fit());
    // A survey of which a third is blunders is not one survey.
    if (found.empty() || 3 * (out.set_aside.size() + found.size()) > out.keep.size()) break;
    for (const Outlier& outlier : found) out.keep[outlier.index] = 0;
    out.set_aside.insert(out.set_aside.end(), found.begin(), found.end());
  }
  const ShapeKind best = out.fits.best;
  const double misfit = out.fit().misfit;
  out.fits.fits[static_cast<std::size_t>(best)] = fit_shape(out.points, out.keep, best);
  out.fits.fits[static_cast<std::size_t>(best)].misfit = misfit;
  for (Outlier& outlier : out.set_aside) outlier.residual = out.fit().residuals[outlier.index];
  std::sort(out.set_aside.begin(), out.set_aside.end(), [](const Outlier& a, const Outlier& b) { return a.index < b.index; });
  out.figures = fit_figures(out.fit());
  out.map = slope_map(out.points, out.keep, out.fit());
  out.spots = worst_spots(out.points, out.fit(), out.map, 5);
  out.surface = std::make_shared<const MeasuredSurface>(out.points, out.fit(), out.map);
  return out;
}

}  // namespace dishwright
