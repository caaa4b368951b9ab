// SPDX-License-Identifier: MIT
// What the work-card picture of one target shows.
#pragma once

#include "picture/map_page.h"
#include "report/light_units.h"
#include "report/outputs.h"

namespace dishwright {

/// One face with its axes in the printed unit, the window of map_view, values calmed for the eye [kW/m²] and the marks of 50 % and 90 %.
MapPanel face_panel(const TargetFigures& target, const MapFace& face, Units units, const LightUnits& light);

/// The card of target number `index`: question and answer, map panels with the circles or bands of 50 % and 90 %, figures with ±, the why
/// and the settings.
MapPage map_card(const Result& result, std::size_t index);

}  // namespace dishwright
