// SPDX-License-Identifier: MIT
// What a design itself is to sound and radio.
#pragma once

#include "survey/meant_surface.h"

namespace dishwright {

/// Rms over the plan of the half path by which a true design stands off the paraboloid (a trough: the parabola across x) that
/// fits it best: height difference times the square of the normal's z [m]. A flat petal, or a skin that hangs between its ribs,
/// costs gain even where it is built exactly as it was drawn. 0 of an offset dish.
double design_half_path(const MeantSurface& design);

}  // namespace dishwright
