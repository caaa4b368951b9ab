// SPDX-License-Identifier: MIT
// A dish of tiles as it was designed: where its tiles are, what they are called, and which of them are read.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "shape/facets.h"

namespace dishwright {

/// Tiles and what they are called, in the order of the layout.
struct TiledDesign {
  Facets pattern;  ///< without the lean of the tiles that its file supposes: that is a flaw, and not meant
  std::vector<Tile> tiles;
  std::vector<std::pair<int, int>> numbers;  ///< row from the top, place in the row from the left
  /// Tiles that a survey reads: all, or a sample. In the order of the rows, from the top and from the left.
  std::vector<std::size_t> to_read;

  bool sampled() const { return to_read.size() < tiles.size(); }
  /// "row 3, tile 5".
  std::string name(std::size_t tile) const;
  /// How far from the dish its tiles send their light, along the axis [m]: the place they aim at, or the frame's focal length.
  double throw_length() const;
};

/// The most tiles of which every one is read: 36 tiles are 144 readings, an hour's work for two.
constexpr std::size_t most_tiles_read = 36;

/// Of more tiles 36 are read. They are put in the order of their distance from the middle and cut into six bands of equal count;
/// in each band six are taken at equal steps round the clock, and each band begins elsewhere. So they stand for the others as
/// long as nobody looked which they are before the tiles were set.
TiledDesign tiled_design(const Facets& facets);

constexpr std::size_t corner_count = 4;
/// Upper left, upper right, lower right, lower left.
extern const std::array<const char*, corner_count> corner_names;
/// Where on a tile its four depths are read, own frame of the tile [m]: three quarters of the way from its middle to the corners
/// (of a round tile to the rim, half way between x and y).
std::array<Eigen::Vector2d, corner_count> reading_places(TileShape shape, double tile);
/// Number of the tile on which a place of the plan lies, or beside which it lies by less than half the gap and 1/16 in; −1 where
/// there is none.
class TileFinder {
 public:
  explicit TileFinder(const TiledDesign& design);
  long find(const Eigen::Vector2d& place) const;

 private:
  const TiledDesign& design_;
  double cell_;
  std::vector<std::pair<std::pair<long, long>, std::size_t>> cells_;  // sorted
};

}  // namespace dishwright
