// SPDX-License-Identifier: MIT
#include "survey/tile_planes.h"
#include "survey/solvers.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace dishwright {

namespace {

constexpr double usual_mark = 0.0254 / 16;  // of a rule, where the readings show none [m]

}  // namespace

double mark_of(const SurveyPoints& points) { return points.step > 0 ? points.step : usual_mark; }

Vector3 in_tile(const TileSurvey& survey, const SurveyedTile& on, std::size_t reading) {
  const Tile& tile = survey.design.tiles[on.tile];
  Vector3 own = tile.turn.transpose() * (survey.points.points[reading] - tile.centre);
  own.z() += survey.points.skin;
  return own;
}

std::vector<std::size_t> kept_readings(const TileSurvey& survey, const SurveyedTile& tile) {
  std::vector<std::size_t> out;
  for (const std::size_t i : tile.readings) {
    if (survey.keep[i] != 0) out.push_back(i);
  }
  return out;
}

TilePlane plane_through(const TileSurvey& survey, const SurveyedTile& tile, const std::vector<std::size_t>& readings) {
  TilePlane plane;
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Vector3 right = Vector3::Zero(), middle = Vector3::Zero();
  for (const std::size_t i : readings) {
    const Vector3 at = in_tile(survey, tile, i), row(1, at.x(), at.y());
    normal += row * row.transpose(), right += at.z() * row, middle += at / static_cast<double>(readings.size());
  }
  Eigen::Matrix2d about = normal.bottomRightCorner<2, 2>();
  about -= static_cast<double>(readings.size()) * middle.head<2>() * middle.head<2>().transpose();
  // Three corners span a tile; two, or three in a row, do not.
  constexpr double least_span = 0.2;
  const double least = std::pow(least_span * survey.design.pattern.tile, 2);
  plane.spanned = readings.size() >= 3 && spectrum<2>(about).values.minCoeff() >= least;
  if (!plane.spanned) return plane;
  plane.inverse = normal.inverse(), plane.numbers = plane.inverse * right;
  for (const std::size_t i : readings) {
    const Vector3 at = in_tile(survey, tile, i), row(1, at.x(), at.y());
    plane.misses.push_back(at.z() - row.dot(plane.numbers));
    plane.leverage.push_back(row.dot(plane.inverse * row));
  }
  return plane;
}

void fit_planes(TileSurvey& survey) {
  const double variance = mark_of(survey.points) * mark_of(survey.points) / 12;
  for (SurveyedTile& tile : survey.tiles) {
    const std::vector<std::size_t> readings = kept_readings(survey, tile);
    const TilePlane plane = plane_through(survey, tile, readings);
    const double level = survey.design.tiles[tile.tile].turn(2, 2);
    tile.has_plane = plane.spanned;
    if (plane.spanned) {
      tile.height = plane.numbers.x(), tile.lean = plane.numbers.tail<2>();
      tile.lean_noise = plane.inverse.bottomRightCorner<2, 2>() * level * level * variance;
      tile.height_error = std::sqrt(plane.inverse(0, 0) * variance) * level;
      continue;
    }
    tile.height = 0;
    for (const std::size_t i : readings) tile.height += in_tile(survey, tile, i).z() / static_cast<double>(readings.size());
    tile.height_error = level * std::sqrt(variance / static_cast<double>(std::max<std::size_t>(1, readings.size())));
  }
  survey.noise = std::sqrt(variance), survey.noise_freedom = 0;
}

namespace {

/// What rounding alone makes of a tile.
struct Rounded {
  Eigen::Matrix2d lean = Eigen::Matrix2d::Zero();  // mean square error of the lean
  double left = 0;                                 // mean sum of squares over the plane [m²]
  double error = 0;                                // mean square error of a reading [m²]
};

Rounded rounded(const TileSurvey& survey, const SurveyedTile& tile, const std::vector<std::size_t>& readings,
                const TilePlane& plane, std::mt19937_64& random) {
  constexpr int times = 64;
  const auto even = [&random] { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; };
  const double step = survey.points.step, level = survey.design.tiles[tile.tile].turn(2, 2), spread = survey.leans.spread();
  const Eigen::Vector2d trend = trend_lean(survey.leans.trend, survey.design.tiles[tile.tile]);
  const double sum2 = spread * spread + tile.lean_noise.trace() / 2, share = sum2 > 0 ? spread * spread / sum2 : 0;
  Rounded out;
  for (int k = 0; k < times; ++k) {
    const double far = std::sqrt(-2 * std::log(even())), turn = 2 * std::numbers::pi * even();
    // As it may be, given its reading.
    const Eigen::Vector2d lean = trend + share * (tile.lean - trend) +
                                 spread * std::sqrt(1 - share) * far * Eigen::Vector2d(std::cos(turn), std::sin(turn));
    const double height = tile.height + tile.height_error * std::sqrt(3.0) * (2 * even() - 1);
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    std::vector<double> errors;
    for (const std::size_t i : readings) {
      const Vector3 at = in_tile(survey, tile, i), row(1, at.x(), at.y());
      // How far the reading would move, straight up, if the tile were so; then to the nearest mark.
      const double true_z = survey.points.points[i].z() + (row.dot(Vector3(height, lean.x(), lean.y())) - at.z()) / level;
      const double grid = true_z + survey.frame.level, error = std::round(grid / step) * step - grid;
      errors.push_back(error * level), right += error * level * row;
      out.error += error * error / (times * static_cast<double>(readings.size()));
    }
    const Vector3 off = plane.inverse * right;
    out.lean += off.tail<2>() * off.tail<2>().transpose() / times;
    for (std::size_t j = 0; j < readings.size(); ++j) {
      const Vector3 at = in_tile(survey, tile, readings[j]);
      out.left += std::pow((errors[j] - Vector3(1, at.x(), at.y()).dot(off)) / level, 2) / times;
    }
  }
  return out;
}

}  // namespace

void find_noise(TileSurvey& survey) {
  std::mt19937_64 random(0x70112dU);
  const ReadingNoise& repeats = survey.points.noise;
  double squares = repeats.freedom * repeats.scatter * repeats.scatter, freedom = repeats.freedom, rounding = 0, error = 0;
  std::vector<Rounded> found(survey.tiles.size());
  std::vector<TilePlane> planes;
  for (std::size_t k = 0; k < survey.tiles.size(); ++k) {
    const SurveyedTile& tile = survey.tiles[k];
    const std::vector<std::size_t> readings = kept_readings(survey, tile);
    planes.push_back(plane_through(survey, tile, readings));
    if (!planes[k].spanned) continue;
    const double level = survey.design.tiles[tile.tile].turn(2, 2);
    for (const double miss : planes[k].misses) squares += miss * miss / (level * level);
    freedom += static_cast<double>(readings.size()) - 3;
    if (survey.points.step > 0) found[k] = rounded(survey, tile, readings, planes[k], random);
    rounding += found[k].left, error += found[k].error / static_cast<double>(survey.tiles.size());
  }
  constexpr double enough = 5;
  const double marks = mark_of(survey.points) * mark_of(survey.points) / 12;
  double scatter = freedom >= enough ? std::max(0.0, squares - rounding) / freedom : 0;
  if (survey.points.step <= 0 && freedom < enough) scatter = marks;
  survey.noise = std::sqrt((error > 0 ? error : survey.points.step > 0 ? marks : 0) + scatter);
  // Tiles that stand alike are rounded alike: what rounding makes is known to some thirty degrees of freedom (our choice).
  constexpr double rounding_freedom = 30;
  survey.noise_freedom = freedom >= enough && scatter > error ? freedom : rounding_freedom;
  for (std::size_t k = 0; k < survey.tiles.size(); ++k) {
    SurveyedTile& tile = survey.tiles[k];
    const double level = survey.design.tiles[tile.tile].turn(2, 2);
    if (!planes[k].spanned) continue;
    tile.lean_noise = found[k].lean + scatter * level * level * planes[k].inverse.bottomRightCorner<2, 2>();
    // Never less than a hundredth of independent rounding: no lean is exact.
    tile.lean_noise += 0.01 * marks * level * level * planes[k].inverse.bottomRightCorner<2, 2>();
  }
}

}  // namespace dishwright
