// SPDX-License-Identifier: MIT
// The figures of sound or radio as JSON and as tables.
#pragma once

#include <string>

#include "report/numbers/json_quantity.h"

#include "report/numbers/number_text.h"
#include "study/wave_figures.h"

namespace dishwright {

/// {"scene", "version", "scene_digest", "seed", "method": "waves", "source", "frequency" or "frequencies", "targets", …}; SI.
/// Where the file lists frequencies, each figure is a list in their order. A level where nothing arrives is null.
Json wave_json(const Scene& scene, const std::string& scene_name, const std::string& digest, const WaveFigures& figures);

/// "frequency [Hz],gain [dB],by the mirror alone [dB]": the gain curve of the first target.
std::string gain_csv(const WaveFigures& figures);
/// "angle [deg],500 Hz [dB],…".
std::string pattern_csv(const WaveFigures& figures);
/// "x [in],y [in],gain [dB]": a map, the way `up` named "y" or "z"; row by row from the lowest, from the target's centre. Cells
/// where nothing arrives are empty. Of a turned axial map "aside [in]": toward the loudest place, square to the target's own z.
std::string wave_map_csv(const WaveMap& map, const std::string& up, Units units);

}  // namespace dishwright
