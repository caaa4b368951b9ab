// SPDX-License-Identifier: MIT
// The one-page card of sound or radio, for print and screen.
#pragma once

#include <string>

#include "report/wave_outputs.h"

namespace dishwright {

struct WaveCard {
  std::string pdf, png;
};
/// One page, A4 with metric units, US Letter otherwise: the question and its answer, charts, numbers with what a miss costs, how to aim and
/// place it, why, cautions, settings. The picture is the same page for the screen.
WaveCard wave_card(const WaveResult& result);

}  // namespace dishwright
