// SPDX-License-Identifier: MIT
#include "trace/piece_parts.h"

#include <cmath>

namespace dishwright {

namespace {

template <class... Ts>
struct Overloaded : Ts... {
  using Ts::operator()...;
};
template <class... Ts>
Overloaded(Ts...) -> Overloaded<Ts...>;

/// A disc across the z axis at height z; its gradient side points down (sign −1) or up (+1).
Piece disc_piece(PieceKind kind, double width, double z, double up) {
  Piece piece;
  piece.kind = kind;
  piece.quadric = {0, 0, 0, -0.5 * up, -up * z};
  cut_round(piece, width, 0, 0);
  piece.box_low.z() = piece.box_high.z() = z;
  return piece;
}

Piece pot_side(const PotTarget& pot) {
  Piece piece;
  piece.kind = PieceKind::pot_side;
  const double radius = pot.width / 2;
  piece.quadric = {1, 1, 0, 0, -radius * radius};
  piece.region.z_from = 0;
  piece.region.z_to = pot.height;
  piece.box_low = Vector3(-radius, -radius, 0);
  piece.box_high = Vector3(radius, radius, pot.height);
  return piece;
}

std::vector<Piece> target_pieces(const TargetShape& shape) {
  std::vector<Piece> pieces;
  std::visit(Overloaded{
                 [&](const DiskTarget& s) { pieces.push_back(disc_piece(PieceKind::disk, s.width, 0, -1)); },
                 [&](const RectangleTarget& s) {
                   Piece piece = disc_piece(PieceKind::rectangle, 1, 0, -1);
                   piece.region = {};
                   cut_rectangle(piece, s.width, s.length, 0);
                   pieces.push_back(piece);
                 },
                 [&](const TubeTarget& s) {
                   Piece piece;
                   piece.kind = PieceKind::tube;
                   const double radius = s.width / 2;
                   piece.quadric = {1, 0, 1, 0, -radius * radius};
                   piece.region.y_half = s.length / 2;
                   piece.box_low = Vector3(-radius, -s.length / 2, -radius);
                   piece.box_high = -piece.box_low;
                   pieces.push_back(piece);
                 },
                 [&](const BallTarget& s) {
                   Piece piece;
                   piece.kind = PieceKind::ball;
                   const double radius = s.width / 2;
                   piece.quadric = {1, 1, 1, 0, -radius * radius};
                   piece.box_low = Vector3::Constant(-radius);
                   piece.box_high = Vector3::Constant(radius);
                   pieces.push_back(piece);
                 },
                 [&](const PotTarget& s) {
                   pieces.push_back(pot_side(s));
                   pieces.push_back(disc_piece(PieceKind::pot_base, s.width, 0, -1));
                   pieces.back().face = 1;
                   pieces.push_back(disc_piece(PieceKind::pot_lid, s.width, s.height, 1));
                 },
                 [](const PointTarget&) {},
             },
             shape);
  return pieces;
}

int add_slot(PieceList& list, const std::string& name) {
  list.slot_names.push_back(name);
  return static_cast<int>(list.slot_names.size()) - 1;
}

}  // namespace

void cut_round(Piece& piece, double width, double hole_width, double top) {
  const double a = width / 2;
  piece.region.r2_to = a * a;
  if (hole_width > 0) piece.region.r2_from = hole_width * hole_width / 4;
  piece.box_low = Vector3(-a, -a, 0);
  piece.box_high = Vector3(a, a, top);
}

void cut_rectangle(Piece& piece, double width, double length, double top) {
  piece.region.x_half = width / 2;
  piece.region.y_half = length / 2;
  piece.box_low = Vector3(-width / 2, -length / 2, 0);
  piece.box_high = Vector3(width / 2, length / 2, top);
}

PieceList make_pieces(const Scene& scene) {
  PieceList list;
  list.reflector_count = static_cast<int>(scene.reflectors.size());
  // Ledger lines: what each target gets comes first, so that target k is line k.
  for (const Target& target : scene.targets) add_slot(list, target.name);
  for (const Target& target : scene.targets) list.shaded_slot.push_back(add_slot(list, "shaded by " + target.name));
  if (scene.lamp) {
    for (const Target& target : scene.targets) list.straight_slot.push_back(add_slot(list, "straight to " + target.name));
    list.unmet_slot = add_slot(list, "missed the mirrors");
  }
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& reflector = scene.reflectors[k];
    Piece piece = mirror_piece(reflector);
    piece.owner = static_cast<int>(k);
    piece.pose = reflector.pose;
    list.absorbed_slot.push_back(add_slot(list, "absorbed by " + reflector.name));
    piece.back_slot = add_slot(list, "back of " + reflector.name);
    list.pieces.push_back(piece);
  }
  for (std::size_t k = 0; k < scene.targets.size(); ++k) {
    const Target& target = scene.targets[k];
    const int back_slot = add_slot(list, "back of " + target.name);
    for (Piece piece : target_pieces(target.shape)) {
      piece.owner = static_cast<int>(k);
      piece.pose = target.pose;
      piece.shades = target.shades;
      piece.front_slot = piece.kind == PieceKind::pot_lid ? add_slot(list, "lid of " + target.name) : static_cast<int>(k);
      piece.back_slot = back_slot;
      list.pieces.push_back(piece);
    }
  }
  list.missed_slot = add_slot(list, "missed");
  list.bouncing_slot = add_slot(list, "still bouncing");
  list.lost_slot = add_slot(list, "lost in rounding");
  return list;
}

}  // namespace dishwright
