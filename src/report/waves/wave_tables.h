// SPDX-License-Identifier: MIT
// The tables of sound and radio as rows of cells, for the terminal and for the card.
#pragma once

#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "study/wave_figures.h"

namespace dishwright {

using TableRows = std::vector<std::vector<std::string>>;

/// Gain and beam by frequency, radio with its efficiency and the factors. Two rows of titles; `most` frequencies at most, evenly
/// taken.
TableRows gain_rows(const WaveFigures& figures, const WaveTarget& target, std::size_t most);
/// What a miss costs [dB], a row each, by frequency. One row of titles; `most` frequencies at most.
TableRows miss_rows(const WaveFigures& figures, std::size_t most);

/// The level of the voice there without and with the dish. One row of titles. The figures must have a voice.
TableRows voice_rows(const WaveFigures& figures, Units units);

}  // namespace dishwright
