// SPDX-License-Identifier: MIT
#include "survey/start.h"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "base/error.h"
#include "survey/bowl.h"
#include "survey/median.h"
#include "survey/solvers.h"

namespace dishwright {

namespace {

/// At most this many points, evenly picked, are looked at: a guess needs no more.
constexpr std::size_t enough = 20000;

std::vector<Vector3> some_points(const SurveyPoints& survey, const std::vector<char>& keep) {
  const std::size_t kept = static_cast<std::size_t>(std::count_if(keep.begin(), keep.end(), [](char k) { return k != 0; }));
  const std::size_t stride = std::max<std::size_t>(1, kept / enough);
  std::vector<Vector3> out;
  std::size_t seen = 0;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] != 0 && seen++ % stride == 0) out.push_back(survey.points[i]);
  }
  return out;
}

/// Without points that lie more than ten times as far from the middle as half of them do: no frame is laid by a slip of the pen.
std::vector<Vector3> without_strays(const std::vector<Vector3>& points) {
  constexpr double far_out = 10;
  Vector3 middle;
  for (int axis = 0; axis < 3; ++axis) {
    std::vector<double> values;
    values.reserve(points.size());
    for (const Vector3& p : points) values.push_back(p[axis]);
    middle[axis] = median(std::move(values));
  }
  std::vector<double> away;
  away.reserve(points.size());
  for (const Vector3& p : points) away.push_back((p - middle).norm());
  const double most = far_out * median(away);
  std::vector<Vector3> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (away[i] <= most) out.push_back(points[i]);
  }
  return out;
}

[[noreturn]] void refuse(const std::string& what, const std::string& why, const std::string& fix) {
  throw InputError(what, why, fix);
}

/// Directions of largest, middle and least spread (columns), and the spreads (standard deviations) [m].
struct Spread {
  Vector3 middle;
  Matrix3 directions;
  Vector3 sizes;
};

Spread spread_of(const std::vector<Vector3>& points) {
  Spread out;
  out.middle = Vector3::Zero();
  for (const Vector3& p : points) out.middle += p / static_cast<double>(points.size());
  Matrix3 moments = Matrix3::Zero();
  for (const Vector3& p : points) moments += (p - out.middle) * (p - out.middle).transpose() / static_cast<double>(points.size());
  const Spectrum<3> own = spectrum<3>(moments);
  out.directions = own.vectors.rowwise().reverse();
  out.sizes = own.values.reverse().cwiseMax(0).cwiseSqrt();
  return out;
}

/// The points seen in a frame that puts their middle at the origin and their flattest direction along z.
std::vector<Vector3> in_frame(const std::vector<Vector3>& points, const Vector3& middle, const Matrix3& axes) {
  std::vector<Vector3> out;
  out.reserve(points.size());
  for (const Vector3& p : points) out.emplace_back(axes.transpose() * (p - middle));
  return out;
}

/// Right-handed axes with the given z; x stays as near to the readings' x as it can.
Matrix3 axes_about(const Vector3& z) {
  Vector3 x = Vector3(1, 0, 0) - z.x() * z;
  if (x.norm() < 0.1) x = Vector3(0, 1, 0) - z.y() * z;
  Matrix3 out;
  out.col(0) = x.normalized();
  out.col(2) = z;
  out.col(1) = out.col(2).cross(out.col(0));
  return out;
}

/// Smaller over larger spread of the places in x and y.
double places_ratio(const std::vector<Vector3>& points, const Vector3& middle) {
  Eigen::Matrix2d moments = Eigen::Matrix2d::Zero();
  for (const Vector3& p : points) moments += (p - middle).head<2>() * (p - middle).head<2>().transpose();
  const Spectrum<2> own = spectrum<2>(moments);
  return std::sqrt(std::max(0.0, own.values[0]) / std::max(own.values[1], 1e-300));
}

double mean_miss(const Bowl& bowl) {
  double sum = 0;
  for (const double miss : bowl.misses) sum += std::abs(miss);
  return sum / static_cast<double>(bowl.misses.size());
}

PlacedShape bowl_shape(const Bowl& bowl, ShapeKind kind, const Vector3& middle, Matrix3 axes, double reach) {
  Eigen::Matrix2d bend;
  bend << 2 * bowl.terms[3], bowl.terms[4], bowl.terms[4], 2 * bowl.terms[5];
  bend /= reach * reach;
  const Spectrum<2> own = spectrum<2>(bend);
  const double least_bend = 1e-4 / reach;
  PlacedShape shape;
  shape.kind = kind;
  Eigen::Vector2d lean = bowl.terms.segment<2>(1) / reach;
  if (kind == ShapeKind::trough) {
    // Across is the direction of the strongest bend.
    const Eigen::Vector2d across = own.vectors.col(1);
    Matrix3 heading = Matrix3::Identity();
    heading.col(0).head<2>() = across;
    heading.col(1).head<2>() = Eigen::Vector2d(-across.y(), across.x());
    axes = axes * heading;
    lean = Eigen::Vector2d(lean.dot(across), heading.col(1).head<2>().dot(lean));
  }
  const double curve = kind == ShapeKind::trough ? own.values[1] : own.values.mean();
  const double radius = 1 / std::max(curve, least_bend);
  shape.size = kind == ShapeKind::sphere ? radius : radius / 2;
  // The vertex is where the slope is zero, as far as that lies within reach; the shape starts untilted.
  Eigen::Vector2d foot = -lean * radius;
  if (kind == ShapeKind::trough) foot.y() = 0;
  if (foot.norm() > reach) foot *= reach / foot.norm();
  shape.turn = axes;
  shape.vertex = middle + axes * Vector3(foot.x(), foot.y(), bowl.terms[0] - foot.squaredNorm() / (2 * radius));
  return shape;
}

}  // namespace

BowlFrame bowl_frame(const SurveyPoints& survey, const std::vector<char>& keep) {
  const std::vector<Vector3> points = without_strays(some_points(survey, keep));
  if (points.size() < 10) {
    refuse(fmt::format("there are only {} readings to fit", points.size()),
           "a curved shape and its tilt need at least 10, spread over the whole dish",
           "read three rings of four places and the middle, or more");
  }
  BowlFrame best;
  const Spread spread = spread_of(points);
  best.middle = spread.middle;
  best.reach = 2 * spread.sizes[0];
  // Depths under a rim are judged by their places; a cloud lies in any position.
  const double broad = survey.under_rim ? places_ratio(points, spread.middle) : spread.sizes[1] / spread.sizes[0];
  if (!(best.reach > 0) || !(broad >= 1e-3)) {
    refuse("all the points lie on one straight line", "one line says nothing of the shape across it",
           "read along at least three lines through the middle");
  }
  std::vector<Vector3> ups = {spread.directions.col(2)};
  if (survey.under_rim) ups = {Vector3(0, 0, 1)};
  if (!survey.under_rim) ups.emplace_back(0, 0, 1);
  double best_miss = -1;
  for (const Vector3& up : ups) {
    Matrix3 axes = axes_about(up);
    std::vector<Vector3> local = in_frame(points, spread.middle, axes);
    Bowl bowl = least_deviations(local, best.reach, 1e-4 * best.reach);
    if (!(bowl.condition >= 1e-8)) continue;
    const bool upside_down = bowl.terms[3] + bowl.terms[5] < 0;
    if (upside_down && !survey.under_rim) {
      axes = axes_about(-up);
      local = in_frame(points, spread.middle, axes);
      bowl = least_deviations(local, best.reach, 1e-4 * best.reach);
    }
    if (best_miss >= 0 && mean_miss(bowl) >= best_miss) continue;
    best_miss = mean_miss(bowl);
    best.axes = axes, best.bowl = std::move(bowl), best.local = std::move(local);
  }
  if (best_miss < 0) {
    refuse("all the points lie on two lines or on one circle", "many different shapes pass through them",
           "read more places: some near the middle, some half way, some near the rim");
  }
  return best;
}

PlacedShape first_guess(const BowlFrame& frame, ShapeKind kind) {
  return bowl_shape(frame.bowl, kind, frame.middle, frame.axes, frame.reach);
}

PlacedShape first_guess(const SurveyPoints& survey, const std::vector<char>& keep, ShapeKind kind) {
  return first_guess(bowl_frame(survey, keep), kind);
}

}  // namespace dishwright
