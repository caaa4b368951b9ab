// SPDX-License-Identifier: MIT
// Reflectors as pieces: quadrics where the shape is one, petals and tiles as copies of one, the rest as heights or meshes.
#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "scene/mirror_surface.h"
#include "shape/conic.h"
#include "shape/facet_layout.h"
#include "shape/petal.h"
#include "trace/piece_parts.h"

namespace dishwright {

namespace {

/// Height of a circle of radius R at distance x from its lowest point's axis.
double arc_height(double radius, double x) { return radius - std::sqrt(std::max(0.0, radius * radius - x * x)); }

/// Room for rounding at a vertex where a second sheet of the quadric must stay out.
void keep_upper_sheet(Piece& piece, double width) { piece.region.z_from = -1e-6 * width; }

void fill(Piece& piece, const Paraboloid& s) {
  cut_round(piece, s.width, s.hole_width, s.width * s.width / (16 * s.focal_length));
}

void fill(Piece& piece, const SphereBowl& s) {
  cut_round(piece, s.width, s.hole_width, arc_height(s.radius, s.width / 2));
  piece.region.z_to = s.radius;
}

void fill(Piece& piece, const Trough& s) { cut_rectangle(piece, s.width, s.length, s.width * s.width / (16 * s.focal_length)); }

void fill(Piece& piece, const ArcTrough& s) {
  cut_rectangle(piece, s.width, s.length, arc_height(s.radius, s.width / 2));
  piece.region.z_to = s.radius;
}

void fill(Piece& piece, const Flat& s) { cut_rectangle(piece, s.width, s.length, 0); }

void fill(Piece& piece, const Cone& s) {
  cut_round(piece, s.width, s.hole_width, s.depth);
  keep_upper_sheet(piece, s.width);
}

void fill(Piece& piece, const OffsetParaboloid& s) {
  const double near_edge = s.clearance, far_edge = s.clearance + s.width;
  const auto height = [&](double r) { return r * r / (4 * s.focal_length); };
  cut_round(piece, s.width, s.hole_width, height(std::max(std::abs(near_edge), far_edge)));
  piece.region.y_middle = s.clearance + s.width / 2;
  piece.box_low.y() = near_edge, piece.box_high.y() = far_edge;
  piece.box_low.z() = near_edge > 0 ? height(near_edge) : 0;
}

void fill_conic(Piece& piece, const Conic& conic, double width, double hole_width, double front_sign) {
  piece.front_sign = front_sign;
  cut_round(piece, width, hole_width, conic.height(width / 2));
  keep_upper_sheet(piece, width);
  // The far half of an ellipsoid is not there.
  if (piece.quadric.c > 0) piece.region.z_to = piece.quadric.d / piece.quadric.c;
}

void fill(Piece& piece, const Hyperboloid& s) {
  fill_conic(piece, hyperboloid_conic(s.near_focus, s.far_focus), s.width, s.hole_width, 1);
}

void fill(Piece& piece, const Ellipsoid& s) {
  fill_conic(piece, ellipsoid_conic(s.near_focus, s.far_focus), s.width, s.hole_width, -1);
}

void fill(Piece& piece, const Petals& s) {
  piece.surface = SurfaceKind::petals;
  piece.petals = s;
  piece.quadric = {1, 0, 0, 1 / (2 * petal_coefficient(s)), 0};
  cut_round(piece, s.width, s.hole_width, petal_depth(s));
  piece.region.wedge = std::tan(std::numbers::pi / s.count);
  auto elements = std::make_shared<std::vector<Element>>();
  for (int k = 0; k < s.count; ++k) elements->push_back({rotation(0, 0, petal_azimuth(s, k)), Vector3::Zero()});
  piece.elements = std::move(elements);
}

void fill(Piece& piece, const Facets& s) {
  piece.surface = SurfaceKind::tiles;
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

void fill_relief(Piece& piece, std::shared_ptr<const HeightSurface> surface, double low, double high) {
  piece.surface = SurfaceKind::relief;
  piece.relief = std::move(surface);
  piece.box_low.z() = low, piece.box_high.z() = high;
}

void fill(Piece& piece, const Profile& s) {
  if (s.trough) {
    cut_rectangle(piece, s.width, s.length, 0);
    // The curve may lie to one side of the axis.
    piece.region.x_middle = (s.curve->start() + s.curve->rim()) / 2;
    piece.box_low.x() = s.curve->start(), piece.box_high.x() = s.curve->rim();
  } else {
    cut_round(piece, s.width, s.hole_width, 0);
  }
  fill_relief(piece, height_surface(s), s.curve->lowest(), s.curve->highest());
}

void fill(Piece& piece, const Catenary& s) {
  cut_round(piece, s.width, s.hole_width, s.depth);
  fill_relief(piece, height_surface(s), 0, s.depth);
}

void fill(Piece& piece, const Measured& s) {
  if (s.length > 0) {
    cut_rectangle(piece, s.width, s.length, 0);
  } else {
    cut_round(piece, s.width, s.hole_width, 0);
  }
  piece.region.x_middle = s.middle_x, piece.region.y_middle = s.middle_y;
  const Vector3 middle(s.middle_x, s.middle_y, 0);
  piece.box_low += middle, piece.box_high += middle;
  fill_relief(piece, s.surface, s.low, s.high);
}

void fill(Piece& piece, const Mesh& s) {
  piece.surface = SurfaceKind::triangles;
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
      double height = 0, slope_x = 0, slope_y = 0;
      surface.heights(1, &x, &y, &height, &slope_x, &slope_y);
      low = std::min(low, height), high = std::max(high, height);
    }
  }
  const double room = 0.01 * (high - low) + 1e-4 * size.head<2>().maxCoeff();
  return {low - room, high + room};
}

}  // namespace

Piece mirror_piece(const ReflectorShape& shape) {
  Piece piece;
  piece.front_sign = -1;
  piece.quadric = shape_quadric(shape).value_or(Quadric<double>{});
  std::visit([&](const auto& s) { fill(piece, s); }, shape);
  return piece;
}

Piece mirror_piece(const Reflector& reflector) {
  Piece piece = mirror_piece(reflector.shape);
  const Flaws& flaws = reflector.flaws;
  if (!flaws.any()) return piece;
  const std::shared_ptr<const HeightSurface> surface = flawed_surface(reflector);
  if (surface == nullptr) return piece;  // of a shape that takes no flaws
  piece.elements.reset();
  // The height says which place is meant; what kept a quadric's other sheet away is not needed.
  piece.region.z_from = -Region<double>::far, piece.region.z_to = Region<double>::far;
  const auto [low, high] = heights_over(piece, *surface);
  fill_relief(piece, surface, low, high);
  return piece;
}

}  // namespace dishwright
