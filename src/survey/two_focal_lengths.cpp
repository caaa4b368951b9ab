// SPDX-License-Identifier: MIT
#include "survey/two_focal_lengths.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "survey/bowl.h"
#include "survey/median.h"
#include "survey/rounding_doubt.h"
#include "survey/solvers.h"

namespace dishwright {

namespace {

using Normal = Eigen::Matrix<double, 6, 6>;
constexpr double clear_by = 6;  // as in fit_all
constexpr double tukey = 4.685;

/// Kept readings over the unit disc.
struct Kept {
  std::vector<BowlTerms> rows;
  std::vector<double> heights, upright;  ///< z [m]; z of the normal
  double reach = 1;                      ///< unit of x and y [m]
};

/// A robust quadric; its terms in the units of `Kept`.
struct QuadricFit {
  BowlTerms terms = BowlTerms::Zero();
  std::vector<double> misses;  ///< along the normal [m]
  double scale = 0, misfit = 0, variance = 0;
  Normal inverse = Normal::Zero();
};

Kept kept_of(const SurveyPoints& survey, const std::vector<char>& keep) {
  Kept out;
  std::vector<Vector3> points;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] != 0) points.push_back(survey.points[i]), out.reach = points.size() == 1 ? 1e-9 : out.reach;
  }
  for (const Vector3& p : points) out.reach = std::max(out.reach, p.head<2>().norm());
  const Bowl bowl = least_deviations(points, out.reach, 1e-4 * out.reach);
  for (const Vector3& p : points) {
    const double x = p.x() / out.reach, y = p.y() / out.reach;
    const Eigen::Vector2d slope = Eigen::Vector2d(bowl.terms[1] + 2 * bowl.terms[3] * x + bowl.terms[4] * y,
                                                  bowl.terms[2] + bowl.terms[4] * x + 2 * bowl.terms[5] * y) /
                                  out.reach;
    out.rows.push_back(bowl_row(x, y));
    out.heights.push_back(p.z());
    out.upright.push_back(1 / std::sqrt(1 + slope.squaredNorm()));
  }
  return out;
}

/// Median |miss| as a standard deviation.
double spread_of(const std::vector<double>& misses, int numbers, double least) {
  std::vector<double> sizes(misses.size());
  std::transform(misses.begin(), misses.end(), sizes.begin(), [](double m) { return std::abs(m); });
  const double n = static_cast<double>(sizes.size());
  return std::max(least, median(std::move(sizes)) / normal_quartile * std::sqrt(n / std::max(1.0, n - numbers)));
}

/// Least squares along the normal with Tukey's weights about a falling scale; `round`: x² and y² with one bend, no x·y.
QuadricFit fitted(const Kept& kept, bool round, double least) {
  QuadricFit out;
  const double n = static_cast<double>(kept.rows.size());
  const int numbers = round ? 4 : 6;
  std::vector<double> weights(kept.rows.size(), 1);
  out.misses.resize(kept.rows.size());
  constexpr int rounds = 20;
  for (int pass = 0; pass < rounds; ++pass) {
    Normal normal = Normal::Zero(), information = Normal::Zero();
    BowlTerms right = BowlTerms::Zero();
    const auto row_of = [&](std::size_t i) {
      BowlTerms row = kept.rows[i] * kept.upright[i];
      if (round) row[3] += row[5], row[4] = 0, row[5] = 0;
      return row;
    };
    for (std::size_t i = 0; i < weights.size(); ++i) {
      const BowlTerms row = row_of(i);
      normal += weights[i] * row * row.transpose(), information += row * row.transpose();
      right += weights[i] * kept.upright[i] * kept.heights[i] * row;
    }
    if (round) normal(4, 4) = normal(5, 5) = information(4, 4) = information(5, 5) = 1;
    out.terms = solved(normal, right);
    out.inverse = inverse_by_solving(information);
    for (std::size_t i = 0; i < weights.size(); ++i) out.misses[i] = kept.upright[i] * kept.heights[i] - row_of(i).dot(out.terms);
    out.scale = spread_of(out.misses, numbers, least);
    for (std::size_t i = 0; i < weights.size(); ++i) {
      const double u = out.misses[i] / (tukey * out.scale);
      weights[i] = std::abs(u) < 1 ? (1 - u * u) * (1 - u * u) : 0;
    }
  }
  double sum = 0;
  for (const double miss : out.misses) sum += std::min(miss * miss, 9 * out.scale * out.scale);
  out.variance = std::max(sum / std::max(1.0, n - numbers), least * least);
  out.misfit = n * std::log(std::max(sum / n, least * least));
  return out;
}

/// Covariance of the quadric's terms: readings independent, or with the rounding done.
Normal terms_covariance(const SurveyPoints& survey, const std::vector<char>& keep, const Kept& kept, const QuadricFit& fit) {
  constexpr int draws = 100;
  Normal out = fit.variance * fit.inverse;
  if (survey.rounding_noise() <= 0 || kept.rows.size() > 20000) return out;
  std::vector<double> heights;
  for (const BowlTerms& row : kept.rows) heights.push_back(row.dot(fit.terms));
  const double beyond = fit.variance > 1.7 * survey.rounding_noise() ? fit.variance - survey.rounding_noise() : 0;
  Normal drawn = Normal::Zero();
  for (const std::vector<double>& errors : rounding_draws(survey, keep, heights, std::sqrt(beyond), Relaid::leaning, draws)) {
    BowlTerms right = BowlTerms::Zero();
    for (std::size_t i = 0; i < errors.size(); ++i) right += kept.upright[i] * kept.upright[i] * errors[i] * kept.rows[i];
    const BowlTerms change = fit.inverse * right;
    drawn += change * change.transpose() / draws;
  }
  return drawn;
}

TwoFocalLengths from_terms(const Kept& kept, const QuadricFit& fit, const Normal& covariance) {
  Eigen::Matrix2d bend;
  bend << 2 * fit.terms[3], fit.terms[4], fit.terms[4], 2 * fit.terms[5];
  bend /= kept.reach * kept.reach;
  const Spectrum<2> own = spectrum<2>(bend);
  // f = 1/(2 λ); a bend λ = vᵀ H v moves with the terms as v does.
  const auto focal = [&](int k) {
    const Eigen::Vector2d v = own.vectors.col(k);
    BowlTerms slopes = BowlTerms::Zero();
    slopes.tail<3>() << 2 * v.x() * v.x(), 2 * v.x() * v.y(), 2 * v.y() * v.y();
    slopes /= kept.reach * kept.reach;
    const double f = 1 / (2 * own.values[k]);
    return Estimate{f, 2 * f * f * std::sqrt(std::max(0.0, slopes.dot(covariance * slopes))), "m"};
  };
  TwoFocalLengths out;
  out.longer = focal(0), out.shorter = focal(1);
  const Eigen::Vector2d short_way = own.vectors.col(1) * (own.vectors(0, 1) < 0 ? -1 : 1);
  out.short_direction = std::atan2(short_way.y(), short_way.x());
  out.saddle = bend - bend.trace() / 2 * Eigen::Matrix2d::Identity();
  const double square = kept.reach * kept.reach;
  out.across = {bend(0, 1), std::sqrt(std::max(0.0, covariance(4, 4))) / square, "1/m"};
  const Eigen::Vector2d along = own.vectors.col(1);
  BowlTerms apart = BowlTerms::Zero();  // λ2 − λ1 = 2 vᵀ(saddle)v
  apart.tail<3>() << 2 * along.x() * along.x() - 1, 2 * along.x() * along.y(), 2 * along.y() * along.y() - 1;
  apart *= 2 / square;
  const double unlike = own.values[1] - own.values[0], error = std::sqrt(std::max(0.0, apart.dot(covariance * apart)));
  constexpr double least_lean = 1.9e-3;  // a tenth of the spot
  out.lean = unlike / 2 * kept.reach / 2;
  out.matters = unlike > 2 * error && out.lean >= least_lean;
  return out;
}

}  // namespace

std::optional<TwoFocalLengths> two_focal_lengths(const SurveyPoints& survey, const std::vector<char>& keep) {
  constexpr std::ptrdiff_t fewest = 12;
  if (!survey.under_rim || std::count(keep.begin(), keep.end(), 1) < fewest) return std::nullopt;
  const Kept kept = kept_of(survey, keep);
  const double least = std::max(survey.least_noise(), 1e-9 * kept.reach), n = static_cast<double>(kept.rows.size());
  const QuadricFit round = fitted(kept, true, least), bent = fitted(kept, false, least);
  if (round.misfit - bent.misfit <= clear_by + 2 * std::log(n)) return std::nullopt;
  const double less = bent.terms[3] + bent.terms[5], unlike = std::hypot(bent.terms[3] - bent.terms[5], bent.terms[4]);
  if (less <= 0 || less - unlike < (less + unlike) / 3) return std::nullopt;
  if (fit_shape(survey, keep, ShapeKind::paraboloid).misfit < bent.misfit) return std::nullopt;
  return from_terms(kept, bent, terms_covariance(survey, keep, kept, bent));
}

SurveyPoints made_round(const SurveyPoints& survey, const TwoFocalLengths& two) {
  SurveyPoints out = survey;
  for (Vector3& point : out.points) point.z() -= two.over_round(point.x(), point.y());
  return out;
}

}  // namespace dishwright
