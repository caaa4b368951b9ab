// SPDX-License-Identifier: MIT
#include "shape/facets.h"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "base/fingerprint.h"
#include "base/quantity.h"
#include "base/sobol.h"
#include "shape/quadric.h"

namespace dishwright {

namespace {

using Vector2 = Eigen::Vector2d;
using std::numbers::pi;
using std::numbers::sqrt3;

constexpr double rounding = 1 + 1e-12;  // a middle just on the rim counts

bool is_square(const Facets& p) { return p.tile_shape == TileShape::square; }
double column_step(const Facets& p) { return p.tile + p.gap; }
double row_step(const Facets& p) { return column_step(p) * (is_square(p) ? 1 : sqrt3 / 2); }

/// A place of the grid, counted from the tile on the axis. Odd rows of the hexagon grid are shifted by half a step toward +x.
struct GridPlace {
  int row = 0, column = 0;
  bool operator<(const GridPlace& o) const { return row != o.row ? row < o.row : column < o.column; }
};

Vector2 middle_of(const Facets& p, GridPlace at) {
  const double shift = is_square(p) || at.row % 2 == 0 ? 0 : 0.5;
  return {(at.column + shift) * column_step(p), at.row * row_step(p)};
}

/// All places within the rim and not within the hole, row by row.
std::vector<GridPlace> grid_places(const Facets& p) {
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

Vector3 tile_normal(const Facets& p, const Vector3& centre) {
  if (p.aim_at_target) return ((p.aim_point - centre).normalized() + Vector3::UnitZ()).normalized();
  const double r = centre.head<2>().norm();
  if (r == 0) return Vector3::UnitZ();
  const double slope = frame_slope(p, r);
  return Vector3(-slope * centre.x() / r, -slope * centre.y() / r, 1).normalized();
}

/// The outline of a tile seen along z; a round tile as a polygon of 48 corners.
std::vector<Vector2> shadow_outline(const Facets& p, const Tile& tile) {
  std::vector<Vector2> outline = tile_outline(p.tile_shape, p.tile);
  constexpr int corners = 48;
  for (int k = 0; p.tile_shape == TileShape::round && k < corners; ++k) {
    outline.emplace_back(p.tile / 2 * Vector2(std::cos(2 * pi * k / corners), std::sin(2 * pi * k / corners)));
  }
  for (Vector2& corner : outline) corner = (tile.turn.leftCols<2>() * corner + tile.centre).head<2>();
  return outline;
}

/// How far two convex outlines overlap: the least shift that parts them; 0 or less where they do not (Ericson, Real-Time
/// Collision Detection, section 5.2.1: the axis that parts two convex polygons is square to one of their sides).
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

double about_tile_count(const Facets& p) {
  return pi / 4 * (p.width * p.width - p.hole_width * p.hole_width) / (column_step(p) * row_step(p)) + 1;
}

double frame_height(const Facets& p, double r) {
  if (p.frame == FacetFrame::flat) return 0;
  return bowl_height({1, 1, p.frame == FacetFrame::sphere ? 1.0 : 0.0, 2 * p.focal_length, 0}, r * r);
}

double frame_slope(const Facets& p, double r) {
  if (p.frame == FacetFrame::flat) return 0;
  const double radius = 2 * p.focal_length;
  if (p.frame == FacetFrame::paraboloid) return r / radius;
  return r / std::sqrt(std::max(0.0, radius * radius - r * r));
}

namespace {

/// A small turn about the tile's own x and y, Gaussian, the same for the same seed and tile.
Matrix3 lean(const Facets& p, std::size_t tile) {
  const HashedDraws draws(p.tilt_seed, 0x71C75U);
  const auto path = static_cast<std::uint32_t>(tile);
  const double radius = p.tilt_error * std::sqrt(-2 * std::log(static_cast<double>(draws.at(path, 1, Draw::slope_a)))),
               turn = 2 * pi * static_cast<double>(draws.at(path, 1, Draw::slope_b));
  return (Eigen::AngleAxisd(radius * std::cos(turn), Vector3::UnitX()) *
          Eigen::AngleAxisd(radius * std::sin(turn), Vector3::UnitY()))
      .toRotationMatrix();
}

}  // namespace

std::vector<Tile> facet_layout(const Facets& p) {
  if (p.as_built) return *p.as_built;
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

Tile set_over(const Tile& tile, double height, const Vector2& slopes) {
  const Vector3 normal = Vector3(-slopes.x(), -slopes.y(), 1).normalized();
  return {tile.centre + height * tile.turn.col(2), tile.turn * turn_to(normal)};
}

std::vector<std::pair<int, int>> tile_numbers(const Facets& p) {
  const std::vector<GridPlace> places = grid_places(p);
  std::vector<std::pair<int, int>> out;
  out.reserve(places.size());
  int row = 0, column = 0;
  for (std::size_t k = 0; k < places.size(); ++k) {
    const bool next = k == 0 || places[k].row != places[k - 1].row;
    row += next ? 1 : 0, column = next ? 1 : column + 1;
    out.emplace_back(row, column);
  }
  for (auto& number : out) number.first = row + 1 - number.first;
  return out;
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

double tile_overlap(const Facets& p, const std::vector<Tile>& tiles) {
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

// The lean of the tiles counts only where there is one.
std::vector<ShapeValue> Facets::values() const {
  std::vector<ShapeValue> all = {focal_length, width, hole_width, tile, gap, aim_point.x(), aim_point.y(), aim_point.z()};
  for (const auto word :
       {static_cast<std::uint64_t>(frame), static_cast<std::uint64_t>(tile_shape), std::uint64_t{aim_at_target}})
    all.emplace_back(word);
  if (tilt_error > 0) all.emplace_back(tilt_error), all.emplace_back(tilt_seed);
  if (as_built) {
    Fingerprint built;
    for (const Tile& tile : *as_built) {
      for (const double part : {tile.centre.x(), tile.centre.y(), tile.centre.z()}) built.add(part);
      for (const double part : tile.turn.reshaped()) built.add(part);
    }
    all.emplace_back(built.value());
  }
  return all;
}

HeightRange Facets::height_range() const {
  HeightRange range{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  const double half = tile_reach(tile_shape, tile);
  for (const Tile& one : facet_layout(*this)) {
    const double reach = half * (std::abs(one.turn(2, 0)) + std::abs(one.turn(2, 1)));
    range.low = std::min(range.low, one.centre.z() - reach), range.high = std::max(range.high, one.centre.z() + reach);
  }
  return range;
}

std::optional<Vector3> Facets::focus() const {
  if (frame == FacetFrame::flat) return std::nullopt;
  return Vector3(0, 0, focal_length);
}

namespace {

/// A tile is one square, three rhombi or one disk.
void add_tile(Patches& all, const Facets& s, const Tile& tile) {
  const auto on_tile = [&tile](const Vector2& p) { return Vector3(tile.turn * Vector3(p.x(), p.y(), 0)); };
  if (s.tile_shape == TileShape::round) {
    const Patches disk = turned(curve_of(0, s.tile / 2, [](double /*r*/) { return std::pair(0.0, 0.0); }));
    all.push_back(moved(disk.front(), tile.turn, tile.centre));
    return;
  }
  const std::vector<Vector2> corner = tile_outline(s.tile_shape, s.tile);
  if (corner.size() == 4) {
    all.push_back(
        parallelogram(tile.centre + on_tile(corner[0]), on_tile(corner[1] - corner[0]), on_tile(corner[3] - corner[0])));
    return;
  }
  for (std::size_t k = 0; k < 6; k += 2)
    all.push_back(parallelogram(tile.centre, on_tile(corner[k]), on_tile(corner[(k + 2) % 6])));
}

/// Sizes of tiles first: only a sound pattern is laid out.
std::vector<ShapeProblem> wrong_tile_sizes(const Facets& s) {
  std::vector<ShapeProblem> all;
  if (s.tile > s.width * size_rounding) {
    all.push_back({"tile", "a tile is wider than the dish",
                   fmt::format("the tile is {}, the dish {}", in_both(s.tile), in_both(s.width)),
                   "make tile smaller than width"});
  }
  constexpr double most_tiles = 200'000;
  if (about_tile_count(s) > most_tiles) {
    all.push_back({"tile", fmt::format("the dish would have about {:.0f} 000 tiles", about_tile_count(s) / 1000),
                   "a dish has 200 000 tiles at most", "make tile larger or width smaller"});
  }
  if (s.frame == FacetFrame::sphere && s.width >= 4 * s.focal_length) {
    all.push_back(
        {"width", "the frame is as wide as the sphere it is cut from or wider",
         fmt::format("the width is {}, the sphere 4 x focal_length = {}", in_both(s.width), in_both(4 * s.focal_length)),
         "make width smaller, or focal_length larger"});
  }
  return all;
}

}  // namespace

Patches Facets::patches() const {
  Patches all;
  for (const Tile& one : facet_layout(*this)) add_tile(all, *this, one);
  return all;
}

std::vector<ShapeProblem> Facets::problems(const std::string& called) const {
  std::vector<ShapeProblem> sizes = wrong_tile_sizes(*this);
  if (!sizes.empty() || hole_width >= width) return sizes;
  const std::vector<Tile> tiles = facet_layout(*this);
  if (tiles.empty()) {
    return {{"hole_width", "no tile is left", "the middle of every tile lies in the hole or beyond the rim",
             "make hole_width or tile smaller"}};
  }
  constexpr double steepest = 0.2;  // cos of the lean: beyond 78° a tile is seen edge-on
  const bool edge_on = std::any_of(tiles.begin(), tiles.end(), [](const Tile& one) { return !(one.turn(2, 2) > steepest); });
  if (aim_at_target && edge_on) {
    return {{"tilt", "the first target stands beside or behind some of the tiles", "to send light there they would stand on edge",
             "move the target to the bright side of the dish, or write tilt = \"frame\""}};
  }
  // Without a gap, corners of neighbours at the rim of a deep dish overlap by up to 3 % of a tile, which a filed corner mends.
  constexpr double most_overlap = 0.04;
  const double overlap = tile_overlap(*this, tiles);
  if (overlap <= most_overlap * tile) return {};
  return {
      {"gap", fmt::format("the tiles of {} overlap", called),
       fmt::format("seen from the front, two neighbours overlap by {}, since they are turned so differently", in_both(overlap)),
       fmt::format("make gap {} larger, or tile smaller", in_both(overlap))}};
}

std::string Facets::details(const LengthWords& say) const {
  const char* outline = tile_shape == TileShape::square ? "square" : tile_shape == TileShape::hexagon ? "six-sided" : "round";
  const std::string on = frame == FacetFrame::flat
                             ? "a flat frame"
                             : fmt::format("a {} of focal length {}", frame == FacetFrame::sphere ? "sphere" : "paraboloid",
                                           say.length(focal_length));
  return fmt::format(", {} {} tiles of {} with {} gaps on {}, {}", facet_layout(*this).size(), outline, say.length(tile),
                     gap > 0 ? say.length(gap) : "no", on,
                     aim_at_target ? "each aimed at the target" : "tilted as the frame is") +
         (as_built ? ", each as it was surveyed" : "");
}

}  // namespace dishwright
