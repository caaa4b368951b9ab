// SPDX-License-Identifier: MIT
#include "survey/fit.h"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/error.h"
#include "survey/median.h"
#include "survey/shape_claims.h"
#include "survey/solvers.h"
#include "survey/start.h"

namespace dishwright {

namespace {

using FitMatrix = Eigen::Matrix<double, fit_numbers, fit_numbers>;

constexpr double tukey = 4.685;  // standard deviations beyond which a point has no weight
/// A dish under its rim leans by less than this, unless the readings say otherwise: it keeps shallow, rough surveys from rolling
/// away along the surface [rad].
constexpr double usual_lean = 0.5;
constexpr double no_end = std::numeric_limits<double>::infinity();  // the scale where every point has the same weight
/// Steps are taken on at most this many points; the last ones on all.
constexpr std::size_t enough = 40000;

/// Tukey's weight; equal weight is the same with no end to the scale.
double tukey_weight(double u) { return std::abs(u) < 1 ? (1 - u * u) * (1 - u * u) : 0; }

/// The points that a step looks at: every `stride`-th kept one.
std::vector<std::size_t> picked(const std::vector<char>& keep, bool all) {
  const auto kept = static_cast<std::size_t>(std::count_if(keep.begin(), keep.end(), [](char k) { return k != 0; }));
  const std::size_t stride = all ? 1 : std::max<std::size_t>(1, kept / enough);
  std::vector<std::size_t> out;
  out.reserve(kept / stride + 1);
  std::size_t seen = 0;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] != 0 && seen++ % stride == 0) out.push_back(i);
  }
  return out;
}

/// Inverse of normal equations; what the points do not fix at all becomes very unsure (10⁶ times as much as one number by
/// itself), not endless.
FitMatrix inverse_of(const FitMatrix& normal) {
  constexpr double least = 1e-12;
  FitVector units = FitVector::Ones();
  for (int i = 0; i < fit_numbers; ++i) {
    if (normal(i, i) > 0) units[i] = 1 / std::sqrt(normal(i, i));
  }
  const FitMatrix scaled = units.asDiagonal() * normal * units.asDiagonal();
  const Spectrum<fit_numbers> own = spectrum<fit_numbers>(scaled);
  const FitVector values = own.values.cwiseMax(least).cwiseInverse();
  return units.asDiagonal() * (own.vectors * values.asDiagonal() * own.vectors.transpose()) * units.asDiagonal();
}

class Fitter {
 public:
  Fitter(const SurveyPoints& survey, const std::vector<char>& keep, const PlacedShape& start, Weighting weighting)
      : survey_(survey), keep_(keep), shape_(start), weighting_(weighting), is_free_(free_numbers(start)) {
    numbers_ = static_cast<int>(std::count(is_free_.begin(), is_free_.end(), true));
  }

  /// `all`: the last steps are taken on every point, however many there are.
  ShapeFit run(bool all) {
    use(picked(keep_, false));
    // First with the weights of least absolute deviations, then with Tukey's about a falling scale.
    constexpr int first_rounds = 8, most_rounds = 40;
    for (int round = 0; round < first_rounds; ++round) step(0);
    scale_ = robust_scale();
    for (int round = 0; round < most_rounds; ++round) {
      if (step(scale_) < 1e-9) break;
      if (round < 6) scale_ = robust_scale();
    }
    if (all && indices_.size() < kept()) {
      use(picked(keep_, true));
      for (int round = 0; round < 2; ++round) step(scale_);
    }
    return finish();
  }

 private:
  std::size_t kept() const {
    return static_cast<std::size_t>(std::count_if(keep_.begin(), keep_.end(), [](char k) { return k != 0; }));
  }

  void use(std::vector<std::size_t> indices) {
    indices_ = std::move(indices);
    residuals_.resize(indices_.size());
    measure(shape_, residuals_);
  }

  double residual(const PlacedShape& shape, std::size_t i) const {
    return nearest_foot(shape, shape.to_own(survey_.points[i])).distance + survey_.skin;
  }

  void measure(const PlacedShape& shape, std::vector<double>& out) const {
    for (std::size_t k = 0; k < indices_.size(); ++k) out[k] = residual(shape, indices_[k]);
  }

  double floor_scale() const { return std::max(survey_.least_noise(), 1e-9 * std::abs(shape_.size)); }

  /// Median |residual| as a standard deviation, with the fitted numbers allowed for.
  double robust_scale() const { return weighting_ == Weighting::equal ? no_end : spread(); }
  double spread() const {
    std::vector<double> sizes(residuals_.size());
    std::transform(residuals_.begin(), residuals_.end(), sizes.begin(), [](double r) { return std::abs(r); });
    const double n = static_cast<double>(sizes.size());
    const double found = median(std::move(sizes)) / normal_quartile * std::sqrt(n / std::max(1.0, n - numbers_));
    return std::max(found, floor_scale());
  }

  /// Weight of a residual: Tukey's about `scale`, or 1/|residual| where scale is 0.
  double weight(double residual, double scale) const {
    if (scale > 0) return tukey_weight(residual / (tukey * scale));
    return 1 / std::max(std::abs(residual), std::max(floor_scale(), 1e-4 * std::abs(shape_.size)));
  }

  /// What a step lowers: the sum of the loss whose weights these are.
  double loss(const std::vector<double>& residuals, const PlacedShape& shape, double scale) const {
    double sum = 0;
    for (const double r : residuals) {
      if (scale == no_end) {
        sum += r * r / 2;
      } else if (scale > 0) {
        const double u = std::min(1.0, std::abs(r) / (tukey * scale));
        sum += 1 - std::pow(1 - u * u, 3);
      } else {
        const double least = std::max(floor_scale(), 1e-4 * std::abs(shape_.size));
        sum += std::abs(r) < least ? r * r / (2 * least) + least / 2 : std::abs(r);
      }
    }
    if (scale > 0 && scale < no_end) sum *= tukey * tukey * scale * scale / 6;
    return sum + 0.5 * lean_penalty(shape) * prior_weight(scale);
  }

  double prior_weight(double scale) const { return scale == no_end ? 0 : scale > 0 ? scale * scale : scale_guess(); }
  double scale_guess() const { return 1e-3 * std::abs(shape_.size); }

  // The axis against the z of the readings, for depths under a rim only.
  double lean_penalty(const PlacedShape& shape) const {
    if (!survey_.under_rim || shape.kind == ShapeKind::sphere) return 0;
    return shape.axis().head<2>().squaredNorm() / (usual_lean * usual_lean);
  }
  void add_lean(FitMatrix& normal, FitVector& gradient, double scale) const {
    if (!survey_.under_rim || shape_.kind == ShapeKind::sphere) return;
    // d(axis)/d(turn about own x, y) = −own y, own x.
    Eigen::Matrix2d slopes;
    slopes.col(0) = -shape_.turn.col(1).head<2>();
    slopes.col(1) = shape_.turn.col(0).head<2>();
    const double weight = prior_weight(scale) / (usual_lean * usual_lean);
    normal.block<2, 2>(4, 4) += weight * slopes.transpose() * slopes;
    gradient.segment<2>(4) += weight * slopes.transpose() * shape_.axis().head<2>();
  }

  void equations(double scale, FitMatrix& normal, FitVector& gradient) const {
    normal.setZero();
    gradient.setZero();
    for (std::size_t k = 0; k < indices_.size(); ++k) {
      const double w = weight(residuals_[k], scale);
      if (w <= 0) continue;
      const FootPoint foot = nearest_foot(shape_, shape_.to_own(survey_.points[indices_[k]]));
      const FitVector slopes = distance_slopes(shape_, foot);
      normal.noalias() += w * slopes * slopes.transpose();
      gradient += w * residuals_[k] * slopes;
    }
    add_lean(normal, gradient, scale);
    for (int i = 0; i < fit_numbers; ++i) {
      if (!is_free_[static_cast<std::size_t>(i)]) normal(i, i) = 1, gradient[i] = 0;
    }
  }

  /// One damped Gauss–Newton step; returns its size relative to the shape's.
  double step(double scale) {
    FitMatrix normal;
    FitVector gradient;
    equations(scale, normal, gradient);
    const double before = loss(residuals_, shape_, scale);
    std::vector<double> tried(residuals_.size());
    constexpr int most_tries = 12;
    for (int attempt = 0; attempt < most_tries; ++attempt) {
      FitMatrix damped = normal;
      damped.diagonal() += damping_ * normal.diagonal();
      FitVector change = -solved(damped, gradient);
      limit(change);
      const PlacedShape next = moved(shape_, change);
      if (next.size > 0 && change.allFinite()) {
        measure(next, tried);
        if (loss(tried, next, scale) <= before * (1 + 1e-15)) {
          shape_ = next;
          residuals_.swap(tried);
          damping_ = damping_ < 1e-10 ? 0 : damping_ / 10;
          return change.head<4>().norm() / shape_.size + change.tail<3>().norm();
        }
      }
      damping_ = std::max(1e-8, damping_ * 10);
    }
    return 0;
  }

  /// No step turns by more than a fifth of a radian or changes the size by more than half.
  void limit(FitVector& change) const {
    const double too_far = std::max({std::abs(change[0]) / (0.5 * shape_.size), change.tail<3>().norm() / 0.2,
                                     change.segment<3>(1).norm() / shape_.size, 1.0});
    change /= too_far;
  }

  ShapeFit finish() const {
    ShapeFit fit;
    fit.shape = shape_;
    fit.numbers = numbers_;
    fit.kept = static_cast<int>(indices_.size());
    fit.covariance = covariance(scale_, fit.variance);
    fit.scale = spread();
    double sum = 0;
    for (const double r : residuals_) sum += r * r;
    fit.rms = std::sqrt(sum / fit.kept);
    fit.misfit = misfit();
    fit.residuals.reserve(survey_.points.size());
    for (std::size_t i = 0; i < survey_.points.size(); ++i) fit.residuals.push_back(residual(shape_, i));
    return fit;
  }

  /// Schwarz's criterion on the readings without their extremes, so that a dent does not decide between shapes.
  double misfit() const {
    const double n = static_cast<double>(residuals_.size());
    double sum = 0;
    const double own_scale = spread();
    for (const double r : residuals_) sum += std::min(r * r, 9 * own_scale * own_scale);
    // Less than the readings' own known noise is luck, not a better shape.
    const double least = std::max(survey_.least_noise(), 1e-12 * std::abs(shape_.size));
    return n * std::log(std::max(sum / n, least * least));
  }

  FitMatrix covariance(double scale, double& variance) const {
    FitMatrix information = FitMatrix::Zero();
    double psi = 0, bend = 0;
    for (std::size_t k = 0; k < indices_.size(); ++k) {
      const FootPoint foot = nearest_foot(shape_, shape_.to_own(survey_.points[indices_[k]]));
      const FitVector slopes = distance_slopes(shape_, foot);
      information.noalias() += slopes * slopes.transpose();
      const double u = residuals_[k] / (tukey * scale);
      if (std::abs(u) >= 1) continue;
      psi += std::pow(residuals_[k] * tukey_weight(u), 2);
      bend += (1 - u * u) * (1 - 5 * u * u);
    }
    const double n = static_cast<double>(residuals_.size());
    bend = std::max(0.2, bend / n);
    const double one = std::max(psi / std::max(1.0, n - numbers_) / (bend * bend), floor_scale() * floor_scale());
    variance = one;
    FitMatrix normal = information;
    FitVector unused = FitVector::Zero();
    add_lean(normal, unused, std::sqrt(one));
    for (int i = 0; i < fit_numbers; ++i) {
      if (!is_free_[static_cast<std::size_t>(i)]) normal(i, i) = 1;
    }
    FitMatrix out = one * inverse_of(normal);
    for (int i = 0; i < fit_numbers; ++i) {
      if (is_free_[static_cast<std::size_t>(i)]) continue;
      out.row(i).setZero();
      out.col(i).setZero();
    }
    return out;
  }

  const SurveyPoints& survey_;
  const std::vector<char>& keep_;
  PlacedShape shape_;
  Weighting weighting_;
  std::array<bool, fit_numbers> is_free_;
  int numbers_ = 0;
  std::vector<std::size_t> indices_;
  std::vector<double> residuals_;
  double scale_ = 0, damping_ = 1e-6;
};

Estimate with_error(double value, double variance, const std::string& unit) {
  return {value, std::sqrt(std::max(0.0, variance)), unit};
}

}  // namespace

ShapeFit fit_shape(const SurveyPoints& survey, const std::vector<char>& keep, ShapeKind kind, Weighting weighting) {
  return Fitter(survey, keep, first_guess(survey, keep, kind), weighting).run(true);
}

ShapeFit fit_meant(const SurveyPoints& survey, const std::vector<char>& keep, const Meant& meant) {
  PlacedShape start;
  start.kind = ShapeKind::meant, start.meant = meant, start.size = meant->size;
  std::vector<double> lifts;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    const Vector3& p = survey.points[i];
    if (keep[i] != 0) lifts.push_back(p.z() - meant->over(p.x(), p.y()).height);
  }
  constexpr std::size_t fewest = 10;
  if (lifts.size() < fewest)
    throw InputError(fmt::format("there are only {} readings to fit", lifts.size()),
                     "a curved shape and its tilt need at least 10, spread over the whole dish",
                     "read three rings of four places and the middle, or more");
  start.vertex.z() = median(std::move(lifts));
  return Fitter(survey, keep, start, Weighting::robust).run(true);
}

ShapeFit fit_like(const SurveyPoints& survey, const std::vector<char>& keep, const PlacedShape& shape) {
  return shape.kind == ShapeKind::meant ? fit_meant(survey, keep, shape.meant) : fit_shape(survey, keep, shape.kind);
}

bool beats(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& better, const ShapeFit& other) {
  constexpr double clear_by = 6;  // 2 ln 20
  return other.misfit - better.misfit >
             clear_by + std::max(0, better.numbers - other.numbers) * std::log(static_cast<double>(better.kept)) &&
         !rounding_explains(survey, keep, other, better);
}

FitSet fit_design(const SurveyPoints& survey, const std::vector<char>& keep, const Meant& meant) {
  FitSet out;
  out.best = ShapeKind::meant, out.clear = true;
  out.fits.push_back(fit_meant(survey, keep, meant));
  if (!meant->scales() || !meant->plan.round || !meant->in_rim_plane) return out;
  out.fits.insert(out.fits.begin(), fit_shape(survey, keep, ShapeKind::paraboloid));
  out.clear = !beats(survey, keep, out.fits.front(), out.fits.back());
  return out;
}

FitSet fit_all(const SurveyPoints& survey, const std::vector<char>& keep, ShapeKind expected) {
  FitSet out;
  for (const ShapeKind kind : {ShapeKind::paraboloid, ShapeKind::sphere, ShapeKind::trough}) {
    out.fits.push_back(Fitter(survey, keep, first_guess(survey, keep, kind), Weighting::robust).run(false));
  }
  const auto best = std::min_element(out.fits.begin(), out.fits.end(),
                                     [](const ShapeFit& a, const ShapeFit& b) { return a.misfit < b.misfit; });
  const auto beaten = [&](const ShapeFit& other) { return beats(survey, keep, *best, other); };
  out.best = best->shape.kind;
  out.clear = std::all_of(out.fits.begin(), out.fits.end(), [&](const ShapeFit& fit) { return &fit == &*best || beaten(fit); });
  for (const ShapeKind kind : {ShapeKind::paraboloid, expected}) {
    if (!beaten(out.of(kind))) out.best = kind;
  }
  return out;
}

FitFigures fit_figures(const ShapeFit& fit) {
  const PlacedShape& shape = fit.shape;
  const double share = shape.kind == ShapeKind::sphere ? 0.5 : 1;
  FitFigures out;
  out.focal_length = with_error(shape.focal_length(), share * share * fit.covariance(0, 0), "m");
  const double f = out.focal_length.value;
  const Vector3 focus = shape.from_own(Vector3(0, 0, f)), axis = shape.axis();
  // How vertex, focus, axis and meeting point move with the numbers of the fit.
  Eigen::Matrix<double, 3, fit_numbers> of_vertex = Eigen::Matrix<double, 3, fit_numbers>::Zero(), of_axis = of_vertex;
  of_vertex.block<3, 3>(0, 1) = shape.turn;
  of_axis.col(4) = -shape.turn.col(1);
  of_axis.col(5) = shape.turn.col(0);
  Eigen::Matrix<double, 3, fit_numbers> of_focus = of_vertex + f * of_axis;
  of_focus.col(0) += share * axis;
  const Eigen::Matrix<double, 3, fit_numbers> of_meeting = of_vertex + 2 * f * of_axis;
  const auto variance = [&](const Eigen::Matrix<double, 3, fit_numbers>& slopes, int i) {
    return (slopes.row(i) * fit.covariance * slopes.row(i).transpose()).value();
  };
  for (int i = 0; i < 3; ++i) {
    const auto at = static_cast<std::size_t>(i);
    out.vertex[at] = with_error(shape.vertex[i], variance(of_vertex, i), "m");
    out.focus[at] = with_error(focus[i], variance(of_focus, i), "m");
    if (i < 2) out.meeting[at] = with_error(shape.vertex[i] + 2 * f * axis[i], variance(of_meeting, i), "m");
  }
  const double lean = axis.head<2>().norm();
  const Eigen::Vector2d toward = lean > 1e-12 ? Eigen::Vector2d(axis.head<2>() / lean) : Eigen::Vector2d(1, 0);
  const Eigen::Matrix<double, 1, fit_numbers> of_tilt = toward.transpose() * of_axis.topRows<2>();
  const double lean_variance = (of_tilt * fit.covariance * of_tilt.transpose()).value();
  out.tilt = with_error(std::atan2(std::sqrt(std::max(0.0, lean * lean - lean_variance)), axis.z()), lean_variance, "rad");
  out.tilt_direction = std::atan2(axis.y(), axis.x());
  return out;
}

double height_at(const PlacedShape& shape, double x, double y) {
  // Along the readings' z, the crossing nearest to the height over the same place of the own frame.
  if (shape.kind == ShapeKind::meant) {
    double height = 0, slope_x = 0, slope_y = 0;
    meant_heights(shape, 1, &x, &y, &height, &slope_x, &slope_y);
    return height;
  }
  const Vector3 own = shape.to_own(Vector3(x, y, 0)), up = shape.turn.row(2).transpose();
  const Quadric<double> quadric = own_quadric(shape.kind, shape.size);
  const double guess = (own_height(shape.kind, shape.size, own.x(), own.y()) - own.z()) / up.z();
  return root_near(ray_equation(quadric, own.x(), own.y(), own.z(), up.x(), up.y(), up.z()), guess);
}

}  // namespace dishwright
