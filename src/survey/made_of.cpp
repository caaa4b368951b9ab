// SPDX-License-Identifier: MIT
#include "survey/made_of.h"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "shape/petals.h"
#include "shape/pressed.h"
#include "survey/pieces.h"
#include "survey/solvers.h"

namespace dishwright {

namespace {

using std::numbers::pi;

/// What is left over of the paraboloid as heights over the places of its own frame.
struct LeftOver {
  std::vector<Eigen::Vector2d> places;  // [m]
  std::vector<double> heights;          // [m]
  double reach = 1e-9;                  // of the places [m]
};

LeftOver left_over(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& round) {
  LeftOver out;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    const FootPoint foot = nearest_foot(round.shape, round.shape.to_own(survey.points[i]));
    // About the middle of the rim, where petals meet.
    out.places.emplace_back(survey.points[i].head<2>());
    out.heights.push_back(round.residuals[i] / foot.normal.z());
    out.reach = std::max(out.reach, out.places.back().norm());
  }
  return out;
}

struct Harmonic {
  int count = 0;
  double size = 0, phase = 0;  // of size · r² cos(count (φ − phase)) [1/m], [rad]
  double explained = 0;        // of the sum of squares [m²]
};

/// Least squares of a level part, an r² part and the N-fold part. Where seams and middles alone were read the sine has no
/// weight, and stays 0.
Harmonic harmonic(const LeftOver& left, int count) {
  Eigen::Matrix4d normal = Eigen::Matrix4d::Zero();
  Eigen::Vector4d right = Eigen::Vector4d::Zero();
  for (std::size_t i = 0; i < left.places.size(); ++i) {
    const Eigen::Vector2d at = left.places[i] / left.reach;
    const double r2 = at.squaredNorm(), turn = count * std::atan2(at.y(), at.x());
    const Eigen::Vector4d row(1, r2, r2 * std::cos(turn), r2 * std::sin(turn));
    normal += row * row.transpose(), right += left.heights[i] * row;
  }
  const double n = static_cast<double>(left.places.size());
  for (int k = 2; k < 4; ++k) normal(k, k) += 1e-3 * n;
  const Eigen::Vector4d terms = solved(normal, right);
  Harmonic out{count, terms.tail<2>().norm() / (left.reach * left.reach), std::atan2(terms[3], terms[2]) / count, 0};
  out.explained = terms.tail<2>().dot(right.tail<2>());
  return out;
}

Meant petals_of(int count, double phase, double focal_length, double width) {
  auto out = std::make_shared<MeantSurface>();
  const Petals petals{focal_length, width, count, false, 0};
  out->key = "petals", out->word = fmt::format("a dish of {} flat petals", count);
  out->heights = heights_from([petals, s = std::sin(phase), c = std::cos(phase)](double x, double y) {
    const double u = c * x + s * y, v = c * y - s * x;
    const Vector3 normal = petal_normal(petals, u, v);
    const double slope_u = -normal.x() / normal.z(), slope_v = -normal.y() / normal.z();
    return HeightAt{petal_height(petals, u, v), c * slope_u - s * slope_v, s * slope_u + c * slope_v};
  });
  out->plan = ring(width, 0);
  out->focal_length = out->size = focal_length;
  out->pieces = count, out->first_piece = phase, out->found = true;
  return out;
}

/// The r⁴ part of what is left over, by least squares beside a level and an r² part [1/m³].
double quartic(const LeftOver& left) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  for (std::size_t i = 0; i < left.places.size(); ++i) {
    const double r2 = (left.places[i] / left.reach).squaredNorm();
    const Eigen::Vector3d row(1, r2, r2 * r2);
    normal += row * row.transpose(), right += left.heights[i] * row;
  }
  return solved(normal, right)[2] / std::pow(left.reach, 4);
}

}  // namespace

double petal_harmonic(int count) {
  // (count/π) ∫ cos²φ cos(count φ) dφ from −π/count to π/count.
  const double half = pi / count, n = count;
  const auto part = [half](double k) { return k == 0 ? 2 * half : 2 * std::sin(k * half) / k; };
  return n / pi * (part(n) / 2 + (part(n + 2) + part(n - 2)) / 4);
}

std::optional<ShapeFit> flat_petals(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& round) {
  constexpr int fewest = 5, most = 32;
  constexpr double least_share = 0.5, most_share = 2;
  if (!survey.under_rim || survey.skin > 0 || round.kept > 20000) return std::nullopt;
  const LeftOver left = left_over(survey, keep, round);
  std::vector<Harmonic> found;
  for (int count = fewest; count <= most; ++count) {
    const Harmonic one = harmonic(left, count);
    const double expected = petal_harmonic(count) / (4 * round.shape.size);
    if (one.size > least_share * expected && one.size < most_share * expected) found.push_back(one);
  }
  std::sort(found.begin(), found.end(), [](const Harmonic& a, const Harmonic& b) { return a.explained > b.explained; });
  // The best three are tried. Readings coarser than the petals would take one number for another.
  constexpr std::size_t tries = 3;
  if (found.size() > tries) found.resize(tries);
  std::vector<double> angles;
  for (const Eigen::Vector2d& at : left.places) {
    if (at.norm() > left.reach / 2) angles.push_back(std::atan2(at.y(), at.x()));
  }
  std::optional<ShapeFit> best;
  for (const Harmonic& one : found) {
    const Meant petals = petals_of(one.count, one.phase, round.shape.size, 2.1 * left.reach);
    if (!shows_pieces(*petals, angles)) continue;
    ShapeFit fit = fit_meant(survey, keep, petals);
    fit.numbers += 2;
    if (!best || fit.misfit < best->misfit) best = std::move(fit);
  }
  return best && beats(survey, keep, *best, round) ? best : std::nullopt;
}

std::optional<ShapeFit> pressed_sheet(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& round) {
  if (!survey.under_rim || round.kept > 20000) return std::nullopt;
  const LeftOver left = left_over(survey, keep, round);
  const double reach = left.reach;
  // z = depth (2 r²/R² − r⁴/R⁴): the paraboloid through its rim has the focal length R²/(4 depth).
  constexpr double least_share = 0.4, most_share = 2.5;
  const double part = -quartic(left) * 4 * round.shape.size * reach * reach;
  if (part < least_share || part > most_share) return std::nullopt;
  std::optional<ShapeFit> best;
  for (const double beyond : {1.0, 1.02, 1.04, 1.07, 1.1}) {
    const double width = 2 * beyond * reach, depth = width * width / (32 * round.shape.size);
    auto sheet = std::make_shared<MeantSurface>();
    const Pressed pressed{width, depth, 0};
    sheet->key = "pressed", sheet->word = "a pressed sheet", sheet->heights = pressed.heights(), sheet->plan = ring(width, 0);
    sheet->focal_length = sheet->size = round.shape.size, sheet->found = true;
    ShapeFit fit = fit_meant(survey, keep, sheet);
    fit.numbers += 1;
    if (!best || fit.misfit < best->misfit) best = std::move(fit);
  }
  if (!best || best->rms > round.rms / 2 || !beats(survey, keep, *best, round)) return std::nullopt;
  return best;
}

}  // namespace dishwright
