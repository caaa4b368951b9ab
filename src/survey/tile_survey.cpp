// SPDX-License-Identifier: MIT
#include "survey/tile_survey.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>

#include "base/error.h"
#include "base/quantity.h"
#include "survey/median.h"
#include "survey/tile_frame.h"
#include "survey/tile_planes.h"
#include "survey/tile_readings.h"

namespace dishwright {

namespace {

using Vector2 = Eigen::Vector2d;

/// How far the corner that fits worst stands off the plane of the others, for a tile of four readings and more.
double worst_corner(const TilePlane& plane) {
  double worst = 0;
  for (std::size_t k = 0; k < plane.misses.size(); ++k)
    worst = std::max(worst, std::abs(plane.misses[k]) / std::max(1e-6, 1 - plane.leverage[k]));
  return worst;
}

/// A slip of the rule shows where four corners lie on no plane; it is the one without which the tile leans least.
void set_slips_aside(TileSurvey& survey) {
  std::vector<double> worst;
  for (const SurveyedTile& tile : survey.tiles) {
    const TilePlane plane = plane_through(survey, tile, tile.readings);
    if (plane.spanned && tile.readings.size() > 3) worst.push_back(worst_corner(plane));
  }
  constexpr double deviations = 6, steps = 3;
  const double limit = std::max(deviations * median(worst) / normal_quartile, steps * mark_of(survey.points));
  for (const SurveyedTile& tile : survey.tiles) {
    if (tile.readings.size() <= 3) continue;
    const TilePlane all = plane_through(survey, tile, tile.readings);
    if (!all.spanned || worst_corner(all) <= limit) continue;
    double least = -1;
    Outlier slip;
    for (const std::size_t out : tile.readings) {
      std::vector<std::size_t> rest = tile.readings;
      std::erase(rest, out);
      const TilePlane plane = plane_through(survey, tile, rest);
      if (!plane.spanned || (least >= 0 && plane.numbers.tail<2>().norm() >= least)) continue;
      least = plane.numbers.tail<2>().norm();
      const Vector3 at = in_tile(survey, tile, out);
      slip = {out, at.z(), Vector3(1, at.x(), at.y()).dot(plane.numbers)};
    }
    if (least < 0) continue;
    survey.keep[slip.index] = 0, survey.set_aside.push_back(slip);
  }
}

/// Heights that stand far off those of the design are of another dish.
void refuse_other_dish(const TileSurvey& survey) {
  std::vector<double> off;
  for (const SurveyedTile& tile : survey.tiles) {
    const Tile& meant = survey.design.tiles[tile.tile];
    off.push_back(std::abs(tile.height / meant.turn(2, 2) - survey.frame.level));
  }
  constexpr double most = 0.04;  // of the width
  const double middle = median(off);
  if (middle <= most * survey.design.pattern.width) return;
  throw InputError(fmt::format("these readings are not of the dish of the project file: half of its tiles stand more than {} "
                               "higher or lower than designed",
                               format_quantity(middle, Dimension::length, nullptr)),
                   "tiles are set on their frame to a small part of that",
                   "check width, focal_length and frame in the project file, and that depths are from one plane");
}

/// Tiles with a height alone lean as the trend says, which moves their middles a little.
void settle_heights(TileSurvey& survey) {
  for (SurveyedTile& tile : survey.tiles) {
    if (tile.has_plane) continue;
    const Vector2 lean = trend_lean(survey.leans.trend, survey.design.tiles[tile.tile]);
    const std::vector<std::size_t> readings = kept_readings(survey, tile);
    for (const std::size_t i : readings)
      tile.height -= lean.dot(in_tile(survey, tile, i).head<2>()) / static_cast<double>(readings.size());
  }
}

}  // namespace

const SurveyedTile* TileSurvey::of(std::size_t tile) const {
  const auto at = std::lower_bound(tiles.begin(), tiles.end(), tile,
                                   [](const SurveyedTile& a, std::size_t number) { return a.tile < number; });
  return at != tiles.end() && at->tile == tile ? &*at : nullptr;
}

std::size_t TileSurvey::with_plane() const {
  return static_cast<std::size_t>(std::count_if(tiles.begin(), tiles.end(), [](const SurveyedTile& t) { return t.has_plane; }));
}

double TileSurvey::lean_error() const {
  double squares = 0;
  for (const SurveyedTile& tile : tiles) squares += tile.has_plane ? tile.lean_noise.trace() / 2 : 0;
  if (with_plane() > 0) return std::sqrt(squares / static_cast<double>(with_plane()));
  // What four corners would tell.
  const auto places = reading_places(design.pattern.tile_shape, design.pattern.tile);
  return noise / std::sqrt(2 * (places[0].x() * places[0].x() + places[0].y() * places[0].y()));
}

TileSurvey survey_tiles(SurveyPoints points, const Facets& facets, bool keep_all) {
  if (!points.under_rim)
    throw InputError("a cloud of points cannot be held against tiles", "which point lies on which tile a cloud does not say",
                     "measure depths under a straightedge at the corners of the tiles");
  TileSurvey survey;
  survey.design = tiled_design(facets);
  survey.points = std::move(points);
  survey.read = survey.points.points.size();
  put_on_tiles(survey);
  survey.keep.assign(survey.points.points.size(), 1);
  // What the straightedge stands above the design comes from the heights of the tiles.
  fit_planes(survey);
  const double level = frame_through(survey).level;
  survey.frame.level = level;
  refuse_other_dish(survey);
  for (Vector3& point : survey.points.points) point.z() -= level;
  if (!keep_all) set_slips_aside(survey);
  fit_planes(survey);
  survey.frame = frame_through(survey);
  survey.frame.level = level;
  find_frame_errors(survey);
  survey.leans = tile_leans(survey);
  // The rounding of the tiles as they lean changes what they are found to lean.
  constexpr int rounds = 4;
  for (int round = 0; round < rounds; ++round) find_noise(survey), survey.leans = tile_leans(survey);
  settle_heights(survey);
  return survey;
}

}  // namespace dishwright
