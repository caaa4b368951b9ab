// SPDX-License-Identifier: MIT
#include "survey/shape_claims.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace dishwright {

namespace {

constexpr double clear_by = 6;  // as in fit_all

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
  // Rounding never doubles what is left over; nor does it hide shapes that differ by several steps.
  if (!survey.under_rim || survey.skin > 0 || rounding <= 0 || seen > count * std::log(4.0) || worse.scale > 3 * survey.step)
    return false;
  const double scatter =
      std::sqrt(std::max(0.0, std::min(better.scale, worse.scale) * std::min(better.scale, worse.scale) - rounding));
  constexpr int most = 40, fewest = 4;
  const int draws = std::clamp(static_cast<int>(12000 / std::max(1.0, count)), fewest, most);
  for (int draw = 0; draw < draws; ++draw) {
    const SurveyPoints again = read_again(survey, worse.shape, (draw + 0.5) / draws, scatter, static_cast<unsigned>(draw));
    if (!std::all_of(again.points.begin(), again.points.end(), [](const Vector3& p) { return p.allFinite(); })) return false;
    const double difference = fit_shape(again, keep, worse.shape.kind).misfit - fit_shape(again, keep, better.shape.kind).misfit;
    if (difference + clear_by >= seen) return true;
  }
  return false;
}

}  // namespace dishwright
