// SPDX-License-Identifier: MIT
// Mirrors as smooth patches with two parameters: all that quadrature and wave sum need to know of a shape.
#pragma once

#include <functional>
#include <memory>
#include <utility>
#include <vector>

#include "base/vector.h"
#include "shape/height_surface.h"
#include "shape/plan_outline.h"

namespace dishwright {

/// A place on a mirror.
struct MirrorPoint {
  Vector3 place = Vector3::Zero();    ///< [m]
  Vector3 normal = Vector3::UnitZ();  ///< unit, on the bright side
  double area = 0;                    ///< surface area per du dv [m²]
};

/// A patch of mirror over 0 <= u, v <= 1, smooth inside.
struct MirrorPatch {
  int reflector = 0;      ///< which one of a scene, once it is placed there
  bool closed = false;    ///< v goes round: v = 1 is v = 0 again
  bool triangle = false;  ///< area grows as u, all of u = 0 is one corner: one point is put at the middle of area
  bool drawn = false;     ///< drawn out along v: there nothing changes but the place, which goes on straight and evenly
  bool heights = false;   ///< of a flawed or measured surface, which may wave
  std::function<MirrorPoint(double u, double v)> at;
};
using Patches = std::vector<MirrorPatch>;

/// A height over a plan: polar about the middle of a round one, u from hole to rim. `may_wave`: see MirrorPatch::heights.
MirrorPatch height_patch(std::shared_ptr<const HeightSurface> surface, const PlanOutline& plan, bool may_wave);
/// The surface over a place of the plan; `plan_area` is per du dv [m²].
MirrorPoint point_over(const HeightSurface& surface, double x, double y, double plan_area);

/// A curve in the plane y = 0; the area of its points is length per du [m].
using Curve = std::function<MirrorPoint(double u)>;

/// z(x) for x = from … to, by a function that gives its height and slope.
template <typename HeightAndSlope>
Curve curve_of(double from, double to, HeightAndSlope height_and_slope) {
  return [=](double u) {
    const double x = from + (to - from) * u;
    const auto [height, slope] = height_and_slope(x);
    const double secant = std::sqrt(1 + slope * slope);
    return MirrorPoint{{x, 0, height}, {-slope / secant, 0, 1 / secant}, (to - from) * secant};
  };
}
/// z = x²/(4 f).
Curve parabola_curve(double focal_length, double from, double to);
/// A circle about (0, R), even in angle, so that a rim at the equator is nothing special.
Curve circle_curve(double radius, double from, double to);

/// A curve turned about the z axis: u from its start to its end, v round.
Patches turned(const Curve& curve);
/// A curve drawn out along y over |y| <= length/2: u across, v along.
Patches drawn_out(const Curve& curve, double length);
/// corner + u · first + v · second; bright on the side of first × second.
MirrorPatch parallelogram(const Vector3& corner, const Vector3& first, const Vector3& second);
/// The patch moved: p → turn · p + at.
MirrorPatch moved(MirrorPatch own, const Matrix3& turn, const Vector3& at);

}  // namespace dishwright
