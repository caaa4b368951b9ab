// SPDX-License-Identifier: MIT
#include "survey/shape_claims.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace dishwright {

namespace {

constexpr double clear_by = 6;  // as in fit_all

/// From the lowest to the highest kept reading [m].
double depth_of(const SurveyPoints& survey, const std::vector<char>& keep) {
  double low = 1e300, high = -1e300;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] != 0) low = std::min(low, survey.points[i].z()), high = std::max(high, survey.points[i].z());
  }
  return std::max(high - low, 1e-9);
}

/// Readings of the shape at the places of the survey: lifted by a share of a step, scattered, rounded.
SurveyPoints read_again(const SurveyPoints& survey, const PlacedShape& shape, double lift, double scatter, unsigned number) {
  std::mt19937_64 random(0xd15e0000U + number);
  const auto even = [&random] { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; };
  SurveyPoints out = survey;
  for (Vector3& point : out.points) {
    const double noise = scatter > 0 ? scatter * std::sqrt(-2 * std::log(even())) * std::cos(2 * std::numbers::pi * even()) : 0;
    point.z() = std::round((height_at(shape, point.x(), point.y()) + noise) / survey.step + lift) * survey.step;
  }
  return out;
}

}  // namespace

bool rounding_explains(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& worse, const ShapeFit& better) {
  const double count = better.kept, seen = worse.misfit - better.misfit, rounding = survey.rounding_noise();
  const double scale = std::min(better.scale, worse.scale);
  // Where the readings scatter by twice as much as rounding makes, their errors are as good as independent. Rounding never
  // doubles what is left over; nor does it hide shapes that differ by several steps.
  if (!survey.under_rim || survey.skin > 0 || rounding <= 0 || scale > 2 * std::sqrt(rounding)) return false;
  if (seen > count * std::log(4.0) || worse.scale > 3 * survey.step) return false;
  const double scatter = std::sqrt(std::max(0.0, scale * scale - rounding)), depth = depth_of(survey, keep);
  constexpr double most = 200, fewest = 4, one_draw = 12000;
  const int draws = static_cast<int>(std::clamp(one_draw / std::max(1.0, count), fewest, most));
  for (int draw = 0; draw < draws; ++draw) {
    // Lift and focal length go through all that a step allows, evenly. Every other draw is of rounding alone, for by luck that
    // makes a little more than step/√12.
    PlacedShape truth = worse.shape;
    const double along = (draw + 0.5) / draws, spread = std::fmod(0.6180339887 * (draw + 0.5), 1.0) - 0.5;
    truth.size *= 1 + 2 * spread * std::min(0.1, survey.step / depth);
    const SurveyPoints again = read_again(survey, truth, along, draw % 2 == 0 ? 0 : scatter, static_cast<unsigned>(draw));
    if (!std::all_of(again.points.begin(), again.points.end(), [](const Vector3& p) { return p.allFinite(); })) return false;
    const double difference = fit_like(again, keep, worse.shape).misfit - fit_like(again, keep, better.shape).misfit;
    // A few hundred draws do not meet the rarest falls of the marks: twice their difference is allowed.
    if (2 * std::max(0.0, difference) + clear_by >= seen) return true;
  }
  return false;
}

}  // namespace dishwright
