// SPDX-License-Identifier: MIT
#include "survey/tile_leans.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "survey/solvers.h"
#include "survey/tile_survey.h"

namespace dishwright {

namespace {

using Vector2 = Eigen::Vector2d;
using Matrix2 = Eigen::Matrix2d;
using Trend = TileLeans::Trend;
using TrendRows = Eigen::Matrix<double, 2, 5>;
using TrendMatrix = Eigen::Matrix<double, 5, 5>;

/// Lean of a tile in its own frame for each number of the trend. A change s of the frame's slope turns the normal by −s, less
/// what lies along the normal, over the root of 1 + slope².
TrendRows trend_rows(const Tile& tile) {
  const double x = tile.centre.x(), y = tile.centre.y();
  TrendRows slopes;
  slopes << 1, 0, x, x, y,  //
      0, 1, y, -y, x;
  return tile.turn(2, 2) * tile.turn.topLeftCorner<2, 2>().transpose() * slopes;
}

/// The tiles with a plane that were to be read: they stand for the others.
std::vector<const SurveyedTile*> standing_for_others(const TileSurvey& survey) {
  std::vector<const SurveyedTile*> out;
  for (const std::size_t tile : survey.design.to_read) {
    const SurveyedTile* read = survey.of(tile);
    if (read != nullptr && read->has_plane) out.push_back(read);
  }
  return out;
}

/// What the slope of the frame would be by the heights of the tiles.
Trend frame_trend(const FrameFit& frame) {
  Trend out = Trend::Zero();
  out[0] = frame.lean.x(), out[1] = frame.lean.y(), out[2] = 2 * frame.bend;
  return out;
}

/// The trend by generalised least squares, where the leans scatter by `spread2` besides their noise.
void fit_trend(const TileSurvey& survey, const std::vector<const SurveyedTile*>& tiles, double spread2, TileLeans& leans) {
  const int n = leans.numbers;
  if (n == 0) return;
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(n, n);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(n);
  for (const SurveyedTile* read : tiles) {
    const Eigen::MatrixXd rows = trend_rows(survey.design.tiles[read->tile]).leftCols(n);
    const Matrix2 weight = (read->lean_noise + spread2 * Matrix2::Identity()).inverse();
    normal += rows.transpose() * weight * rows;
    right += rows.transpose() * weight * read->lean;
  }
  const Trend frame = frame_trend(survey.frame);
  const Eigen::VectorXd off = solved(normal, right) - frame.head(n);
  // Errors of the leans' own trend, then of the frame's slope, toward which it is drawn.
  const Eigen::MatrixXd own = inverse_by_solving(normal) + survey.frame.trend_covariance.topLeftCorner(n, n);
  TrendMatrix of_frame = TrendMatrix::Zero();
  of_frame.topLeftCorner<3, 3>() = survey.frame.covariance;
  const Eigen::MatrixXd both = own + of_frame.topLeftCorner(n, n);
  const double sure = off.dot(solved(both, off));
  const double kept = sure > 0 ? std::max(0.0, 1 - (n - 2) / sure) : 0;
  leans.trend = frame, leans.trend.head(n) += kept * off;
  // Where the rule leaves nothing of it, two of its n numbers' worth of error are left [jamesstein1961].
  leans.trend_covariance.topLeftCorner(n, n) =
      std::max(kept, 2.0 / n) * own + std::pow(1 - kept, 2) * of_frame.topLeftCorner(n, n);
}

/// Evenly random numbers between 0 and 1, the same on every machine.
class LeanChance {
 public:
  explicit LeanChance(int number) : random_(0x711e5U + static_cast<unsigned>(number)) {}
  double even() { return (static_cast<double>(random_() >> 11U) + 0.5) * 0x1p-53; }
  double normal() { return std::sqrt(-2 * std::log(even())) * std::cos(2 * std::numbers::pi * even()); }
  /// Chi-square over its degrees of freedom, by its cube root, which is nearly normal [wilsonhilferty1931].
  double mean_square(double freedom) {
    const double part = 2 / (9 * freedom);
    return std::pow(std::max(0.05, 1 - part + std::sqrt(part) * normal()), 3);
  }

 private:
  std::mt19937_64 random_;
};

/// What is not known of the tiles as a whole, as one draw has it.
struct Supposed {
  Trend trend;
  double spread2 = 0, noise_factor = 1;
};

Supposed supposed(const TileLeans& leans, bool plain, LeanChance& chance) {
  Supposed out{leans.trend, leans.spread() * leans.spread(), 1};
  if (plain || leans.freedom <= 0) return out;
  if (leans.noise_freedom > 0) out.noise_factor = 1 / chance.mean_square(leans.noise_freedom);
  // All variance is at least that of the noise, however little of it there happens to be.
  out.spread2 =
      std::max(0.0, std::max(leans.total, leans.noise) / chance.mean_square(leans.freedom) - out.noise_factor * leans.noise);
  const int n = leans.numbers;
  if (n == 0) return out;
  const Eigen::MatrixXd root = lower_root(leans.trend_covariance.topLeftCorner(n, n) + 1e-18 * Eigen::MatrixXd::Identity(n, n));
  Eigen::VectorXd steps(n);
  for (double& step : steps) step = chance.normal();
  out.trend.head(n) += root * steps;
  return out;
}

/// How far a tile leans from the trend, given its reading.
Vector2 own_lean(const Vector2& off, const Matrix2& noise, double spread2, bool plain, LeanChance& chance) {
  if (spread2 <= 0) return Vector2::Zero();
  const double mean_noise = noise.trace() / 2;
  // With the variance of the tiles, neither that of the readings nor the narrower one of the means.
  if (plain) return std::sqrt(spread2 / (spread2 + mean_noise)) * off;
  const Matrix2 share = spread2 * (noise + spread2 * Matrix2::Identity()).inverse();
  const Matrix2 left = spread2 * (Matrix2::Identity() - share);
  const Matrix2 root = ((left + left.transpose()) / 2 + 1e-18 * Matrix2::Identity()).llt().matrixL();
  const double first = chance.normal(), second = chance.normal();
  return share * off + root * Vector2(first, second);
}

/// One of the tiles that were read, for each that was not: each with a share of its own.
class Donors {
 public:
  Donors(std::size_t count, bool plain, LeanChance& chance) {
    double sum = 0;
    for (std::size_t k = 0; k < count; ++k) upto_.push_back(sum += plain ? 1 : -std::log(chance.even()));
  }
  std::size_t pick(LeanChance& chance) const {
    const auto at = std::upper_bound(upto_.begin(), upto_.end(), chance.even() * upto_.back());
    return std::min<std::size_t>(static_cast<std::size_t>(at - upto_.begin()), upto_.size() - 1);
  }

 private:
  std::vector<double> upto_;
};

}  // namespace

Estimate TileLeans::spread_estimate() const {
  if (freedom <= 0) return {0, std::nullopt, "rad"};
  const double error = std::hypot(total * std::sqrt(2 / freedom), noise_freedom > 0 ? noise * std::sqrt(2 / noise_freedom) : 0);
  // Of a root: half of the error of the square over it, and never more than the root of that error.
  return {spread(), std::min(error / (2 * std::max(spread(), 1e-12)), std::sqrt(error)), "rad"};
}

int trend_numbers(std::size_t tiles) { return tiles >= 12 ? 5 : tiles >= 6 ? 3 : 0; }

Vector2 trend_lean(const Trend& trend, const Tile& tile) { return trend_rows(tile) * trend; }

TileLeans tile_leans(const TileSurvey& survey) {
  TileLeans leans;
  const std::vector<const SurveyedTile*> tiles = standing_for_others(survey);
  if (tiles.empty()) return leans;
  const auto count = static_cast<double>(tiles.size());
  leans.numbers = trend_numbers(tiles.size());
  leans.freedom = 2 * count - leans.numbers;
  leans.noise_freedom = survey.noise_freedom;
  for (const SurveyedTile* read : tiles) leans.noise += read->lean_noise.trace() / (2 * count);
  constexpr int rounds = 8;
  for (int round = 0; round < rounds; ++round) {
    const double spread2 = leans.spread() * leans.spread();
    fit_trend(survey, tiles, spread2, leans);
    double squares = 0;
    for (const SurveyedTile* read : tiles)
      squares += (read->lean - trend_lean(leans.trend, survey.design.tiles[read->tile])).squaredNorm();
    leans.total = squares / leans.freedom;
  }
  double squares = 0;
  for (const SurveyedTile* read : tiles) squares += trend_lean(leans.trend, survey.design.tiles[read->tile]).squaredNorm();
  leans.all = std::hypot(std::sqrt(squares / (2 * count)), leans.spread());
  return leans;
}

std::vector<Tile> drawn_tiles(const TileSurvey& survey, int number) {
  const bool plain = number == 0;
  LeanChance chance(number);
  const Supposed now = supposed(survey.leans, plain, chance);
  const std::vector<Tile>& meant = survey.design.tiles;
  std::vector<Vector2> own(survey.tiles.size(), Vector2::Zero());
  for (std::size_t k = 0; k < own.size(); ++k) {
    const SurveyedTile& read = survey.tiles[k];
    if (read.has_plane)
      own[k] = own_lean(read.lean - trend_lean(now.trend, meant[read.tile]), now.noise_factor * read.lean_noise, now.spread2,
                        plain, chance);
  }
  const std::vector<const SurveyedTile*> sample = standing_for_others(survey);
  const Donors donors(sample.size(), plain, chance);
  std::vector<Tile> out;
  std::size_t next = 0;
  for (std::size_t k = 0; k < meant.size(); ++k) {
    const Tile& tile = meant[k];
    Vector2 lean = trend_lean(now.trend, tile);
    double height = survey.frame.over(tile.centre.head<2>()) * tile.turn(2, 2);
    if (next < survey.tiles.size() && survey.tiles[next].tile == k) {
      height = survey.tiles[next].height, lean += own[next], ++next;
    } else if (!sample.empty()) {
      lean += own[static_cast<std::size_t>(sample[donors.pick(chance)] - survey.tiles.data())];
    }
    out.push_back(set_over(tile, height, lean));
  }
  return out;
}

}  // namespace dishwright
