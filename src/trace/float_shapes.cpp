// SPDX-License-Identifier: MIT
#include "trace/float_shapes.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dishwright {

namespace {

Region<float> to_float(const Region<double>& region) {
  const auto f = [](double value) { return static_cast<float>(value); };
  return {f(region.x_middle), f(region.y_middle), f(region.r2_from), f(region.r2_to), f(region.x_half),
          f(region.y_half),   f(region.z_from),   f(region.z_to),    f(region.wedge)};
}

template <class Placed>
void place(Placed& out, const Matrix3& turn, const Vector3& at) {
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) out.turn[i][j] = static_cast<float>(turn(j, i));
    out.at[i] = static_cast<float>(at[i]);
  }
  out.turned = !turn.isIdentity(0);
}

/// Box in the frame around a turned own box, a little larger for rounding.
FloatBox frame_box(const Vector3& box_low, const Vector3& box_high, const Matrix3& turn, const Vector3& at, double slack) {
  Vector3 low = Vector3::Constant(std::numeric_limits<double>::infinity());
  Vector3 high = -low;
  for (int corner = 0; corner < 8; ++corner) {
    const Vector3 own((corner & 1) != 0 ? box_high.x() : box_low.x(), (corner & 2) != 0 ? box_high.y() : box_low.y(),
                      (corner & 4) != 0 ? box_high.z() : box_low.z());
    const Vector3 point = turn * own + at;
    low = low.cwiseMin(point);
    high = high.cwiseMax(point);
  }
  const Vector3 from = low.array() - slack, to = high.array() + slack;
  const auto f = [](double value) { return static_cast<float>(value); };
  return {{f(from.x()), f(from.y()), f(from.z())}, {f(to.x()), f(to.y()), f(to.z())}};
}

/// The place about which a surface is told in float: where the middle of its region lies on it, or its own origin.
Vector3 float_middle(const Surface& surface) {
  const double x = surface.region.x_middle, y = surface.region.y_middle;
  const Quadric<double>& q = surface.quadric;
  if (x == 0 && y == 0) return Vector3::Zero();
  return {x, y, bowl_height(q, q.a * x * x + q.b * y * y)};
}

FloatPatch to_patch(const Surface& surface, const Vector3& box_low, const Vector3& box_high, const Matrix3& turn,
                    const Vector3& at) {
  FloatPatch out{};
  const Quadric<double>& q = surface.quadric;
  const Vector3 middle = float_middle(surface);
  const auto f = [](double value) { return static_cast<float>(value); };
  out.a = f(q.a), out.b = f(q.b), out.c = f(q.c);
  out.g[0] = f(q.a * middle.x()), out.g[1] = f(q.b * middle.y()), out.g[2] = f(q.c * middle.z() - q.d);
  out.e = middle.isZero(0) ? f(q.e) : 0.0F;
  out.flat = q.a == 0 && q.b == 0 && q.c == 0;
  Region<double> region = surface.region;
  region.x_middle -= middle.x(), region.y_middle -= middle.y();
  region.z_from -= middle.z(), region.z_to -= middle.z();
  out.region = to_float(region);
  place(out, turn, turn * middle + at);
  const double slack = 1e-6 * (surface.reach() + at.cwiseAbs().maxCoeff()) + 1e-9;
  out.wedge_slack = static_cast<float>(1e-6 * surface.reach());
  out.box = frame_box(box_low, box_high, turn, at, slack + 2e-6 * surface.reach());
  return out;
}

}  // namespace

std::vector<FloatPatch> float_patches(const Surface& surface, const Vector3& origin) {
  const Vector3 at = surface.pose.at - origin;
  if (surface.kind == SurfaceKind::quadric) return {to_patch(surface, surface.box_low, surface.box_high, surface.pose.turn, at)};
  // A petal reaches from the axis to the rim along its own x, and half its width at the rim to either side.
  std::vector<FloatPatch> patches;
  const double rim = std::sqrt(surface.region.r2_to), half = rim * std::min(1.0, std::sin(std::atan(surface.region.wedge)));
  const Vector3 low(0, -half, surface.box_low.z()), high(rim, half, surface.box_high.z());
  for (const Element& element : *surface.elements) {
    patches.push_back(to_patch(surface, low, high, surface.pose.turn * element.turn, surface.pose.turn * element.at + at));
  }
  return patches;
}

FloatPetals float_petals(const Surface& surface, const Vector3& origin) {
  FloatPetals out;
  out.first = float_patches(surface, origin).front();
  out.count = static_cast<int>(surface.elements->size());
  for (const Element& element : *surface.elements) {
    out.cosine.push_back(static_cast<float>(element.turn(0, 0)));
    out.sine.push_back(static_cast<float>(element.turn(1, 0)));
  }
  const double slack = 1e-6 * surface.reach();
  out.z_from = static_cast<float>(surface.box_low.z() - slack), out.z_to = static_cast<float>(surface.box_high.z() + slack);
  const Vector3 at = surface.pose.at - origin;
  out.box =
      frame_box(surface.box_low, surface.box_high, surface.pose.turn, at, 3 * slack + 1e-6 * at.cwiseAbs().maxCoeff() + 1e-9);
  return out;
}

namespace {

/// Heights at the corners (shift 0) or in the middles (shift ½) of a grid's cells; beyond a round rim those of the rim.
std::vector<double> grid_heights(const Surface& surface, int columns, int rows, double cell, double shift) {
  const double rim = 1.008 * std::sqrt(surface.region.r2_to);  // infinite on a rectangle
  const std::size_t wide = static_cast<std::size_t>(columns);
  std::vector<double> height(wide * static_cast<std::size_t>(rows));
  // A row at a time: what is thrown away stays in the near memory.
  std::vector<double> x(wide), y(wide), slope_x(wide), slope_y(wide);
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      const std::size_t k = static_cast<std::size_t>(column);
      x[k] = surface.box_low.x() + (column + shift) * cell, y[k] = surface.box_low.y() + (row + shift) * cell;
      if (!std::isfinite(rim)) continue;
      const double out_x = x[k] - surface.region.x_middle, out_y = y[k] - surface.region.y_middle;
      const double inward = std::min(1.0, rim / std::hypot(out_x, out_y));
      x[k] = surface.region.x_middle + out_x * inward, y[k] = surface.region.y_middle + out_y * inward;
    }
    surface.heights->heights(columns, x.data(), y.data(), height.data() + static_cast<std::size_t>(row) * wide, slope_x.data(),
                             slope_y.data());
  }
  return height;
}

}  // namespace

FloatHeights float_heights(const Surface& surface, const Vector3& origin) {
  constexpr int across = 320;  // cells along the longer side
  FloatHeights out{};
  const Vector3 size = surface.box_high - surface.box_low;
  const double cell = std::max(size.x(), size.y()) / across;
  const int columns = std::max(1, static_cast<int>(std::ceil(size.x() / cell - 1e-9)));
  const int rows = std::max(1, static_cast<int>(std::ceil(size.y() / cell - 1e-9)));
  out.cell = static_cast<float>(cell);
  out.columns = columns, out.rows = rows;
  out.x_from = static_cast<float>(surface.box_low.x()), out.y_from = static_cast<float>(surface.box_low.y());
  out.region = to_float(surface.region);
  const Vector3 at = surface.pose.at - origin;
  place(out, surface.pose.turn, at);
  // Heights at the corners of the cells; the true ones in the middle tell how far a cell's own surface is off.
  const std::vector<double> corner = grid_heights(surface, columns + 1, rows + 1, cell, 0);
  const std::vector<double> middle = grid_heights(surface, columns, rows, cell, 0.5);
  double error = 0;
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      const std::size_t k = static_cast<std::size_t>(row * (columns + 1) + column),
                        above = k + static_cast<std::size_t>(columns) + 1;
      const double mean = (corner[k] + corner[k + 1] + corner[above] + corner[above + 1]) / 4;
      const double px = surface.box_low.x() + (column + 0.5) * cell - surface.region.x_middle,
                   py = surface.box_low.y() + (row + 0.5) * cell - surface.region.y_middle;
      if (px * px + py * py > surface.region.r2_to) continue;
      error = std::max(error, std::abs(mean - middle[static_cast<std::size_t>(row * columns + column)]));
    }
  }
  for (const double height : corner) out.height.push_back(static_cast<float>(height));
  // The box, with room for that error and for rounding.
  const auto [low, high] = std::minmax_element(corner.begin(), corner.end());
  const double slack = 2 * error + 1e-6 * (surface.reach() + at.cwiseAbs().maxCoeff()) + 1e-9;
  out.error = static_cast<float>(error);
  out.z_from = static_cast<float>(*low - slack), out.z_to = static_cast<float>(*high + slack);
  out.box = frame_box(Vector3(surface.box_low.x(), surface.box_low.y(), *low),
                      Vector3(surface.box_high.x(), surface.box_high.y(), *high), surface.pose.turn, at, slack);
  return out;
}

}  // namespace dishwright
