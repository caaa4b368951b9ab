// SPDX-License-Identifier: MIT
// A target's map as a table for spreadsheets.
#pragma once

#include <string>

#include "report/numbers/light_units.h"
#include "report/numbers/number_text.h"
#include "result/figures.h"

namespace dishwright {

/// One row a bin: face, bin centre in mm or in, irradiance in kW/m² (a lamp: in W/m² or lux). Of a round face only the bins whose
/// centre lies on it.
std::string map_csv(const TargetFigures& target, Units units, const LightUnits& light = {});

/// Whether a point [m] lies on the face: within its rectangle, and for a round face within the inscribed circle (ellipse).
bool on_face(const MapFace& face, double x, double y);

}  // namespace dishwright
