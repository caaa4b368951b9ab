// SPDX-License-Identifier: MIT
// What the card of sound or radio says.
#pragma once

#include <string>
#include <vector>

#include "report/waves/wave_outputs.h"

namespace dishwright {

/// "Does this dish help us hear it?"
std::string wave_question_words(const Scene& scene);
/// Yes, a little or no at the frequency shown (sound: from 6 dB, from 1 dB, below), the figure behind it, and which of the other
/// frequencies asked for get quieter.
std::string wave_verdict_words(const WaveFigures& figures);
/// How to aim the dish, and where the microphone or feed goes.
std::vector<std::string> wave_place_items(const WaveResult& result);
/// Why it is so, in plain words.
std::vector<std::string> wave_why_items(const WaveResult& result);

}  // namespace dishwright
