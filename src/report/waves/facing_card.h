// SPDX-License-Identifier: MIT
// The sheet of two dishes that face each other across a field.
#pragma once

#include <string>
#include <vector>

#include "picture/work_card.h"
#include "report/waves/wave_outputs.h"

namespace dishwright {

/// Whether two such dishes carry speech across, and the figure behind it.
std::string facing_verdict(const WaveResult& result);
/// By frequency: what one dish gives to a place far away, twice that, and what both give at this distance [dB]; one row of
/// titles.
std::vector<std::vector<std::string>> facing_rows(const WaveResult& result);
/// How to set them up.
std::vector<std::string> facing_items(const WaveResult& result);
/// Side view of both, gains, how to set them up, why. Of a scene with sound.facing.
WorkCard facing_card(const WaveResult& result);

}  // namespace dishwright
