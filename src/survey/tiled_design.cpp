// SPDX-License-Identifier: MIT
#include "survey/tiled_design.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

namespace dishwright {

const std::array<const char*, corner_count> corner_names = {"upper left", "upper right", "lower right", "lower left"};

namespace {

constexpr std::size_t bands = 6, in_a_band = most_tiles_read / bands;
constexpr double golden = 0.6180339887498949;  // each band begins at another part of its step

/// Six bands by the distance from the middle, six of each round the clock.
std::vector<std::size_t> spread_sample(const std::vector<Tile>& tiles) {
  std::vector<std::size_t> order(tiles.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto out = [&](std::size_t k) { return std::round(1e6 * tiles[k].centre.head<2>().norm()); };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return out(a) < out(b); });
  std::vector<std::size_t> sample;
  for (std::size_t band = 0; band < bands; ++band) {
    const auto from = order.begin() + static_cast<std::ptrdiff_t>(band * order.size() / bands),
               to = order.begin() + static_cast<std::ptrdiff_t>((band + 1) * order.size() / bands);
    std::vector<std::size_t> ring(from, to);
    std::stable_sort(ring.begin(), ring.end(), [&](std::size_t a, std::size_t b) {
      return std::atan2(tiles[a].centre.x(), tiles[a].centre.y()) < std::atan2(tiles[b].centre.x(), tiles[b].centre.y());
    });
    const double step = static_cast<double>(ring.size()) / in_a_band,
                 start = std::fmod((static_cast<double>(band) + 0.5) * golden, 1.0);
    for (std::size_t k = 0; k < in_a_band; ++k) {
      const auto at = static_cast<std::size_t>((static_cast<double>(k) + start) * step);
      sample.push_back(ring[std::min(at, ring.size() - 1)]);
    }
  }
  return sample;
}

}  // namespace

std::string TiledDesign::name(std::size_t tile) const {
  return fmt::format("row {}, tile {}", numbers[tile].first, numbers[tile].second);
}

double TiledDesign::throw_length() const {
  return pattern.aim_at_target ? std::abs(pattern.aim_point.z()) : pattern.focal_length;
}

TiledDesign tiled_design(const Facets& facets) {
  TiledDesign design;
  design.pattern = facets;
  design.pattern.tilt_error = 0;
  design.pattern.as_built.reset();
  design.tiles = facet_layout(design.pattern);
  design.numbers = tile_numbers(design.pattern);
  if (design.tiles.size() > most_tiles_read) {
    design.to_read = spread_sample(design.tiles);
  } else {
    design.to_read.resize(design.tiles.size());
    std::iota(design.to_read.begin(), design.to_read.end(), std::size_t{0});
  }
  std::sort(design.to_read.begin(), design.to_read.end(),
            [&](std::size_t a, std::size_t b) { return design.numbers[a] < design.numbers[b]; });
  return design;
}

std::array<Eigen::Vector2d, corner_count> reading_places(TileShape shape, double tile) {
  constexpr double part = 0.75;
  double x = part * tile / 2, y = x;
  if (shape == TileShape::hexagon) y = part * tile / (2 * std::numbers::sqrt3);
  if (shape == TileShape::round) x = y = part * tile / (2 * std::numbers::sqrt2);
  return {{{-x, y}, {x, y}, {x, -y}, {-x, -y}}};
}

TileFinder::TileFinder(const TiledDesign& design) : design_(design), cell_(design.pattern.tile + design.pattern.gap) {
  for (std::size_t k = 0; k < design.tiles.size(); ++k) {
    const Vector3& at = design.tiles[k].centre;
    cells_.push_back({{std::lround(at.x() / cell_), std::lround(at.y() / cell_)}, k});
  }
  std::sort(cells_.begin(), cells_.end());
}

long TileFinder::find(const Eigen::Vector2d& place) const {
  const Facets& pattern = design_.pattern;
  const double half = pattern.tile / 2, room = 1 + (pattern.gap / 2 + 0.0254 / 16) / half;
  const long column = std::lround(place.x() / cell_), row = std::lround(place.y() / cell_);
  double best = room;
  long found = -1;
  for (long c = column - 1; c <= column + 1; ++c) {
    const std::pair<std::pair<long, long>, std::size_t> from{{c, row - 1}, 0};
    for (auto at = std::lower_bound(cells_.begin(), cells_.end(), from);
         at != cells_.end() && at->first.first == c && at->first.second <= row + 1; ++at) {
      const Tile& tile = design_.tiles[at->second];
      // Straight down onto the tile's plane, then how far out in its own frame: 1 at its edge.
      const Eigen::Vector2d own = tile.turn.topLeftCorner<2, 2>().inverse() * (place - tile.centre.head<2>());
      const double u = std::abs(own.x()) / half, v = std::abs(own.y()) / half;
      const double out = pattern.tile_shape == TileShape::square    ? std::max(u, v)
                         : pattern.tile_shape == TileShape::hexagon ? std::max(u, u / 2 + v * std::numbers::sqrt3 / 2)
                                                                    : std::hypot(u, v);
      if (out < best) best = out, found = static_cast<long>(at->second);
    }
  }
  return found;
}

}  // namespace dishwright
