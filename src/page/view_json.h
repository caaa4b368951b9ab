// SPDX-License-Identifier: MIT
// What the page draws, as JSON.
#pragma once

#include "page/engine_answer.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/number_text.h"
#include "study/side_view.h"
#include "study/wave_figures.h"

namespace dishwright {

/// Size and place of a map, without its numbers.
Json map_json(const EngineMap& map, const char* unit);

/// The cut to draw, in metres across and up: {"profile": [[[x, y]…]…], "targets": […], "rays": [{"across", "way", "toward",
/// "end", "on_plane"}], "named": {"middle", "near_rim", "far_rim"} or null, "depth", "width", "focal_length", "sun", "sun_side",
/// "offset", "directrix", "words"}.
Json view_json(const SideView& view, Units units);

/// [{"frequency", "angles" [rad], "levels" [dB, null in a null]}].
Json patterns_json(const WaveFigures& figures);
/// Gain against frequency of sound: {"frequencies" [Hz], "gains" [dB]}; null for radio.
Json curve_json(const WaveFigures& figures);

}  // namespace dishwright
