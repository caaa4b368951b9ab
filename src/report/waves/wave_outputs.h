// SPDX-License-Identifier: MIT
// The files of a trace of sound or radio.
#pragma once

#include <string>

#include "base/files.h"
#include "picture/pages.h"
#include "report/numbers/number_text.h"
#include "study/wave_figures.h"

namespace dishwright {

/// Everything a report needs to know of one.
struct WaveResult {
  const Scene& scene;
  const std::string& name;    ///< of the project file, without its ending
  const std::string& digest;  ///< of the scene
  const WaveFigures& figures;
  Units units = Units::us;  ///< of what people read; figures.json is SI always
};

/// Adds figures.json with that text, card.pdf on that paper, card.png, map.png, map.csv, pattern.png, .svg, .csv, for sound
/// gain.png, .svg, .csv, and for two facing dishes two-dishes.pdf and .png. Returns the sentence that says what was written
/// where. Throws WriteError.
std::string add_wave_outputs(const WaveResult& result, const std::string& json, PageSize paper, WholeFiles& files);

}  // namespace dishwright
