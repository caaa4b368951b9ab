// SPDX-License-Identifier: MIT
#include "report/survey/tile_plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

std::vector<Eigen::Vector2d> tile_on_plan(const TiledDesign& design, std::size_t tile) {
  std::vector<Eigen::Vector2d> out = tile_outline(design.pattern.tile_shape, design.pattern.tile);
  constexpr int corners = 20;
  for (int k = 0; design.pattern.tile_shape == TileShape::round && k < corners; ++k) {
    const double turn = 2 * std::numbers::pi * k / corners;
    out.emplace_back(design.pattern.tile / 2 * Eigen::Vector2d(std::cos(turn), std::sin(turn)));
  }
  const Tile& at = design.tiles[tile];
  for (Eigen::Vector2d& corner : out) corner = at.centre.head<2>() + at.turn.topLeftCorner<2, 2>() * corner;
  return out;
}

double tiles_reach(const TiledDesign& design) {
  double reach = 0;
  for (const Tile& tile : design.tiles) reach = std::max(reach, tile.centre.head<2>().cwiseAbs().maxCoeff());
  return reach + tile_reach(design.pattern.tile_shape, design.pattern.tile);
}

}  // namespace dishwright
