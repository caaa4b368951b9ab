// SPDX-License-Identifier: MIT
// What a comparison of sound or radio says and leaves behind.
#pragma once

#include <optional>
#include <string>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "study/wave_compare.h"

namespace dishwright {

/// Who gains most at each drawn frequency, and by how much; or that the method can see no difference.
std::string wave_verdict(const WaveComparison& all);
/// For the screen: the mirrors, a table a frequency with the difference to the first, cautions.
std::string wave_compare_text(const WaveComparison& all, const std::string& name, Units units, Detail detail = Detail::answer);
/// The verdict: printed last.
std::string wave_compare_answer(const WaveComparison& all);
/// {"scenes": [figures as of a trace, with "scene": NAME and "rule"], "differences": [{"a", "b", "frequency": Q, "figure",
/// "difference": Q, "seen"}], "verdict"}; a − b, b is the first. seen: of a gain, that it is 0.5 dB or more. SI units. Ends with
/// a newline.
std::string wave_compare_json(const WaveComparison& all, const std::string& name);
/// A line a scene and frequency.
std::string wave_compare_csv(const WaveComparison& all);
/// Around the first target, one scale for all [dB]: a row a frequency where three of them fit, else the middle one.
WorkCard wave_compare_maps(const WaveComparison& all, const std::string& name, Units units);
/// Sound: gain against frequency. Radio: level against direction at the middle frequency. A line a scene.
WorkCard wave_compare_chart(const WaveComparison& all, const std::string& name);
/// Adds compare.json, compare.csv, maps.png, and gain.png, .svg (sound) or pattern.png, .svg (radio). Returns the words that say
/// so.
std::string add_wave_compare_outputs(const WaveComparison& all, const std::string& name, Units units, WholeFiles& files);

}  // namespace dishwright
