// SPDX-License-Identifier: MIT
#include "shape/facet_layout.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "base/sobol.h"
#include "shape/quadric.h"

namespace dishwright {

namespace {

using Vector2 = Eigen::Vector2d;
using std::numbers::pi;
using std::numbers::sqrt3;

constexpr double rounding = 1 + 1e-12;  // a middle just on the rim counts

bool is_square(const FacetPattern& p) { return p.tile_shape == TileShape::square; }
double column_step(const FacetPattern& p) { return p.tile + p.gap; }
double row_step(const FacetPattern& p) { return column_step(p) * (is_square(p) ? 1 : sqrt3 / 2); }

/// A place of the grid, counted from the tile on the axis. Odd rows of the hexagon grid are shifted by half a step toward +x.
struct GridPlace {
  int row = 0, column = 0;
  bool operator<(const GridPlace& o) const { return row != o.row ? row < o.row : column < o.column; }
};

Vector2 middle_of(const FacetPattern& p, GridPlace at) {
  const double shift = is_square(p) || at.row % 2 == 0 ? 0 : 0.5;
  return {(at.column + shift) * column_step(p), at.row * row_step(p)};
}

/// All places within the rim and not within the hole, row by row.
std::vector<GridPlace> grid_places(const FacetPattern& p) {
  const double rim = p.width / 2 * rounding, hole = p.hole_width / 2 / rounding;
  const int rows = static_cast<int>(rim / row_step(p)), columns = static_cast<int>(rim / column_step(p)) + 1;
  std::vector<GridPlace> places;
  for (int row = -rows; row <= rows; ++row) {
    for (int column = -columns; column <= columns; ++column) {
      const double r = middle_of(p, {row, column}).norm();
      if (r <= rim && (p.hole_width <= 0 || r >= hole)) places.push_back({row, column});
    }
  }
  return places;
}

/// The shortest turn that brings z onto the unit vector n; n.z > −1.
Matrix3 turn_to(const Vector3& n) {
  Matrix3 cross;
  cross << 0, 0, n.x(), 0, 0, n.y(), -n.x(), -n.y(), 0;  // of z × n
  return Matrix3::Identity() + cross + cross * cross / (1 + n.z());
}

Vector3 tile_normal(const FacetPattern& p, const Vector3& centre) {
  if (p.aim_at_target) return ((p.aim_point - centre).normalized() + Vector3::UnitZ()).normalized();
  const double r = centre.head<2>().norm();
  if (r == 0) return Vector3::UnitZ();
  const double slope = frame_slope(p, r);
  return Vector3(-slope * centre.x() / r, -slope * centre.y() / r, 1).normalized();
}

/// The outline of a tile seen along z; a round tile as a polygon of 48 corners.
std::vector<Vector2> shadow_outline(const FacetPattern& p, const Tile& tile) {
  std::vector<Vector2> outline = tile_outline(p.tile_shape, p.tile);
  constexpr int corners = 48;
  for (int k = 0; p.tile_shape == TileShape::round && k < corners; ++k) {
    outline.emplace_back(p.tile / 2 * Vector2(std::cos(2 * pi * k / corners), std::sin(2 * pi * k / corners)));
  }
  for (Vector2& corner : outline) corner = (tile.turn.leftCols<2>() * corner + tile.centre).head<2>();
  return outline;
}

/// How far two convex outlines overlap: the least shift that parts them; 0 or less where they do not (Ericson, Real-Time Collision Detection,
/// section 5.2.1: the axis that parts two convex polygons is square to one of their sides).
double overlap(const std::vector<Vector2>& a, const std::vector<Vector2>& b) {
  double least = std::numeric_limits<double>::infinity();
  for (const auto* sides : {&a, &b}) {
    for (std::size_t k = 0; k < sides->size(); ++k) {
      const Vector2 side = (*sides)[(k + 1) % sides->size()] - (*sides)[k];
      const Vector2 axis = Vector2(-side.y(), side.x()).normalized();
      const auto along = [&](const Vector2& u, const Vector2& v) { return axis.dot(u) < axis.dot(v); };
      const auto [a_low, a_high] = std::minmax_element(a.begin(), a.end(), along);
      const auto [b_low, b_high] = std::minmax_element(b.begin(), b.end(), along);
      least = std::min({least, axis.dot(*a_high - *b_low), axis.dot(*b_high - *a_low)});
      if (least <= 0) return 0;
    }
  }
  return least;
}

}  // namespace

double about_tile_count(const FacetPattern& p) {
  return pi / 4 * (p.width * p.width - p.hole_width * p.hole_width) / (column_step(p) * row_step(p)) + 1;
}

double frame_height(const FacetPattern& p, double r) {
  if (p.frame == FacetFrame::flat) return 0;
  return bowl_height({1, 1, p.frame == FacetFrame::sphere ? 1.0 : 0.0, 2 * p.focal_length, 0}, r * r);
}

double frame_slope(const FacetPattern& p, double r) {
  if (p.frame == FacetFrame::flat) return 0;
  const double radius = 2 * p.focal_length;
  if (p.frame == FacetFrame::paraboloid) return r / radius;
  return r / std::sqrt(std::max(0.0, radius * radius - r * r));
}

namespace {

/// A small turn about the tile's own x and y, Gaussian, the same for the same seed and tile.
Matrix3 lean(const FacetPattern& p, std::size_t tile) {
  const HashedDraws draws(p.tilt_seed, 0x71C75U);
  const auto path = static_cast<std::uint32_t>(tile);
  const double radius = p.tilt_error * std::sqrt(-2 * std::log(static_cast<double>(draws.at(path, 1, Draw::slope_a)))),
               turn = 2 * pi * static_cast<double>(draws.at(path, 1, Draw::slope_b));
  return (Eigen::AngleAxisd(radius * std::cos(turn), Vector3::UnitX()) *
          Eigen::AngleAxisd(radius * std::sin(turn), Vector3::UnitY()))
      .toRotationMatrix();
}

}  // namespace

std::vector<Tile> facet_layout(const FacetPattern& p) {
  std::vector<Tile> tiles;
  for (const GridPlace& place : grid_places(p)) {
    const Vector2 middle = middle_of(p, place);
    Tile tile;
    tile.centre = Vector3(middle.x(), middle.y(), frame_height(p, middle.norm()));
    tile.turn = turn_to(tile_normal(p, tile.centre));
    if (p.tilt_error > 0) tile.turn = tile.turn * lean(p, tiles.size());
    tiles.push_back(tile);
  }
  return tiles;
}

std::vector<Vector2> tile_outline(TileShape shape, double tile) {
  const double half = tile / 2, side = tile / sqrt3;
  if (shape == TileShape::square) return {{half, -half}, {half, half}, {-half, half}, {-half, -half}};
  if (shape == TileShape::round) return {};
  return {{half, -side / 2}, {half, side / 2}, {0, side}, {-half, side / 2}, {-half, -side / 2}, {0, -side}};
}

double tile_area(TileShape shape, double tile) {
  if (shape == TileShape::square) return tile * tile;
  return tile * tile * (shape == TileShape::hexagon ? sqrt3 / 2 : pi / 4);
}

double tile_reach(TileShape shape, double tile) {
  if (shape == TileShape::square) return tile * std::numbers::sqrt2 / 2;
  return shape == TileShape::hexagon ? tile / sqrt3 : tile / 2;
}

double tile_overlap(const FacetPattern& p, const std::vector<Tile>& tiles) {
  std::map<GridPlace, std::size_t> index;
  const std::vector<GridPlace> places = grid_places(p);
  for (std::size_t k = 0; k < places.size(); ++k) index[places[k]] = k;
  double worst = 0;
  for (std::size_t k = 0; k < places.size(); ++k) {
    const GridPlace at = places[k];
    const std::vector<Vector2> outline = shadow_outline(p, tiles[k]);
    // Each pair once: the neighbour to the right, and those of the next row.
    for (const GridPlace& next : {GridPlace{at.row, at.column + 1}, GridPlace{at.row + 1, at.column - 1},
                                  GridPlace{at.row + 1, at.column}, GridPlace{at.row + 1, at.column + 1}}) {
      const auto found = index.find(next);
      if (found != index.end()) worst = std::max(worst, overlap(outline, shadow_outline(p, tiles[found->second])));
    }
  }
  return worst;
}

}  // namespace dishwright
