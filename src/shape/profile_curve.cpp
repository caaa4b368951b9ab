// SPDX-License-Identifier: MIT
#include "shape/profile_curve.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace dishwright {

namespace {

using Numbers = std::vector<double>;

/// A row below·m[i−1] + middle·m[i] + above·m[i+1] = right.
struct Row {
  double below = 0, middle = 0, above = 0, right = 0;
};

/// Slopes of the spline at its points. Unknown slopes m, steps h, rises d = Δy/h; inside, the second derivative is continuous:
///   h[i] m[i−1] + 2 (h[i−1] + h[i]) m[i] + h[i−1] m[i+1] = 3 (h[i] d[i−1] + h[i−1] d[i]).
/// Elimination without exchange of rows is sound for these end rows (de Boor, ch. IV, program CUBSPL).
Numbers fair_slopes(const Numbers& h, const Numbers& d, bool axis_at_start) {
  const std::size_t n = h.size();  // points 0 … n
  std::vector<Row> rows(n + 1);
  const double first = h[0] + h[1], last = h[n - 1] + h[n - 2];
  rows[0] =
      axis_at_start ? Row{0, 1, 0, 0} : Row{0, h[1], first, ((h[0] + 2 * first) * h[1] * d[0] + h[0] * h[0] * d[1]) / first};
  for (std::size_t i = 1; i < n; ++i) {
    rows[i] = {h[i], 2 * (h[i - 1] + h[i]), h[i - 1], 3 * (h[i] * d[i - 1] + h[i - 1] * d[i])};
  }
  rows[n] = {last, h[n - 2], 0, (h[n - 1] * h[n - 1] * d[n - 2] + (2 * last + h[n - 1]) * h[n - 2] * d[n - 1]) / last};
  for (std::size_t i = 1; i <= n; ++i) {
    const double share = rows[i].below / rows[i - 1].middle;
    rows[i].middle -= share * rows[i - 1].above;
    rows[i].right -= share * rows[i - 1].right;
  }
  Numbers slopes(n + 1);
  for (std::size_t i = n + 1; i-- > 0;) {
    const double above = i < n ? rows[i].above * slopes[i + 1] : 0;
    slopes[i] = (rows[i].right - above) / rows[i].middle;
  }
  return slopes;
}

/// Through three points without an axis both not-a-knot rows say the same: the spline is one parabola.
Numbers parabola_slopes(const Numbers& h, const Numbers& d) {
  const double bend = (d[1] - d[0]) / (h[0] + h[1]);  // half the second derivative
  return {d[0] - bend * h[0], d[0] + bend * h[0], d[1] + bend * h[1]};
}

/// The lowest and highest of one span: its ends, and places without slope between them.
std::pair<double, double> extremes(const ProfileCurve::Span& span) {
  const double length = span.to - span.from;
  double low = std::min(span.c0, span.height(span.to)), high = std::max(span.c0, span.height(span.to));
  const double root = 4 * span.c2 * span.c2 - 12 * span.c1 * span.c3;
  if (root < 0) return {low, high};
  const double q = -(2 * span.c2 + std::copysign(std::sqrt(root), span.c2)) / 2;  // c1 + 2 c2 s + 3 c3 s² = 0
  for (const double s : {q / (3 * span.c3), span.c1 / q}) {
    if (!(s > 0 && s < length)) continue;
    low = std::min(low, span.height(span.from + s));
    high = std::max(high, span.height(span.from + s));
  }
  return {low, high};
}

}  // namespace

ProfileCurve::ProfileCurve(Numbers places, Numbers heights, CurveKind kind, bool axis_at_start) : kind_(kind) {
  if (places.size() < 3 || heights.size() != places.size()) throw std::logic_error("a profile needs at least 3 points");
  const std::size_t n = places.size() - 1;
  Numbers h(n), d(n);
  for (std::size_t i = 0; i < n; ++i) {
    h[i] = places[i + 1] - places[i];
    d[i] = (heights[i + 1] - heights[i]) / h[i];
    if (!(h[i] > 0)) throw std::logic_error("the places of a profile must increase");
  }
  Numbers slopes;
  if (kind == CurveKind::fair) slopes = n == 2 && !axis_at_start ? parabola_slopes(h, d) : fair_slopes(h, d, axis_at_start);
  for (std::size_t i = 0; i < n; ++i) {
    Span span{places[i], places[i + 1], heights[i], d[i], 0, 0};
    if (kind == CurveKind::fair) {
      span.c1 = slopes[i];
      span.c2 = (3 * d[i] - 2 * slopes[i] - slopes[i + 1]) / h[i];
      span.c3 = (slopes[i] + slopes[i + 1] - 2 * d[i]) / (h[i] * h[i]);
    }
    const auto [low, high] = extremes(span);
    lowest_ = i == 0 ? low : std::min(lowest_, low);
    highest_ = i == 0 ? high : std::max(highest_, high);
    spans_.push_back(span);
  }
}

ProfileCurve ProfileCurve::mirrored(const Numbers& places, const Numbers& heights, CurveKind kind) {
  ProfileCurve curve(places, heights, kind, true);
  // The image of a span about x = 0, written from its own left end: with L its length, s = L − t.
  std::vector<Span> all;
  for (auto span = curve.spans_.rbegin(); span != curve.spans_.rend(); ++span) {
    const double length = span->to - span->from;
    all.push_back(
        {-span->to, -span->from, span->height(span->to), -span->slope(span->to), span->c2 + 3 * span->c3 * length, -span->c3});
  }
  all.insert(all.end(), curve.spans_.begin(), curve.spans_.end());
  curve.spans_ = std::move(all);
  return curve;
}

const ProfileCurve::Span& ProfileCurve::span_at(double x) const {
  const auto after =
      std::upper_bound(spans_.begin(), spans_.end(), x, [](double value, const Span& span) { return value < span.from; });
  return after == spans_.begin() ? spans_.front() : *(after - 1);
}

double ProfileCurve::height(double x) const { return span_at(x).height(x); }

double ProfileCurve::slope(double x) const { return span_at(x).slope(x); }

}  // namespace dishwright
