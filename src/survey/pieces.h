// SPDX-License-Identifier: MIT
// Dishes made of equal pieces side by side round the axis: petals, or bays of a skin between ribs.
#pragma once

#include <string>
#include <vector>

#include "survey/fit.h"

namespace dishwright {

/// Where a piece has its places: middle lines and seams of petals, ribs and middles of bays; azimuths from +x, 0 to 2π [rad].
/// Numbered clockwise seen from the sun, the first at 12 o'clock or next to it.
struct Piece {
  int number = 0;     ///< from 1
  double middle = 0;  ///< of the petal or the bay
  double edge = 0;    ///< the seam or rib on its clockwise side
};
std::vector<Piece> pieces_of(const MeantSurface& surface);

/// Throws InputError where a piece has no reading, and says which and where.
void refuse_unread_pieces(const SurveyPoints& survey, const MeantSurface& surface);

/// Do readings at these azimuths [rad] show the middle and both edges of every piece?
bool shows_pieces(const MeantSurface& surface, const std::vector<double>& angles);

}  // namespace dishwright
