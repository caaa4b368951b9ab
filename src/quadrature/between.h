// SPDX-License-Identifier: MIT
// Values between the places of a grid, for fields so smooth that few places tell all.
#pragma once

#include <vector>

#include "quadrature/field.h"

namespace dishwright {

/// How many steps of this length [m] may lie between two places at which a field is known that is nowhere sharper than a Gaussian
/// of σ = `smooth` [m, 0: unknown]: at least 1. Places half a σ apart let the drawing between them be wrong by 1e-6 of such a
/// Gaussian's middle.
int steps_between(double smooth, double step);

/// The grid of every n-th place of `fine` along x and of every m-th along y, with the places beyond its ends that drawing between
/// them asks for.
struct ThinGrid {
  PlaneGrid grid;
  int every_x = 1, every_y = 1;
};
/// As thin as `smooth` allows; the fine grid itself where that has no fewer places.
ThinGrid thin_grid(const PlaneGrid& fine, double smooth);

/// The values on the fine grid, drawn through those on the thin one: sin(πx)/(πx) in a window of ± 10 places (Kaiser and Schafer
/// 1980, On the use of the I0-sinh window for spectrum analysis), its weights brought to the sum 1. The field is nowhere below 0,
/// and dark where the thin grid is dark all about.
std::vector<double> drawn_between(const std::vector<double>& values, const ThinGrid& thin, const PlaneGrid& fine);

}  // namespace dishwright
