// SPDX-License-Identifier: MIT
// What any part of the sun's disc may see of a mirror, as marked cells of a square across the sun's direction.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "trace/scene_surfaces.h"

namespace dishwright {

/// How a mirror is looked at, in its own frame.
struct MaskView {
  std::array<Vector3, 3> axes;  ///< east, north, toward the sun's centre; unit vectors at right angles
  Vector3 middle;               ///< of the square, and of the plane on which rays are laid out [m]
  double reach = 0;             ///< radius of the ball about `middle` that holds the mirror [m]
  double spread = 0;            ///< tangent of the largest angle from the sun's centre
};

struct Mask {
  static constexpr int side = 128;
  double half = 0, cell = 0;  ///< half width of the square, width of a cell [m]
  std::vector<std::uint8_t> cells = std::vector<std::uint8_t>(static_cast<std::size_t>(side * side), 0);
  bool marked(int column, int row) const { return cells[static_cast<std::size_t>(row * side + column)] != 0; }
};

/// Marks every cell through which a ray within `spread` of the sun's centre may reach the mirror: all cells near the mirror's
/// outline, as wide about it as a point leans out at its height over the plane, and one cell more for what a triangle leaves out
/// of a curve. Rays through other cells miss the mirror.
Mask paint_mask(const Surface& surface, const MaskView& view);

}  // namespace dishwright
