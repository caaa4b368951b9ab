// SPDX-License-Identifier: MIT
#include "survey/hidden.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "survey/median.h"
#include "survey/pieces.h"
#include "survey/repeats.h"

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

/// Readings by their distance from the middle; those within `near` of the first of a ring belong to it.
std::vector<HiddenRing> rings_of(const SurveyPoints& survey, const std::vector<char>& keep, double near, std::size_t& on_rings) {
  std::vector<std::pair<double, double>> places;  // radius, angle
  for (std::size_t i = 0; i < keep.size(); ++i) {
    const Vector3& p = survey.points[i];
    if (keep[i] != 0 && p.head<2>().norm() > near) places.emplace_back(p.head<2>().norm(), std::atan2(p.y(), p.x()));
  }
  std::sort(places.begin(), places.end());
  std::vector<HiddenRing> out;
  for (const auto& [radius, angle] : places) {
    if (out.empty() || radius - out.back().radius > near) out.push_back({radius, {}, 0, 0});
    out.back().angles.push_back(angle);
  }
  constexpr std::size_t fewest = 4;
  out.erase(std::remove_if(out.begin(), out.end(), [](const HiddenRing& r) { return r.angles.size() < fewest; }), out.end());
  on_rings = 0;
  for (const HiddenRing& ring : out) on_rings += ring.angles.size();
  return out;
}

/// Rings of a survey stand apart alike; the circles through the places of a grid crowd toward its edge.
bool are_rings(const std::vector<HiddenRing>& rings) {
  constexpr double alike = 0.3;
  std::vector<double> steps;
  for (std::size_t k = 0; k < rings.size(); ++k) steps.push_back(rings[k].radius - (k == 0 ? 0 : rings[k - 1].radius));
  if (steps.empty()) return false;
  return *std::min_element(steps.begin(), steps.end()) >= alike * median(steps);
}

/// Mean square of what a smooth surface leaves of the readings on a ring [m²].
double left_over(const SurveyPoints& survey, const SlopeMap& map, double radius, double near) {
  double sum = 0, count = 0;
  for (std::size_t i = 0; i < map.samples.size(); ++i) {
    if (std::abs(survey.points[map.samples[i].first].head<2>().norm() - radius) > 2 * near) continue;
    sum += std::pow(map.samples[i].residual - map.points[i].value, 2), ++count;
  }
  return count > 0 ? sum / count : 0;
}

/// A ring that leaves far more than its readings' noise has waves of that size, too short to be followed: 2√2 of its rms from
/// trough to crest.
void raise_rough_rings(std::vector<HiddenRing>& rings, const SurveyPoints& survey, const SlopeMap& map, double near) {
  constexpr double far_more = 3;
  std::vector<double> squares;
  squares.reserve(rings.size());
  for (const HiddenRing& ring : rings) squares.push_back(left_over(survey, map, ring.radius, near));
  if (squares.empty()) return;
  // Hasty readings scatter by more than the rule's marks make, on all rings alike.
  constexpr double hasty = 4;
  const double least = survey.least_noise() * survey.least_noise(), middle = median(squares);
  const double noise = least <= 0 || (middle > least && middle < hasty * least) ? middle : least;
  for (std::size_t k = 0; k < rings.size(); ++k) {
    if (squares[k] > far_more * noise) rings[k].height = std::max(rings[k].height, std::sqrt(8 * (squares[k] - noise)));
  }
}

/// The largest angle between neighbours of a ring, made round [rad].
double widest(const std::vector<double>& angles) {
  double out = angles.front() + turn - angles.back();
  for (std::size_t k = 1; k < angles.size(); ++k) out = std::max(out, angles[k] - angles[k - 1]);
  return out;
}

class WithHiddenWaves : public HeightSurface {
 public:
  WithHiddenWaves(Heights measured, std::vector<HiddenRing> rings, double focal_length, std::optional<std::size_t> only,
                  bool lower)
      : measured_(std::move(measured)),
        rings_(std::move(rings)),
        bend_(1 / (4 * focal_length)),
        side_(lower ? -1 : 1),
        only_(only) {}

  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override {
    measured_->heights(n, x, y, h, slope_x, slope_y);
    for (int i = 0; i < n; ++i) {
      const double r = std::hypot(x[i], y[i]);
      if (!(r > 1e-9)) continue;
      const Wave wave = wave_at(r, std::atan2(y[i], x[i]));
      h[i] += wave.height;
      slope_x[i] += wave.outward * x[i] / r - wave.round * y[i] / r;
      slope_y[i] += wave.outward * y[i] / r + wave.round * x[i] / r;
    }
  }

 private:
  struct Wave {
    double height = 0, outward = 0, round = 0;  // and its slopes along the radius and along the ring
  };

  /// Ring k as if it were alone: r² a b/(4 f), a and b the angles to the readings on both sides.
  Wave alone(std::size_t k, double r, double angle) const {
    const std::vector<double>& angles = rings_[k].angles;
    const auto next = std::upper_bound(angles.begin(), angles.end(), angle);
    const double from = next == angles.begin() ? angles.back() - turn : *(next - 1),
                 to = next == angles.end() ? angles.front() + turn : *next, a = angle - from, b = to - angle;
    const double flat = bend_ * rings_[k].gap * rings_[k].gap / 4, bend = side_ * bend_ * rings_[k].height / flat;
    return {bend * r * r * a * b, 2 * bend * r * a * b, bend * r * (b - a)};
  }

  /// Weight of ring k at r and its derivative: 1 at the ring, cos² down to its neighbours; the outermost goes on to the rim.
  std::pair<double, double> weight(std::size_t k, double r) const {
    const double at = rings_[k].radius;
    const bool inward = r < at;
    if (!inward && k + 1 == rings_.size()) return {1, 0};
    const double other = inward ? (k == 0 ? 0 : rings_[k - 1].radius) : rings_[k + 1].radius, way = std::abs(other - at);
    const double share = std::abs(r - at) / way;
    if (share >= 1) return {0, 0};
    const double angle = std::numbers::pi / 2 * share;
    return {std::cos(angle) * std::cos(angle), (inward ? 1 : -1) * std::numbers::pi / (2 * way) * std::sin(2 * angle)};
  }

  Wave wave_at(double r, double angle) const {
    Wave sum;
    for (std::size_t k = 0; k < rings_.size(); ++k) {
      if (only_ && *only_ != k) continue;
      const auto [share, growth] = weight(k, r);
      if (share <= 0) continue;
      const Wave one = alone(k, r, angle);
      sum.height += share * one.height;
      sum.outward += share * one.outward + growth * one.height;
      sum.round += share * one.round;
    }
    return sum;
  }

  Heights measured_;
  std::vector<HiddenRing> rings_;
  double bend_, side_;
  std::optional<std::size_t> only_;
};

/// How far a skin that is flat from reading to reading stands off the shape half way between, at the largest gap [m].
double flat_height(const PlacedShape& shape, const HiddenRing& ring) {
  if (shape.has_focus()) return ring.gap * ring.gap / (16 * shape.focal_length());
  const double half = std::asin(std::min(1.0, ring.gap / (2 * ring.radius)));
  // From the one reading straight to the other, in the shape's own frame; it is alike all round.
  const double at = own_height(shape, ring.radius, 0), between = own_height(shape, ring.radius * std::cos(half), 0);
  return std::abs(at - between);
}

}  // namespace

Hidden hidden_between(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit, const SlopeMap& map) {
  Hidden out;
  const double f = fit.shape.focal_length();
  const auto kept = static_cast<std::size_t>(std::count(keep.begin(), keep.end(), 1));
  double reach = 0;
  for (const SurveySample& sample : map.samples) reach = std::max(reach, sample.place.norm());
  std::size_t on_rings = 0;
  if (survey.under_rim && fit.shape.round() && kept <= most_samples)
    out.rings = rings_of(survey, keep, same_place(2 * reach, kept), on_rings);
  if (10 * (on_rings + 1) < 9 * kept || !are_rings(out.rings)) out.rings.clear();
  double square = 0, area = 0;
  for (HiddenRing& ring : out.rings) {
    std::sort(ring.angles.begin(), ring.angles.end());
    ring.gap = 2 * ring.radius * std::sin(std::min(widest(ring.angles), std::numbers::pi) / 2);
    ring.pieces_shown = fit.shape.kind == ShapeKind::meant && shows_pieces(*fit.shape.meant, ring.angles);
    ring.height = ring.pieces_shown ? 0 : flat_height(fit.shape, ring);
  }
  raise_rough_rings(out.rings, survey, map, same_place(2 * reach, kept));
  for (const HiddenRing& ring : out.rings) {
    // A parabola of height h over its ends has the rms 2 h/√45 about its mean.
    const double band = ring.radius;
    square += band * ring.height * ring.height * 4 / 45, area += band;
  }
  if (out.rings.empty()) {
    constexpr double flat = 3.4641016151377544;  // √12
    out.gap = map.gap;
    out.slope = out.gap / std::numbers::sqrt2 / (flat * 2 * f);
    // A square of side s, flat on a bowl: the sag x²/(4 f) + y²/(4 f) has the rms s²/(4 f) √(2/180).
    square = std::pow(out.gap * out.gap / (8 * f), 2) / 90, area = 1;
  }
  out.half_path_rms = std::sqrt(square / area);
  return out;
}

Heights with_hidden_waves(const Heights& measured, const Hidden& hidden, double focal_length, std::optional<std::size_t> only,
                          bool lower) {
  return std::make_shared<const WithHiddenWaves>(measured, hidden.rings, focal_length, only, lower);
}

}  // namespace dishwright
