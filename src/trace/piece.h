// SPDX-License-Identifier: MIT
// The surfaces of a scene as the tracer meets them: every mirror and target face is one piece of a quadric.
#pragma once

#include <string>
#include <vector>

#include "scene/scene.h"
#include "shape/quadric.h"

namespace dishwright {

enum class PieceKind { mirror, disk, rectangle, tube, ball, pot_side, pot_base, pot_lid };

struct Piece {
  PieceKind kind = PieceKind::mirror;
  int owner = 0;  ///< index in Scene::reflectors or Scene::targets
  int face = 0;   ///< face of the target (pot: 0 side, 1 base)
  Quadric<double> quadric;
  Region<double> region;
  Pose pose;
  double front_sign = 1;  ///< +1: the front is where the gradient points; −1: the other side (mirrors)
  bool shades = true;     ///< stops light on its way in
  int front_slot = 0;     ///< ledger line of light that ends on the front (targets)
  int back_slot = 0;      ///< ledger line of light that ends on the back
  Vector3 box_low = Vector3::Zero(), box_high = Vector3::Zero();  ///< own frame [m]
  Vector3 middle() const { return pose.turn * ((box_low + box_high) / 2) + pose.at; }
  double reach() const { return (box_high - box_low).norm() / 2; }
};

/// All pieces of a scene and the names of its ledger lines.
struct PieceList {
  std::vector<Piece> pieces;            ///< reflectors first, in file order: piece k is reflector k
  std::vector<std::string> slot_names;  ///< ledger lines
  int reflector_count = 0;
  // Slots: target k's power is slot k; the others by these.
  std::vector<int> shaded_slot;    ///< by target
  std::vector<int> straight_slot;  ///< by target: a lamp's light that met no mirror; empty for sunlight
  int unmet_slot = 0;              ///< a lamp's light that met nothing at all
  std::vector<int> absorbed_slot;  ///< by reflector
  int missed_slot = 0, bouncing_slot = 0, lost_slot = 0;
};

PieceList make_pieces(const Scene& scene);

}  // namespace dishwright
