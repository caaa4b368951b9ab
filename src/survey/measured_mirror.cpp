// SPDX-License-Identifier: MIT
#include "survey/measured_mirror.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

/// Lowest and highest z within the rim, on a grid.
void set_heights(Measured& mirror) {
  constexpr int side = 81;
  const double up = mirror.length > 0 ? mirror.length : mirror.width;
  std::vector<double> x, y;
  for (int i = 0; i < side * side; ++i) {
    const double u = 2.0 * (i % side) / (side - 1) - 1, v = 2.0 * static_cast<int>(i / side) / (side - 1) - 1;
    const double inward = mirror.length > 0 ? 1 : std::min(1.0, 1 / std::max(1e-9, std::hypot(u, v)));
    x.push_back(mirror.middle_x + u * inward * mirror.width / 2);
    y.push_back(mirror.middle_y + v * inward * up / 2);
  }
  std::vector<double> height(x.size()), slope_x(x.size()), slope_y(x.size());
  mirror.surface->heights(static_cast<int>(x.size()), x.data(), y.data(), height.data(), slope_x.data(), slope_y.data());
  const auto [low, high] = std::minmax_element(height.begin(), height.end());
  mirror.low = *low, mirror.high = *high;
}

}  // namespace

Eigen::Vector2d readings_reach(const Survey& survey, bool rectangle) {
  const MeasuredSurface& surface = *survey.surface;
  if (!survey.points.under_rim) {
    const Eigen::Vector2d size = surface.highest() - surface.lowest();
    return rectangle ? size : Eigen::Vector2d::Constant(size.mean());
  }
  Eigen::Vector2d box(0, 0);
  double out = 0;
  for (const SurveySample& sample : survey.map.samples) {
    const Eigen::Vector2d place = surface.shape().from_own(sample.foot).head<2>();
    box = box.cwiseMax(2 * place.cwiseAbs());
    out = std::max(out, 2 * place.norm());
  }
  return rectangle ? box : Eigen::Vector2d(out, out);
}

Measured measured_mirror(const Survey& survey, const MeasuredRim& rim) {
  const MeasuredSurface& surface = *survey.surface;
  const bool rectangle = rim.length > 0 || survey.fit().shape.kind == ShapeKind::trough;
  const Eigen::Vector2d reach = readings_reach(survey, rectangle);
  Measured mirror;
  mirror.width = rim.width > 0 ? rim.width : reach.x();
  mirror.length = rim.length > 0 ? rim.length : rectangle ? reach.y() : 0;
  mirror.hole_width = rim.hole_width;
  if (!survey.points.under_rim && rim.width <= 0) {
    const Eigen::Vector2d middle = (surface.lowest() + surface.highest()) / 2;
    mirror.middle_x = middle.x(), mirror.middle_y = middle.y();
  }
  mirror.readings = static_cast<std::size_t>(survey.fit().kept);
  mirror.spacing = survey.map.spacing;
  return with_surface(mirror, surface);
}

Measured with_surface(const Measured& mirror, MeasuredSurface surface) {
  Measured out = mirror;
  out.focus = surface.meeting();
  out.fingerprint = surface.fingerprint();
  out.surface = std::make_shared<const MeasuredSurface>(std::move(surface));
  set_heights(out);
  return out;
}

}  // namespace dishwright
