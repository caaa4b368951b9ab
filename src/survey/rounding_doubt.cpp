// SPDX-License-Identifier: MIT
#include "survey/rounding_doubt.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace dishwright {

namespace {

constexpr int usual_draws = 200;

/// Evenly spread numbers between 0 and 1, and normal ones.
class Random {
 public:
  explicit Random(unsigned number) : engine_(0x70a2c500U + number) {}
  double even() { return (static_cast<double>(engine_() >> 11U) + 0.5) * 0x1p-53; }
  double normal() { return std::sqrt(-2 * std::log(even())) * std::cos(2 * std::numbers::pi * even()); }

 private:
  std::mt19937_64 engine_;
};

/// Places of the kept readings in units of the largest distance from their middle.
std::vector<Eigen::Vector2d> unit_places(const SurveyPoints& survey, const std::vector<char>& keep) {
  std::vector<Eigen::Vector2d> out;
  Eigen::Vector2d middle(0, 0);
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    out.emplace_back(survey.points[i].head<2>());
    middle += out.back();
  }
  middle /= std::max<double>(1, static_cast<double>(out.size()));
  double reach = 1e-9;
  for (Eigen::Vector2d& place : out) place -= middle, reach = std::max(reach, place.norm());
  for (Eigen::Vector2d& place : out) place /= reach;
  return out;
}

using Numbers = Eigen::Matrix<double, fit_numbers, fit_numbers>;

/// The kept readings as a linearised fit sees them.
struct Linearised {
  std::vector<FitVector> answers;  ///< change of the numbers for an error along z of each reading [1/m]
  std::vector<double> heights;     ///< of the fitted surface there [m]
  double upright = 0;              ///< mean square of the normals' z
};

Linearised linearised(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  const Numbers inverse = fit.covariance / fit.variance;
  Linearised out;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    const FootPoint foot = nearest_foot(fit.shape, fit.shape.to_own(survey.points[i]));
    const double up = (fit.shape.turn * foot.normal).z();
    out.answers.push_back(up * (inverse * distance_slopes(fit.shape, foot)));
    out.heights.push_back(survey.points[i].z() - (foot.distance + survey.skin) * up);
    out.upright += up * up;
  }
  out.upright /= std::max<double>(1, static_cast<double>(out.heights.size()));
  return out;
}

/// Mean of changes of the numbers, squared, over draws of errors.
Numbers mean_square(const Linearised& fit, const std::vector<std::vector<double>>& draws, double share) {
  Numbers out = Numbers::Zero();
  for (const std::vector<double>& errors : draws) {
    FitVector change = FitVector::Zero();
    for (std::size_t k = 0; k < errors.size(); ++k) change += share * errors[k] * fit.answers[k];
    out += change * change.transpose() / static_cast<double>(draws.size());
  }
  return out;
}

}  // namespace

std::vector<std::vector<double>> rounding_draws(const SurveyPoints& survey, const std::vector<char>& keep,
                                                const std::vector<double>& heights, double scatter, Relaid relaid, int draws) {
  std::vector<std::vector<double>> out;
  if (!(survey.step > 0)) return out;
  const std::vector<Eigen::Vector2d> places = unit_places(survey, keep);
  for (int draw = 0; draw < draws; ++draw) {
    Random random(static_cast<unsigned>(draw));
    const double lift = random.even(), bend = 2 * (random.even() - 0.5), lean = relaid == Relaid::leaning ? 1 : 0,
                 lean_x = lean * (random.even() - 0.5), lean_y = lean * (random.even() - 0.5);
    std::vector<double> errors;
    errors.reserve(heights.size());
    for (std::size_t k = 0; k < heights.size(); ++k) {
      const Eigen::Vector2d& at = places[k];
      const double exact = heights[k] / survey.step + lift + lean_x * at.x() + lean_y * at.y() + bend * at.squaredNorm();
      const double seen = exact + (scatter > 0 ? scatter / survey.step * random.normal() : 0);
      errors.push_back((std::round(seen) - exact) * survey.step);
    }
    out.push_back(std::move(errors));
  }
  return out;
}

Eigen::Matrix<double, fit_numbers, fit_numbers> covariance_with_rounding(const SurveyPoints& survey,
                                                                         const std::vector<char>& keep, const ShapeFit& fit) {
  const double rounding = survey.rounding_noise();
  if (!survey.under_rim || rounding <= 0 || !(fit.variance > 0)) return fit.covariance;
  const Linearised readings = linearised(survey, keep, fit);
  // Scatter beyond the rounding is as independent as the fit takes it to be; but rounding alone may leave over half as much again
  // as step²/12. Of the rounding, what repeats do not take out.
  constexpr double by_luck = 1.7;
  const double left = fit.variance / readings.upright;
  const double scatter = left > by_luck * rounding ? std::sqrt(left - rounding) : 0;
  const double share = std::sqrt(12 * rounding) / survey.step;
  const int draws = std::clamp(static_cast<int>(4e6 / static_cast<double>(readings.heights.size())), 20, usual_draws);
  const auto square = [&](Relaid relaid) {
    return mean_square(readings, rounding_draws(survey, keep, readings.heights, scatter / share, relaid, draws), share);
  };
  const Numbers level = square(Relaid::level), leaning = square(Relaid::leaning);
  // The correlations of the leaning draws; of each number the larger variance.
  FitVector larger = FitVector::Ones();
  for (int i = 0; i < fit_numbers; ++i) {
    if (leaning(i, i) > 0) larger[i] = std::sqrt(std::max(1.0, level(i, i) / leaning(i, i)));
  }
  return larger.asDiagonal() * leaning * larger.asDiagonal();
}

}  // namespace dishwright
