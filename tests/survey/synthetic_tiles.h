// SPDX-License-Identifier: MIT
// Dishes of tiles that are known exactly, and depths as a shop reads them: built from normals alone, not by the survey's own
// planes.
#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <functional>
#include <random>

#include "shape/facets.h"
#include "survey/fit.h"
#include "survey/tiled_design.h"

namespace dishwright::testing {

constexpr double tile_inch = 0.0254;

/// Four corners of a square tile, three quarters of the way out, as places of the plan [m].
inline std::vector<Eigen::Vector2d> corner_places(const Tile& meant, double side) {
  std::vector<Eigen::Vector2d> out;
  for (const auto& [u, v] : {std::pair{-1, 1}, {1, 1}, {1, -1}, {-1, -1}})
    out.push_back((meant.centre + 0.375 * side * (u * meant.turn.col(0) + v * meant.turn.col(1))).head<2>());
  return out;
}

struct BuiltTiles {
  Facets pattern;  ///< as meant
  std::vector<Tile> meant, tiles;

  /// Each tile turned so that its normal, seen from the tile as meant, leans by these angles against its x and y: a lean of
  /// (a, b) raises the tile by a for each unit of x.
  /// Each stands up to `glue` higher or lower than meant.
  BuiltTiles(const Facets& facets, const std::function<Eigen::Vector2d(std::size_t, const Tile&)>& lean,
             double glue = 0.03 * tile_inch)
      : pattern(facets), meant(facet_layout(facets)), tiles(meant) {
    for (std::size_t k = 0; k < tiles.size(); ++k) {
      const Eigen::Vector2d off = lean(k, meant[k]);
      const Vector3 normal =
          meant[k].turn.col(2) - std::tan(off.x()) * meant[k].turn.col(0) - std::tan(off.y()) * meant[k].turn.col(1);
      const Eigen::Quaterniond turn = Eigen::Quaterniond::FromTwoVectors(meant[k].turn.col(2), normal);
      tiles[k].centre.z() += glue * std::sin(12.9898 * static_cast<double>(k + 1) * static_cast<double>(k + 3));
      tiles[k].turn = turn.toRotationMatrix() * meant[k].turn;
    }
  }

  /// As it stands, to be traced.
  Facets built() const {
    Facets out = pattern;
    out.as_built = std::make_shared<const std::vector<Tile>>(tiles);
    return out;
  }

  double height(std::size_t k, const Eigen::Vector2d& place) const {
    const Vector3 normal = tiles[k].turn.col(2);
    return tiles[k].centre.z() - normal.head<2>().dot(place - tiles[k].centre.head<2>()) / normal.z();
  }

  /// The four corners of these tiles under a straightedge `up` above the middle, to the nearest mark (0: exact), with scatter.
  SurveyPoints read(const std::vector<std::size_t>& which, double up, double mark, double scatter, unsigned seed) const {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> normal(0, 1);
    SurveyPoints out;
    out.under_rim = true, out.step = mark;
    for (const std::size_t k : which) {
      for (const Eigen::Vector2d& place : corner_places(meant[k], pattern.tile)) {
        double z = height(k, place) - up + (scatter > 0 ? scatter * normal(random) : 0);
        if (mark > 0) z = std::round(z / mark) * mark;
        out.points.emplace_back(place.x(), place.y(), z);
        out.rows.push_back(static_cast<int>(out.rows.size()) + 2);
      }
    }
    return out;
  }
};

/// A paraboloid frame of squares.
inline Facets square_tiles(double f, double width, double tile, double gap) {
  Facets out;
  out.focal_length = f, out.width = width, out.tile = tile, out.gap = gap;
  return out;
}

}  // namespace dishwright::testing
