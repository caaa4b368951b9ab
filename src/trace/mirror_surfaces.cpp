// SPDX-License-Identifier: MIT
// Reflectors as surfaces: quadrics where the shape is one, petals and tiles as copies of one, the rest as heights or meshes.
#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "scene/mirror_surface.h"
#include "trace/mirror_surfaces.h"

namespace dishwright {

namespace {

/// Cuts to the outline; the box reaches from z = low to high.
void cut(Surface& surface, const PlanOutline& plan, const HeightRange& range) {
  Region<double>& region = surface.region;
  if (plan.round) {
    region.r2_to = plan.outer * plan.outer;
    if (plan.inner > 0) region.r2_from = plan.inner * plan.inner;
    region.x_middle = plan.x_middle, region.y_middle = plan.y_middle;
  } else {
    region.x_half = (plan.x_to - plan.x_from) / 2, region.y_half = (plan.y_to - plan.y_from) / 2;
    region.x_middle = (plan.x_from + plan.x_to) / 2, region.y_middle = (plan.y_from + plan.y_to) / 2;
  }
  surface.box_low = Vector3(plan.low_x(), plan.low_y(), range.low);
  surface.box_high = Vector3(plan.high_x(), plan.high_y(), range.high);
}

/// A quadric has a second sheet (or a far half) that is not there: cut off, with room for rounding at the vertex.
void keep_near_sheet(Surface& surface, double width) {
  if (surface.quadric.c != 0) surface.region.z_from = -1e-6 * width;
  if (surface.quadric.c > 0) surface.region.z_to = surface.quadric.d / surface.quadric.c;
}

void fill_heights(Surface& surface, Heights heights, double low, double high) {
  surface.kind = SurfaceKind::heights;
  surface.heights = std::move(heights);
  surface.box_low.z() = low, surface.box_high.z() = high;
}

// ---- Shapes that are not one quadric or one height over a plane ----

void fill_surfaces(Surface& surface, const Petals& s) {
  surface.kind = SurfaceKind::petals;
  surface.petals = s;
  surface.quadric = {1, 0, 0, 1 / (2 * petal_coefficient(s)), 0};
  surface.region.wedge = std::tan(std::numbers::pi / s.count);
  auto elements = std::make_shared<std::vector<Element>>();
  for (int k = 0; k < s.count; ++k) elements->push_back({rotation(0, 0, petal_azimuth(s, k)), Vector3::Zero()});
  surface.elements = std::move(elements);
}

void fill_surfaces(Surface& surface, const Facets& s) {
  surface.kind = SurfaceKind::tiles;
  surface.region = {};
  surface.tiles.width = s.tile;
  surface.tiles.shape = s.tile_shape;
  auto elements = std::make_shared<std::vector<Element>>();
  surface.box_low = Vector3::Constant(std::numeric_limits<double>::infinity());
  surface.box_high = -surface.box_low;
  const double half = tile_reach(s.tile_shape, s.tile);
  for (const Tile& tile : facet_layout(s)) {
    elements->push_back({tile.turn, tile.centre});
    const Vector3 reach = half * (tile.turn.col(0).cwiseAbs() + tile.turn.col(1).cwiseAbs());
    surface.box_low = surface.box_low.cwiseMin(tile.centre - reach);
    surface.box_high = surface.box_high.cwiseMax(tile.centre + reach);
  }
  surface.elements = std::move(elements);
}

void fill_surfaces(Surface& surface, const Mesh& s) {
  surface.kind = SurfaceKind::triangles;
  surface.region = {};
  surface.mesh = s.mesh;
  surface.smooth = s.smooth;
  surface.box_low = s.mesh->low, surface.box_high = s.mesh->high;
}

/// Lowest and highest place of a surface within the surface's box, with room for what lies between the probes.
std::pair<double, double> heights_over(const Surface& surface, const HeightSurface& heights) {
  constexpr int side = 200;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  const Vector3 size = surface.box_high - surface.box_low;
  for (int row = 0; row <= side; ++row) {
    for (int column = 0; column <= side; ++column) {
      const double x = surface.box_low.x() + size.x() * column / side, y = surface.box_low.y() + size.y() * row / side;
      const double px = x - surface.region.x_middle, py = y - surface.region.y_middle;
      if (px * px + py * py > surface.region.r2_to * 1.03) continue;
      const double height = height_at(heights, x, y).height;
      low = std::min(low, height), high = std::max(high, height);
    }
  }
  const double room = 0.01 * (high - low) + 1e-4 * size.head<2>().maxCoeff();
  return {low - room, high + room};
}

/// Of the true shape.
Surface shape_surface(const ReflectorShape& shape) {
  Surface surface;
  surface.front_sign = bright_below(shape) ? 1 : -1;
  std::visit(
      [&](const auto& s) {
        cut(surface, s.plan(), s.height_range());
        if constexpr (requires { fill_surfaces(surface, s); }) {
          fill_surfaces(surface, s);
        } else if constexpr (requires { s.quadric(); }) {
          surface.quadric = s.quadric();
          keep_near_sheet(surface, rim_width(shape));
        } else {
          const HeightRange range = s.height_range();
          fill_heights(surface, s.heights(), range.low, range.high);
        }
      },
      shape);
  return surface;
}

}  // namespace

Surface mirror_surface_of(const Reflector& reflector) {
  Surface surface = shape_surface(reflector.shape);
  const Flaws& flaws = reflector.flaws;
  if (!flaws.any()) return surface;
  const Heights heights = flawed_surface(reflector);
  if (heights == nullptr) return surface;  // of a shape that takes no flaws
  surface.elements.reset();
  // The height says which place is meant; what kept a quadric's other sheet away is not needed.
  surface.region.z_from = -Region<double>::far, surface.region.z_to = Region<double>::far;
  const auto [low, high] = heights_over(surface, *heights);
  fill_heights(surface, heights, low, high);
  return surface;
}

}  // namespace dishwright
