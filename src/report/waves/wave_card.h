// SPDX-License-Identifier: MIT
// The one-page card of sound or radio, for print and screen.
#pragma once

#include "picture/work_card.h"
#include "report/waves/wave_outputs.h"

namespace dishwright {

/// The question and its answer, charts, numbers with what a miss costs, how to aim and place it, why, cautions, settings.
WorkCard wave_card(const WaveResult& result);

}  // namespace dishwright
