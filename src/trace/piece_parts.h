// SPDX-License-Identifier: MIT
// Reflectors as pieces.
#pragma once

#include "trace/piece.h"

namespace dishwright {

/// Surface, region and box of a reflector in its own frame; with flaws a height over a plane.
Piece mirror_piece(const Reflector& reflector);

}  // namespace dishwright
