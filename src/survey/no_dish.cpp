// SPDX-License-Identifier: MIT
#include "survey/no_dish.h"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "base/quantity.h"
#include "survey/median.h"
#include "survey/solvers.h"

namespace dishwright {

namespace {

constexpr double clear_by = 5;         // standard errors
constexpr double longest_focus = 200;  // widths
constexpr double steepest_lean = std::numbers::pi / 3;

std::string length(double metres) {
  const double inches = metres < 1e-7 ? 0 : metres / 0.0254, mm = 25.4 * inches;
  return mm < 10 ? fmt::format("{:.2g} in ({:.2g} mm)", inches, mm) : fmt::format("{:.3g} in ({:.0f} mm)", inches, mm);
}

/// Scatter about the quadric: root mean square of the misses, none counted as more than three robust standard deviations [m].
double scatter_of(const std::vector<double>& misses, double freedom) {
  std::vector<double> sizes;
  sizes.reserve(misses.size());
  for (const double miss : misses) sizes.push_back(std::abs(miss));
  const double robust = 3 * median(sizes) / normal_quartile;
  double sum = 0;
  for (const double size : sizes) sum += std::pow(robust > 0 ? std::min(size, robust) : size, 2);
  return std::sqrt(sum / std::max(1.0, freedom));
}

}  // namespace

Bend bend_of(const BowlFrame& frame, const SurveyPoints& survey) {
  using Normal = Eigen::Matrix<double, 6, 6>;
  Normal normal = Normal::Zero();
  Bend out;
  for (const Vector3& p : frame.local) {
    const BowlTerms row = bowl_row(p.x() / frame.reach, p.y() / frame.reach);
    normal += row * row.transpose();
    out.reach = std::max(out.reach, p.head<2>().norm());
  }
  out.freedom = static_cast<double>(frame.local.size()) - 6;
  out.scatter = std::max(scatter_of(frame.bowl.misses, out.freedom), survey.least_noise());
  BowlTerms mean = BowlTerms::Zero();
  mean[3] = mean[5] = 1;
  const double square = frame.reach * frame.reach;
  out.mean = mean.dot(frame.bowl.terms) / square;
  out.error = out.scatter * std::sqrt(mean.dot(solved(normal, mean))) / square;
  const double a = 2 * frame.bowl.terms[3], b = frame.bowl.terms[4], c = 2 * frame.bowl.terms[5];
  out.strongest = ((a + c) / 2 + std::hypot((a - c) / 2, b)) / square;
  out.sag = out.strongest * out.reach * out.reach / 2;
  return out;
}

void refuse_no_dish(const SurveyPoints& survey, const std::vector<char>& keep) {
  const Bend bend = bend_of(bowl_frame(survey, keep), survey);
  const double clear = clear_by * (1 + clear_by / std::max(1.0, bend.freedom)) * bend.error, width = 2 * bend.reach;
  const double least = std::max(survey.step, width / (8 * longest_focus * 2));
  if (survey.under_rim && bend.mean < -clear && -bend.mean * bend.reach * bend.reach / 2 > least) {
    throw InputError(
        "the readings are a dome, not a dish: the middle is the shallowest",
        "a depth is measured down from a straightedge that lies across the rim, so the middle is the deepest",
        "turn the dish over and measure inside; if these are heights above the bench, subtract each from the height of the rim");
  }
  if (bend.mean > clear && bend.sag > least) return;
  constexpr double rough = 0.03;
  if (bend.scatter > rough * width && bend.scatter > 2 * survey.least_noise()) {
    throw InputError(fmt::format("the readings fit no dish: they lie {} off the bowl that fits them best", length(bend.scatter)),
                     fmt::format("that is more than {:.0f} % of their width, {}, and hides what bowl there may be", 100 * rough,
                                 length(width)),
                     "check that x, y and depth are in their own columns and carry the right signs and units");
  }
  const double seen = std::max(0.0, bend.mean) * bend.reach * bend.reach / 2;
  throw InputError(
      "these readings are no dish: they are flat, or as good as flat",
      fmt::format("over {} across, the bowl in them is {} deep; less than {} cannot be told from a plane with these readings",
                  length(width), length(seen), length(std::max(clear * bend.reach * bend.reach / 2, least))),
      "a flat mirror has no focus: trace it with shape = \"flat\"; if this is a dish, check the column of the depths and its "
      "unit");
}

void refuse_other_shape(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  double sum = 0, squares = 0, count = 0;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    const Vector3 own = fit.shape.to_own(survey.points[i]);
    const double height = own_height(fit.shape, own.x(), own.y());
    sum += height, squares += height * height, ++count;
  }
  const double differ = std::sqrt(std::max(0.0, squares / count - std::pow(sum / count, 2)));
  constexpr double most = 0.35;
  // Far aside, or leaning far, nearly any surface can be made to pass through the readings.
  constexpr double most_aside = 0.15, most_lean = 0.26;
  const PlanOutline& plan = fit.shape.meant->plan;
  const bool astray = fit.shape.vertex.head<2>().norm() > most_aside * (plan.high_x() - plan.low_x()) ||
                      fit.shape.axis().head<2>().norm() > most_lean;
  if (!astray && std::isfinite(fit.scale) && fit.scale <= std::max(most * differ, 3 * survey.step)) return;
  if (astray)
    throw InputError(
        fmt::format("the readings are not those of {}: it would have to stand far aside or lean by {:.0f} degrees",
                    fit.shape.meant->word, std::asin(std::min(1.0, fit.shape.axis().head<2>().norm())) * 180 / std::numbers::pi),
        "its middle is the middle of the rim, and its axis is square to it",
        "name the project file of the dish that was measured; check columns, units and which way is 12 o'clock");
  throw InputError(fmt::format("the readings are not those of {}: most of them lie {} and more off it", fit.shape.meant->word,
                               length(fit.scale)),
                   fmt::format("its own heights differ by no more than {} (rms)", length(differ)),
                   "name the project file of the dish that was measured; check columns, units and which way is 12 o'clock");
}

void refuse_on_its_side(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  const PlacedShape& shape = fit.shape;
  const bool finite =
      std::isfinite(shape.size) && shape.vertex.allFinite() && shape.turn.allFinite() && fit.covariance.allFinite();
  const double lean = std::acos(std::clamp(shape.axis().z(), -1.0, 1.0));
  Eigen::Matrix2d moments = Eigen::Matrix2d::Zero();
  Eigen::Vector2d middle = Eigen::Vector2d::Zero();
  double count = 0;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    const Eigen::Vector2d at = shape.to_own(survey.points[i]).head<2>();
    middle += at, moments += at * at.transpose(), ++count;
  }
  moments -= middle * middle.transpose() / std::max(1.0, count);
  const Column<2> values = spectrum<2>(moments).values;
  const bool thin = !(values[0] > 1e-6 * values[1]);
  const bool lying = survey.under_rim && shape.kind != ShapeKind::sphere && lean > steepest_lean;
  if (finite && !lying && !thin) return;
  throw InputError(finite && lying
                       ? fmt::format("the readings fit a bowl on its side: its axis leans {:.0f} degrees from square to the rim",
                                     lean * 180 / std::numbers::pi)
                       : std::string("the readings fit no bowl that light could fall into"),
                   "depths are read square to the rim, so the axis of a dish is within 60 degrees of them",
                   "check that x, y and depth are in their own columns and carry the right signs and units");
}

}  // namespace dishwright
