// SPDX-License-Identifier: MIT
#include "survey/measured_mirror.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/error.h"

namespace dishwright {

namespace {

/// A mirror is a height over its rim's plane: where the shape ends or stands upright inside the rim, there is none.
void refuse_cliff(double height, double slope_x, double slope_y, double out) {
  constexpr double steepest = 20;  // 87 degrees
  if (std::isfinite(height) && std::abs(slope_x) <= steepest && std::abs(slope_y) <= steepest) return;
  throw InputError(
      fmt::format("the measured surface stands upright or ends {:.3g} in ({:.3g} m) from the middle", out / 0.0254, out),
      "a measured mirror is a height over its rim, so its surface may lean by less than 87 degrees everywhere inside the rim",
      "give a smaller width; or check that x, y and depth are in their own columns and carry the right signs and units");
}

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
  for (std::size_t i = 0; i < height.size(); ++i) refuse_cliff(height[i], slope_x[i], slope_y[i], std::hypot(x[i], y[i]));
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
  const bool rectangle = rim.length > 0 || !survey.fit().shape.round();
  const Eigen::Vector2d reach = readings_reach(survey, rectangle);
  Measured mirror;
  mirror.width = rim.width > 0 ? rim.width : reach.x();
  mirror.length = rim.length > 0 ? rim.length : rectangle ? reach.y() : 0;
  mirror.hole_width = rim.hole_width;
  mirror.middle_x = rim.middle_x, mirror.middle_y = rim.middle_y;
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
  out.meets_at = surface.meeting();
  out.fingerprint = surface.fingerprint();
  out.surface = std::make_shared<const MeasuredSurface>(std::move(surface));
  set_heights(out);
  return out;
}

}  // namespace dishwright
