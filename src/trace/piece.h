// SPDX-License-Identifier: MIT
// The surfaces of a scene as the tracer meets them: every mirror and target face is one piece of a quadric.
#pragma once

#include <limits>
#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// Points x of its own frame with a·x² + b·y² + c·z² − 2 d·z + e = 0, cut to a region.
///   paraboloid: a = b = 1, d = 2f · sphere bowl: a = b = c = 1, d = R · trough: a = 1, d = 2f · arc trough: a = c = 1, d = R
///   plane z = 0: d = ½ · ball: a = b = c = 1, e = −R² · tube along y: a = c = 1, e = −R²
template <typename Real>
struct Quadric {
  Real a = 0, b = 0, c = 0, d = 0, e = 0;
};

/// The part of the quadric that is there (own frame) [m, m²].
template <typename Real>
struct Region {
  static constexpr Real far = std::numeric_limits<Real>::infinity();
  Real r2_from = -1, r2_to = far;       ///< r² = x² + y²
  Real x_half = far, y_half = far;      ///< |x|, |y|
  Real z_from = -far, z_to = far;
};

enum class PieceKind { mirror, disk, rectangle, tube, ball, pot_side, pot_base, pot_lid };

struct Piece {
  PieceKind kind = PieceKind::mirror;
  int owner = 0;               ///< index in Scene::reflectors or Scene::targets
  int face = 0;                ///< face of the target (pot: 0 side, 1 base)
  Quadric<double> quadric;
  Region<double> region;
  Pose pose;
  double front_sign = 1;       ///< +1: the front is where the gradient points; −1: the other side (mirrors)
  bool shades = true;          ///< stops light on its way in
  int front_slot = 0;          ///< ledger line of light that ends on the front (targets)
  int back_slot = 0;           ///< ledger line of light that ends on the back
  Vector3 box_low = Vector3::Zero(), box_high = Vector3::Zero();  ///< own frame [m]
  Vector3 middle() const { return pose.turn * ((box_low + box_high) / 2) + pose.at; }
  double reach() const { return (box_high - box_low).norm() / 2; }
};

/// All pieces of a scene and the names of its ledger lines.
struct PieceList {
  std::vector<Piece> pieces;              ///< reflectors first, in file order: piece k is reflector k
  std::vector<std::string> slot_names;    ///< ledger lines
  int reflector_count = 0;
  // Slots: target k's power is slot k; the others by these.
  std::vector<int> shaded_slot;           ///< by target
  std::vector<int> absorbed_slot;         ///< by reflector
  int missed_slot = 0, bouncing_slot = 0, lost_slot = 0;
};

PieceList make_pieces(const Scene& scene);

}  // namespace dishwright
