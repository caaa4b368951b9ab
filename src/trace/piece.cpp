// SPDX-License-Identifier: MIT
#include "trace/piece_parts.h"

namespace dishwright {

namespace {

Piece face_piece(const TargetFace& face) {
  Piece piece;
  piece.target_face = face;
  piece.quadric = face.quadric();
  piece.region = face.region();
  const SpaceBox box = face.box();
  piece.box_low = box.low, piece.box_high = box.high;
  return piece;
}

int add_slot(PieceList& list, const std::string& name) {
  list.slot_names.push_back(name);
  return static_cast<int>(list.slot_names.size()) - 1;
}

}  // namespace

PieceList make_pieces(const Scene& scene) {
  PieceList list;
  list.reflector_count = static_cast<int>(scene.reflectors.size());
  // Ledger lines: what each target gets comes first, so that target k is line k.
  for (const Target& target : scene.targets) add_slot(list, target.name);
  for (const Target& target : scene.targets) list.shaded_slot.push_back(add_slot(list, "shaded by " + target.name));
  if (scene.lamp) {
    for (const Target& target : scene.targets) list.direct_slot.push_back(add_slot(list, "straight to " + target.name));
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
    const TargetBody body = body_of(target.shape);
    for (std::size_t f = 0; f < body.faces().size(); ++f) {
      const TargetFace& face = body.faces()[f];
      Piece piece = face_piece(face);
      piece.plate = body.is_plate();
      piece.owner = static_cast<int>(k), piece.face = static_cast<int>(f);
      piece.pose = target.pose;
      piece.shades = target.shades;
      piece.front_slot = face.counts ? static_cast<int>(k) : add_slot(list, face.name + " of " + target.name);
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
