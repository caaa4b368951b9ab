// SPDX-License-Identifier: MIT
// A curve through measured or drawn points.
#pragma once

#include <vector>

namespace dishwright {

enum class CurveKind {
  fair,     ///< a smooth curve: cubic spline
  straight  ///< straight from point to point
};

/// Height over place; the place is the radius of a dish, or x across a trough. Between neighbouring points the height is a cubic.
///
/// fair: the cubic spline with continuous second derivative (de Boor, A Practical Guide to Splines, ch. IV). At the axis, where
/// there is one, the slope is 0; at a free end the third derivative is continuous over the second point (not-a-knot).
class ProfileCurve {
 public:
  /// height = c0 + c1 s + c2 s² + c3 s³ with s = x − from, for from <= x <= to [m].
  struct Span {
    double from = 0, to = 0;
    double c0 = 0, c1 = 0, c2 = 0, c3 = 0;
    double height(double x) const {
      const double s = x - from;
      return c0 + s * (c1 + s * (c2 + s * c3));
    }
    double slope(double x) const {
      const double s = x - from;
      return c1 + s * (2 * c2 + s * 3 * c3);
    }
  };

  /// `places` strictly increasing, at least 3 of them, as many `heights`. `axis_at_start`: the first place lies on the axis of
  /// symmetry.
  ProfileCurve(std::vector<double> places, std::vector<double> heights, CurveKind kind, bool axis_at_start);
  /// The same curve and its mirror image about x = 0; the first place is 0.
  static ProfileCurve mirrored(const std::vector<double>& places, const std::vector<double>& heights, CurveKind kind);

  CurveKind kind() const { return kind_; }
  const std::vector<Span>& spans() const { return spans_; }
  double start() const { return spans_.front().from; }  ///< first place [m]
  double rim() const { return spans_.back().to; }       ///< last place [m]
  double height(double x) const;                        ///< [m]; beyond the ends the outer cubics run on
  double slope(double x) const;                         ///< d height / d x [1]; at a kink that of the right side
  double lowest() const { return lowest_; }             ///< of the whole curve [m], bulges between points included
  double highest() const { return highest_; }
  const Span& span_at(double x) const;

 private:
  CurveKind kind_;
  std::vector<Span> spans_;
  double lowest_ = 0, highest_ = 0;
};

}  // namespace dishwright
