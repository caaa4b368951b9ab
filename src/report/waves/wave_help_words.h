// SPDX-License-Identifier: MIT
// Sound in words: where the dish helps, where it makes it quieter, the loudest place, two dishes that face each other.
#pragma once

#include <string>

#include "report/numbers/number_text.h"
#include "study/wave_figures.h"

namespace dishwright {

/// Whether a gain is help: "Yes." from 6 dB, "A little." from 1 dB, else that it is hardly heard or quieter.
std::string help_verdict(double gain);
/// "From about 620 Hz up the dish helps (1 dB and more, about the least that an ear notices)."; and with how it is elsewhere:
/// "Below, down to 100 Hz, the gain is -0.4 to 3.1 dB."
std::string helps_line(const Scene& scene, const WaveFigures& figures);
std::string helps_words(const Scene& scene, const WaveFigures& figures);
/// "At 700 Hz the wave from the mirror and the straight one cancel: 4.2 dB quieter than without the dish."; of the frequencies
/// asked for, and of the pitches between them where the gain dips. Empty where there is none.
std::string cancelled_words(const WaveFigures& figures);
/// The same of the frequencies asked for alone.
std::string cancelled_asked_words(const WaveFigures& figures);
/// "Loudest place near there at 2 kHz: x 0, y 0, z 7.59 in, 1.59 in from the microphone; gain 17.9 dB."; empty where none was
/// sought.
std::string best_place_words(const Scene& scene, const WaveFigures& figures, Units units);
/// "Two such dishes that face each other 60 ft apart: the sound of one microphone's place arrives at the other's by way of both
/// 31.2 dB louder than straight, at 2 kHz."
std::string facing_words(const Scene& scene, const WaveFigures& figures, Units units);

}  // namespace dishwright
