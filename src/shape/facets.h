// SPDX-License-Identifier: MIT
// Dishes of flat tiles: where each tile sits and how it is turned.
#pragma once

#include <cstdint>
#include <memory>
#include <utility>
#include <vector>

#include "base/vector.h"
#include "shape/mirror_shape.h"

namespace dishwright {

/// The curve that the middles of the tiles lie on.
enum class FacetFrame { paraboloid, sphere, flat };
enum class TileShape { square, hexagon, round };

/// One tile: p_dish = turn · p_tile + centre. In its own frame it lies in z = 0, bright toward +z.
struct Tile {
  Vector3 centre = Vector3::Zero();
  Matrix3 turn = Matrix3::Identity();
};

/// Flat tiles on a frame. Own frame of the dish: vertex at the origin, axis +z. The grid lies in the plane of x and y, with one
/// tile on the axis; a tile is kept if its middle lies within the rim and not within the hole.
struct Facets {
  static constexpr ShapeWords words{"facets", "a dish of facets"};
  static constexpr bool in_flat_pieces = true;
  FacetFrame frame = FacetFrame::paraboloid;
  double focal_length = 0;  ///< of the frame [m]; the sphere has the radius 2 f; unused for a flat frame
  double width = 0;         ///< rim to rim, of the middles of the tiles [m]
  double hole_width = 0;    ///< [m]
  double tile = 0;          ///< side of a square, across the flats of a hexagon, diameter of a round tile [m]
  double gap = 0;           ///< between neighbours, in projection on the plane of x and y [m]
  TileShape tile_shape = TileShape::square;
  bool aim_at_target = false;           ///< each tile halves the angle between z and aim_point; false: tangent to the frame
  Vector3 aim_point = Vector3::Zero();  ///< own frame of the dish [m]; used with aim_at_target
  double tilt_error = 0;                ///< each tile leans by a Gaussian angle about each of its two edges, rms [rad]
  std::uint64_t tilt_seed = 1;          ///< the same seed gives the same dish
  std::shared_ptr<const std::vector<Tile>> as_built = {};  ///< every tile as it was measured, in the order of the layout, if set

  std::vector<ShapeValue> values() const;
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const;
  std::optional<Vector3> focus() const;
  Patches patches() const;
  std::vector<ShapeProblem> problems(const std::string& called) const;
  std::string details(const LengthWords& say) const;
};

/// About how many tiles the pattern has, by areas; to be asked before they are laid out.
double about_tile_count(const Facets& pattern);
/// Height of the frame at the radius r [m], and its slope dz/dr [1].
double frame_height(const Facets& pattern, double r);
double frame_slope(const Facets& pattern, double r);

/// All tiles, row by row from the lowest y, in a row from the lowest x. Squares: rows and columns `tile + gap` apart. Hexagons
/// and round
/// tiles: rows along x, `(tile + gap) √3/2` apart, every second one shifted by half a step. The turn is the shortest one that
/// brings z onto the tile's normal. `as_built` takes the place of all that.
std::vector<Tile> facet_layout(const Facets& pattern);
/// The tile in the plane z = height + slopes · (x, y) of its own frame [m], [1]: raised and leaning by the shortest turn.
Tile set_over(const Tile& tile, double height, const Eigen::Vector2d& slopes);
/// Row and place in the row of each tile of the layout, both counted from 1: rows from the top, in a row from the left, seen from
/// the sun side.
std::vector<std::pair<int, int>> tile_numbers(const Facets& pattern);

/// The outline in the tile's own frame, counter-clockwise seen from +z [m]: 4 corners (±tile/2, ±tile/2); 6 corners (±tile/2,
/// ±tile/(2√3)) and (0, ±tile/√3), so that the flats are at x = ±tile/2; empty for a round tile, whose radius is tile/2.
std::vector<Eigen::Vector2d> tile_outline(TileShape shape, double tile);
/// Area of one tile [m²].
double tile_area(TileShape shape, double tile);
/// Radius of the circle round a tile [m].
double tile_reach(TileShape shape, double tile);

/// How far the worst pair of neighbouring tiles overlaps, seen along z [m]; 0 where none do.
double tile_overlap(const Facets& pattern, const std::vector<Tile>& tiles);

}  // namespace dishwright
