// SPDX-License-Identifier: MIT
// Helpers of the reference tracer for shapes that are no quadrics: heights walked in small steps and halved, outlines of tiles.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "scene/scene.h"

namespace dishwright::reference {

/// Where a height surface may be: |x|, |y| and the heights.
struct WalkBox {
  double x, y, low, high;
};

// Narrows from … to to the part of the ray with low <= place <= high along one axis.
inline void narrow(double place, double along, double low, double high, double& from, double& to) {
  if (along == 0) {
    if (place < low || place > high) to = from - 1;
    return;
  }
  const double a = (low - place) / along, b = (high - place) / along;
  from = std::max(from, std::min(a, b));
  to = std::min(to, std::max(a, b));
}

/// Distances at which a ray changes from over to under z = height(x, y) or back: even steps, then halving to the last digit.
template <class Height>
std::vector<double> height_crossings(const Vector3& from, const Vector3& along, const WalkBox& box, Height height) {
  constexpr int steps = 100;
  const double room = 1e-3 * std::max(box.x, box.y);
  double begin = -1e300, end = 1e300;
  narrow(from.x(), along.x(), -box.x - room, box.x + room, begin, end);
  narrow(from.y(), along.y(), -box.y - room, box.y + room, begin, end);
  narrow(from.z(), along.z(), box.low - room, box.high + room, begin, end);
  std::vector<double> found;
  if (begin >= end) return found;
  const auto over = [&](double t) {
    return from.z() + t * along.z() - height(from.x() + t * along.x(), from.y() + t * along.y());
  };
  double t0 = begin, f0 = over(begin);
  for (int k = 1; k <= steps; ++k) {
    const double t1 = begin + (end - begin) * k / steps, f1 = over(t1);
    if ((f0 >= 0) != (f1 >= 0)) {
      double low = t0, high = t1;
      while (high - low > 1e-14 * (1 + std::abs(low))) {
        const double middle = (low + high) / 2;
        if (middle == low || middle == high) break;
        ((over(middle) >= 0) == (f0 >= 0) ? low : high) = middle;
      }
      found.push_back((low + high) / 2);
    }
    t0 = t1, f0 = f1;
  }
  return found;
}

/// a of a hanging chain a (cosh(R/a) − 1) = depth by halving; the left side falls as a grows.
inline double chain_parameter(double rim_radius, double depth) {
  static double last_radius = 0, last_depth = 0, last = 0;  // one ray after the other asks for the same chain
  if (rim_radius == last_radius && depth == last_depth) return last;
  double low = rim_radius / 100, high = rim_radius * 1e6;
  for (int i = 0; i < 200; ++i) {
    const double a = (low + high) / 2;
    (a * (std::cosh(rim_radius / a) - 1) > depth ? low : high) = a;
  }
  last_radius = rim_radius, last_depth = depth;
  return last = (low + high) / 2;
}

/// The tiles of a pattern; laid out anew only when another pattern is asked for.
inline const std::vector<Tile>& layout_of(const Facets& p) {
  static Facets last;
  static std::vector<Tile> tiles;
  const auto key = [](const Facets& f) {
    return std::vector<double>{static_cast<double>(f.frame),
                               static_cast<double>(f.tile_shape),
                               f.focal_length,
                               f.width,
                               f.hole_width,
                               f.tile,
                               f.gap,
                               f.aim_at_target ? 1.0 : 0.0,
                               f.aim_point.x(),
                               f.aim_point.y(),
                               f.aim_point.z()};
  };
  if (tiles.empty() || key(p) != key(last)) {
    last = p;
    tiles = facet_layout(p);
  }
  return tiles;
}

/// Does the place (x, y) of a tile's own frame lie on it? The flats of a hexagon face ±x, so its corners lie on the y axis: the
/// other flats face ±60° from x.
inline bool on_tile(const Facets& p, double x, double y) {
  const double half = p.tile / 2;
  if (p.tile_shape == TileShape::square) return std::abs(x) <= half && std::abs(y) <= half;
  if (p.tile_shape == TileShape::round) return std::hypot(x, y) <= half;
  return std::abs(x) <= half && std::abs(x) / 2 + std::abs(y) * std::sqrt(3.0) / 2 <= half;
}

}  // namespace dishwright::reference
