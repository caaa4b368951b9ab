// SPDX-License-Identifier: MIT
#include "survey/tile_frame.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <random>

#include "survey/median.h"
#include "survey/solvers.h"
#include "survey/tile_planes.h"

namespace dishwright {

namespace {

/// Rows of the fit, one a tile: 1, x, y, r² of its middle, as far as so many tiles tell them.
Eigen::MatrixXd frame_rows(const TileSurvey& survey) {
  const auto count = static_cast<Eigen::Index>(survey.tiles.size());
  Eigen::MatrixXd rows(count, 4);
  for (Eigen::Index k = 0; k < count; ++k) {
    const Vector3& at = survey.design.tiles[survey.tiles[static_cast<std::size_t>(k)].tile].centre;
    rows.row(k) << 1, at.x(), at.y(), at.head<2>().squaredNorm();
  }
  return rows.leftCols(count >= 8 ? 4 : count >= 5 ? 3 : 1);
}

/// A reading of a tile that stands as designed on the frame that was found, and what an error of it does.
struct MeantReading {
  Eigen::Index tile = 0;
  Vector3 at = Vector3::Zero();                     // its height with the frame's level [m]
  double share = 0;                                 // of the tile's height
  Eigen::Vector2d tilts = Eigen::Vector2d::Zero();  // of the tile's lean [1/m]
};

std::vector<MeantReading> meant_readings(const TileSurvey& survey) {
  std::vector<MeantReading> out;
  for (std::size_t k = 0; k < survey.tiles.size(); ++k) {
    const SurveyedTile& tile = survey.tiles[k];
    const std::vector<std::size_t> readings = kept_readings(survey, tile);
    const TilePlane plane = plane_through(survey, tile, readings);
    const double level = survey.design.tiles[tile.tile].turn(2, 2);
    for (const std::size_t i : readings) {
      const Vector3 own = in_tile(survey, tile, i);
      Vector3 at = survey.points.points[i];
      at.z() += survey.frame.level + survey.frame.over(at.head<2>()) - own.z() / level;
      const Vector3 numbers = plane.inverse * Vector3(1, own.x(), own.y()) * level;  // none of a tile without a plane
      out.push_back({static_cast<Eigen::Index>(k), at, 1 / static_cast<double>(readings.size()), numbers.tail<2>()});
    }
  }
  return out;
}

/// Lean x, lean y and, where it is told, 2 bend, from heights of the tiles: three rows.
Eigen::MatrixXd slopes_by_heights(const Eigen::MatrixXd& rows) {
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(3, rows.rows());
  if (rows.cols() < 3) return out;
  out.topRows(rows.cols() - 1) = pseudo_inverse(rows).bottomRows(rows.cols() - 1);
  out.row(2) *= 2;
  return out;
}

/// The trend from the leans of the tiles, two a tile: five rows, those beyond its numbers noughts.
Eigen::MatrixXd trend_by_leans(const TileSurvey& survey) {
  const int numbers = trend_numbers(survey.with_plane());
  const auto count = static_cast<Eigen::Index>(survey.tiles.size());
  Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(2 * count, numbers), out = Eigen::MatrixXd::Zero(5, 2 * count);
  for (Eigen::Index k = 0; k < count; ++k) {
    const SurveyedTile& tile = survey.tiles[static_cast<std::size_t>(k)];
    for (int number = 0; tile.has_plane && number < numbers; ++number)
      rows.block<2, 1>(2 * k, number) = trend_lean(TileLeans::Trend::Unit(number), survey.design.tiles[tile.tile]);
  }
  if (numbers > 0) out.topRows(numbers) = pseudo_inverse(rows);
  return out;
}

}  // namespace

FrameFit frame_through(const TileSurvey& survey) {
  const Eigen::MatrixXd rows = frame_rows(survey);
  const Eigen::Index count = rows.rows();
  Eigen::VectorXd heights(count), weights = Eigen::VectorXd::Ones(count);
  for (Eigen::Index k = 0; k < count; ++k) {
    const SurveyedTile& tile = survey.tiles[static_cast<std::size_t>(k)];
    heights(k) = tile.height / survey.design.tiles[tile.tile].turn(2, 2);
  }
  Eigen::VectorXd terms = Eigen::VectorXd::Zero(4), misses = heights;
  for (int round = 0; round < 10; ++round) {
    terms.head(rows.cols()) = shortest_least_squares(weights.asDiagonal() * rows, weights.cwiseProduct(heights));
    misses = heights - rows * terms.head(rows.cols());
    std::vector<double> sizes(misses.size());
    for (Eigen::Index k = 0; k < misses.size(); ++k) sizes[static_cast<std::size_t>(k)] = std::abs(misses(k));
    const double scale = std::max(median(sizes) / normal_quartile, mark_of(survey.points) / std::sqrt(12.0));
    constexpr double reach = 4.685;  // Tukey's biweight [beatontukey1974]; roots of its weights
    for (Eigen::Index k = 0; k < misses.size(); ++k) weights(k) = std::max(0.0, 1 - std::pow(misses(k) / (reach * scale), 2));
  }
  FrameFit out;
  out.level = terms(0), out.lean = terms.segment<2>(1), out.bend = terms(3);
  out.rms = std::sqrt(misses.squaredNorm() / static_cast<double>(count));
  return out;
}

void find_frame_errors(TileSurvey& survey) {
  const Eigen::MatrixXd rows = frame_rows(survey), slopes = slopes_by_heights(rows), trend = trend_by_leans(survey);
  const std::vector<MeantReading> readings = meant_readings(survey);
  double reach = 0;
  for (const MeantReading& one : readings) reach = std::max(reach, one.at.head<2>().norm());
  FrameFit& frame = survey.frame;
  // The tiles' own heights scatter about the frame; of as many tiles as numbers nothing is left over to tell it.
  const double count = static_cast<double>(rows.rows()), freedom = std::max(1.0, count - static_cast<double>(rows.cols()));
  frame.covariance = frame.rms * frame.rms * count / freedom * slopes * slopes.transpose();
  frame.trend_covariance.setZero();
  const double step = survey.points.step;
  if (reach <= 0 || step <= 0) return;
  std::mt19937_64 random(0x70f4aaU);
  const auto part = [&random] { return 2 * (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53 - 1; };  // -1 to 1
  constexpr int times = 200;
  for (int time = 0; time < times; ++time) {
    const double lift = step / 2 * part(), across = step / 2 / reach * part(), up = step / 2 / reach * part(),
                 bend = step / (reach * reach) * part();
    Eigen::VectorXd heights = Eigen::VectorXd::Zero(rows.rows()), leans = Eigen::VectorXd::Zero(2 * rows.rows());
    for (const auto& [tile, at, share, tilts] : readings) {
      const double z = at.z() + lift + across * at.x() + up * at.y() + bend * at.head<2>().squaredNorm();
      const double error = std::round(z / step) * step - z;
      heights[tile] += share * error, leans.segment<2>(2 * tile) += tilts * error;
    }
    const Vector3 by_heights = slopes * heights;
    const Eigen::Matrix<double, 5, 1> by_leans = trend * leans;
    frame.covariance += by_heights * by_heights.transpose() / times;
    frame.trend_covariance += by_leans * by_leans.transpose() / times;
  }
}

}  // namespace dishwright
