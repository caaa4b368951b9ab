// SPDX-License-Identifier: MIT
// What the work-card picture of one target shows.
#pragma once

#include "picture/work_card.h"
#include "report/numbers/light_units.h"
#include "report/trace/outputs.h"

namespace dishwright {

/// One face with its axes in the printed unit, the window of map_view, values calmed for the eye [kW/m²] and the marks of 50 %
/// and 90 %.
MapPanel face_panel(const TargetFigures& target, const MapFace& face, Units units, const LightUnits& light);

/// The card of target number `index`: question and answer, a MapPicture with the circles or bands of 50 % and 90 %, figures with
/// ±, where the light went, the why and the settings.
WorkCard map_card(const Result& result, std::size_t index);
/// The card's map.
const MapPicture& map_of(const WorkCard& card);

}  // namespace dishwright
