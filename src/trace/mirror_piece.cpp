// SPDX-License-Identifier: MIT
// Reflectors as pieces: quadrics where the shape is one, petals and tiles as copies of one, the rest as heights or meshes.
#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "scene/mirror_surface.h"
#include "trace/piece_parts.h"

namespace dishwright {

namespace {

/// Cuts to the outline; the box reaches from z = low to high.
void cut(Piece& piece, const PlanOutline& plan, const HeightRange& range) {
  Region<double>& region = piece.region;
  if (plan.round) {
    region.r2_to = plan.outer * plan.outer;
    if (plan.inner > 0) region.r2_from = plan.inner * plan.inner;
    region.x_middle = plan.x_middle, region.y_middle = plan.y_middle;
  } else {
    region.x_half = (plan.x_to - plan.x_from) / 2, region.y_half = (plan.y_to - plan.y_from) / 2;
    region.x_middle = (plan.x_from + plan.x_to) / 2, region.y_middle = (plan.y_from + plan.y_to) / 2;
  }
  piece.box_low = Vector3(plan.low_x(), plan.low_y(), range.low);
  piece.box_high = Vector3(plan.high_x(), plan.high_y(), range.high);
}

/// A quadric has a second sheet (or a far half) that is not there: cut off, with room for rounding at the vertex.
void keep_near_sheet(Piece& piece, double width) {
  if (piece.quadric.c != 0) piece.region.z_from = -1e-6 * width;
  if (piece.quadric.c > 0) piece.region.z_to = piece.quadric.d / piece.quadric.c;
}

void fill_heights(Piece& piece, Heights surface, double low, double high) {
  piece.surface = SurfaceKind::heights;
  piece.heights = std::move(surface);
  piece.box_low.z() = low, piece.box_high.z() = high;
}

// ---- Shapes that are not one quadric or one height over a plane ----

void fill_pieces(Piece& piece, const Petals& s) {
  piece.surface = SurfaceKind::petals;
  piece.petals = s;
  piece.quadric = {1, 0, 0, 1 / (2 * petal_coefficient(s)), 0};
  piece.region.wedge = std::tan(std::numbers::pi / s.count);
  auto elements = std::make_shared<std::vector<Element>>();
  for (int k = 0; k < s.count; ++k) elements->push_back({rotation(0, 0, petal_azimuth(s, k)), Vector3::Zero()});
  piece.elements = std::move(elements);
}

void fill_pieces(Piece& piece, const Facets& s) {
  piece.surface = SurfaceKind::tiles;
  piece.region = {};
  piece.tiles.width = s.tile;
  piece.tiles.shape = s.tile_shape;
  auto elements = std::make_shared<std::vector<Element>>();
  piece.box_low = Vector3::Constant(std::numeric_limits<double>::infinity());
  piece.box_high = -piece.box_low;
  const double half = tile_reach(s.tile_shape, s.tile);
  for (const Tile& tile : facet_layout(s)) {
    elements->push_back({tile.turn, tile.centre});
    const Vector3 reach = half * (tile.turn.col(0).cwiseAbs() + tile.turn.col(1).cwiseAbs());
    piece.box_low = piece.box_low.cwiseMin(tile.centre - reach);
    piece.box_high = piece.box_high.cwiseMax(tile.centre + reach);
  }
  piece.elements = std::move(elements);
}

void fill_pieces(Piece& piece, const Mesh& s) {
  piece.surface = SurfaceKind::triangles;
  piece.region = {};
  piece.mesh = s.mesh;
  piece.smooth = s.smooth;
  piece.box_low = s.mesh->low, piece.box_high = s.mesh->high;
}

/// Lowest and highest place of a surface within the piece's box, with room for what lies between the probes.
std::pair<double, double> heights_over(const Piece& piece, const HeightSurface& surface) {
  constexpr int side = 200;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  const Vector3 size = piece.box_high - piece.box_low;
  for (int row = 0; row <= side; ++row) {
    for (int column = 0; column <= side; ++column) {
      const double x = piece.box_low.x() + size.x() * column / side, y = piece.box_low.y() + size.y() * row / side;
      const double px = x - piece.region.x_middle, py = y - piece.region.y_middle;
      if (px * px + py * py > piece.region.r2_to * 1.03) continue;
      const double height = height_at(surface, x, y).height;
      low = std::min(low, height), high = std::max(high, height);
    }
  }
  const double room = 0.01 * (high - low) + 1e-4 * size.head<2>().maxCoeff();
  return {low - room, high + room};
}

/// Of the true shape.
Piece shape_piece(const ReflectorShape& shape) {
  Piece piece;
  piece.front_sign = bright_below(shape) ? 1 : -1;
  std::visit(
      [&](const auto& s) {
        cut(piece, s.plan(), s.height_range());
        if constexpr (requires { fill_pieces(piece, s); }) {
          fill_pieces(piece, s);
        } else if constexpr (requires { s.quadric(); }) {
          piece.quadric = s.quadric();
          keep_near_sheet(piece, rim_width(shape));
        } else {
          const HeightRange range = s.height_range();
          fill_heights(piece, s.heights(), range.low, range.high);
        }
      },
      shape);
  return piece;
}

}  // namespace

Piece mirror_piece(const Reflector& reflector) {
  Piece piece = shape_piece(reflector.shape);
  const Flaws& flaws = reflector.flaws;
  if (!flaws.any()) return piece;
  const Heights surface = flawed_surface(reflector);
  if (surface == nullptr) return piece;  // of a shape that takes no flaws
  piece.elements.reset();
  // The height says which place is meant; what kept a quadric's other sheet away is not needed.
  piece.region.z_from = -Region<double>::far, piece.region.z_to = Region<double>::far;
  const auto [low, high] = heights_over(piece, *surface);
  fill_heights(piece, surface, low, high);
  return piece;
}

}  // namespace dishwright
