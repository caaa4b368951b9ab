// SPDX-License-Identifier: MIT
// What reflectors and targets share when they are made into pieces.
#pragma once

#include "trace/piece.h"

namespace dishwright {

/// Cuts to a disc about the z axis, with a hole where hole_width > 0; its box reaches from z = 0 to `top`.
void cut_round(Piece& piece, double width, double hole_width, double top);
/// Cuts to a rectangle about the z axis.
void cut_rectangle(Piece& piece, double width, double length, double top);
/// Surface, region and box of a reflector in its own frame.
Piece mirror_piece(const ReflectorShape& shape);
/// The same with the reflector's flaws: then a height over a plane.
Piece mirror_piece(const Reflector& reflector);

}  // namespace dishwright
