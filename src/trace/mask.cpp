// SPDX-License-Identifier: MIT
#include "trace/mask.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "shape/petals.h"

namespace dishwright {

namespace {

using Place = Eigen::Vector2d;

/// Distance of p from the stretch a … b [m].
double from_stretch(const Place& p, const Place& a, const Place& b) {
  const Place ab = b - a;
  const double length2 = ab.squaredNorm();
  const double share = length2 > 0 ? std::clamp((p - a).dot(ab) / length2, 0.0, 1.0) : 0.0;
  return (a + share * ab - p).norm();
}

double turn_of(const Place& a, const Place& b, const Place& p) {
  return (b.x() - a.x()) * (p.y() - a.y()) - (b.y() - a.y()) * (p.x() - a.x());
}

class Painter {
 public:
  explicit Painter(const MaskView& view) : view_(view) {
    mask_.half = view.reach * (1 + view.spread) * 1.02;
    mask_.cell = 2 * mask_.half / Mask::side;
  }

  /// All cells that a triangle, seen from any part of the disc, may touch.
  void triangle(const Vector3& a, const Vector3& b, const Vector3& c) {
    const std::array<Place, 3> p = {seen(a), seen(b), seen(c)};
    const double height = std::max({std::abs(over(a)), std::abs(over(b)), std::abs(over(c))});
    const double grow = height * view_.spread + (1 + std::numbers::sqrt2 / 2) * mask_.cell;
    const Place low = p[0].cwiseMin(p[1]).cwiseMin(p[2]), high = p[0].cwiseMax(p[1]).cwiseMax(p[2]);
    for (int row = cell_at(low.y() - grow); row <= cell_at(high.y() + grow); ++row) {
      for (int column = cell_at(low.x() - grow); column <= cell_at(high.x() + grow); ++column) {
        std::uint8_t& cell = mask_.cells[static_cast<std::size_t>(row * Mask::side + column)];
        if (cell == 0 && touches(p, middle_of(column, row), grow)) cell = 1;
      }
    }
  }
  void quad(const Vector3& a, const Vector3& b, const Vector3& c, const Vector3& d) {
    triangle(a, b, c);
    triangle(b, c, d);
  }
  Mask mask() && { return std::move(mask_); }

 private:
  Place seen(const Vector3& p) const { return {(p - view_.middle).dot(view_.axes[0]), (p - view_.middle).dot(view_.axes[1])}; }
  double over(const Vector3& p) const { return (p - view_.middle).dot(view_.axes[2]); }
  int cell_at(double place) const {
    return std::clamp(static_cast<int>(std::floor((place + mask_.half) / mask_.cell)), 0, Mask::side - 1);
  }
  Place middle_of(int column, int row) const {
    return {(column + 0.5) * mask_.cell - mask_.half, (row + 0.5) * mask_.cell - mask_.half};
  }
  static bool touches(const std::array<Place, 3>& p, const Place& place, double grow) {
    const double t0 = turn_of(p[0], p[1], place), t1 = turn_of(p[1], p[2], place), t2 = turn_of(p[2], p[0], place);
    if ((t0 >= 0 && t1 >= 0 && t2 >= 0) || (t0 <= 0 && t1 <= 0 && t2 <= 0)) return true;
    return from_stretch(place, p[0], p[1]) <= grow || from_stretch(place, p[1], p[2]) <= grow ||
           from_stretch(place, p[2], p[0]) <= grow;
  }

  const MaskView& view_;
  Mask mask_;
};

/// Height of a quadric, petals or a height surface over a place of its own plane.
double height_over(const Surface& surface, double x, double y) {
  if (surface.kind == SurfaceKind::petals) return petal_height(surface.petals, x, y);
  if (surface.kind == SurfaceKind::heights) {
    double height = 0, slope_x = 0, slope_y = 0;
    surface.heights->heights(1, &x, &y, &height, &slope_x, &slope_y);
    return height;
  }
  const double r2 = surface.quadric.a * x * x + surface.quadric.b * y * y;
  return r2 > 0 ? bowl_height(surface.quadric, r2) : 0;
}

/// A sheet over its plan as rows of quads: places by two shares in [0, 1].
void paint_sheet(Painter& painter, int rows, int columns, const std::function<Vector3(double, double)>& place) {
  std::vector<Vector3> before, row;
  for (int j = 0; j <= rows; ++j) {
    row.clear();
    for (int i = 0; i <= columns; ++i) row.push_back(place(static_cast<double>(i) / columns, static_cast<double>(j) / rows));
    for (std::size_t i = 0; j > 0 && i < static_cast<std::size_t>(columns); ++i)
      painter.quad(before[i], before[i + 1], row[i], row[i + 1]);
    std::swap(before, row);
  }
}

void paint_plan(Painter& painter, const Surface& surface) {
  const Region<double>& region = surface.region;
  const auto at = [&](double x, double y) { return Vector3(x, y, height_over(surface, x, y)); };
  if (std::isfinite(region.r2_to)) {
    const double from = std::sqrt(std::max(0.0, region.r2_from)), to = std::sqrt(region.r2_to);
    paint_sheet(painter, 64, 144, [&](double around, double out) {
      const double angle = 2 * std::numbers::pi * around, r = from + (to - from) * out;
      return at(region.x_middle + r * std::cos(angle), region.y_middle + r * std::sin(angle));
    });
  } else {
    paint_sheet(painter, 128, 128, [&](double across, double along) {
      return at(region.x_middle + region.x_half * (2 * across - 1), region.y_middle + region.y_half * (2 * along - 1));
    });
  }
}

void paint_tiles(Painter& painter, const Surface& surface) {
  std::vector<Eigen::Vector2d> outline = tile_outline(surface.tiles.shape, surface.tiles.width);
  if (outline.empty()) outline = tile_outline(TileShape::square, surface.tiles.width);  // the square round a round tile
  for (const Element& element : *surface.elements) {
    const auto at = [&](std::size_t k) { return Vector3(element.turn.leftCols<2>() * outline[k] + element.at); };
    for (std::size_t k = 1; k + 1 < outline.size(); ++k) painter.triangle(at(0), at(k), at(k + 1));
  }
}

}  // namespace

Mask paint_mask(const Surface& surface, const MaskView& view) {
  Painter painter(view);
  switch (surface.kind) {
    case SurfaceKind::triangles:
      for (const auto& t : surface.mesh->triangles)
        painter.triangle(surface.mesh->vertices[t[0]], surface.mesh->vertices[t[1]], surface.mesh->vertices[t[2]]);
      break;
    case SurfaceKind::tiles: paint_tiles(painter, surface); break;
    default: paint_plan(painter, surface);
  }
  return std::move(painter).mask();
}

}  // namespace dishwright
