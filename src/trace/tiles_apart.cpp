// SPDX-License-Identifier: MIT
#include "trace/tiles_apart.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>
#include <vector>

#include "shape/facets.h"

namespace dishwright {

namespace {

using Place = Eigen::Vector2d;

/// A tile as the sun sees it.
struct SeenTile {
  std::vector<Place> outline;  // convex, in order
  Place middle;
  double low = 0, high = 0;  // toward the sun [m]
};

std::vector<Place> own_outline(const TileSet& tiles) {
  if (tiles.shape != TileShape::round) return tile_outline(tiles.shape, tiles.width);
  std::vector<Place> octagon;
  const double reach = tiles.width / 2 / std::cos(std::numbers::pi / 8);
  for (int k = 0; k < 8; ++k) {
    const double turn = std::numbers::pi / 4 * k;
    octagon.emplace_back(reach * std::cos(turn), reach * std::sin(turn));
  }
  return octagon;
}

SeenTile seen(const Element& element, const std::vector<Place>& outline, const std::array<Vector3, 3>& axes) {
  SeenTile tile;
  tile.middle = Place(element.at.dot(axes[0]), element.at.dot(axes[1]));
  tile.low = tile.high = element.at.dot(axes[2]);
  for (const Place& corner : outline) {
    const Vector3 place = element.turn.leftCols<2>() * corner + element.at;
    tile.outline.emplace_back(place.dot(axes[0]), place.dot(axes[1]));
    tile.low = std::min(tile.low, place.dot(axes[2])), tile.high = std::max(tile.high, place.dot(axes[2]));
  }
  return tile;
}

/// Gap between two convex outlines across the sides of the first: positive only if one of its sides keeps them apart.
double gap_across_sides(const std::vector<Place>& one, const std::vector<Place>& other) {
  Place inner = Place::Zero();
  for (const Place& corner : one) inner += corner / static_cast<double>(one.size());
  double best = -1;
  for (std::size_t k = 0; k < one.size(); ++k) {
    const Place &a = one[k], &b = one[(k + 1) % one.size()];
    Place outward(b.y() - a.y(), a.x() - b.x());
    const double length = outward.norm();
    if (!(length > 0)) continue;
    outward /= outward.dot(a - inner) < 0 ? -length : length;
    double nearest = (other[0] - a).dot(outward);
    for (const Place& corner : other) nearest = std::min(nearest, (corner - a).dot(outward));
    best = std::max(best, nearest);
  }
  return best;
}

/// `round`: radius of the circle that holds each tile seen from anywhere [m].
bool apart(const SeenTile& one, const SeenTile& other, double round, double spread, double rounding) {
  const double rise = std::max(one.high - other.low, other.high - one.low);
  if ((one.middle - other.middle).norm() - 2 * round > rise * spread + rounding) return true;
  const double gap = std::max(gap_across_sides(one.outline, other.outline), gap_across_sides(other.outline, one.outline));
  return gap > rise * spread + rounding;
}

}  // namespace

bool tiles_apart(const Surface& surface, const Vector3& sun, double spread) {
  const Vector3 east = sun.unitOrthogonal();
  const std::array<Vector3, 3> axes = {east, sun.cross(east), sun};
  const std::vector<Place> outline = own_outline(surface.tiles);
  double reach = 0;
  for (const Place& corner : outline) reach = std::max(reach, corner.norm());
  const double round = tile_reach(surface.tiles.shape, surface.tiles.width);
  // Tiles in squares so wide that those farther than a neighbouring square are apart whatever their heights.
  const double width = 2 * reach + 2 * surface.reach() * spread, rounding = 1e-6 * surface.reach();
  std::map<std::pair<long, long>, std::vector<SeenTile>> squares;
  for (const Element& element : *surface.elements) {
    SeenTile tile = seen(element, outline, axes);
    const long column = std::lround(tile.middle.x() / width), row = std::lround(tile.middle.y() / width);
    for (long c = column - 1; c <= column + 1; ++c) {
      for (long r = row - 1; r <= row + 1; ++r) {
        const auto near = squares.find({c, r});
        if (near == squares.end()) continue;
        for (const SeenTile& other : near->second) {
          if (!apart(tile, other, round, spread, rounding)) return false;
        }
      }
    }
    squares[{column, row}].push_back(std::move(tile));
  }
  return true;
}

}  // namespace dishwright
