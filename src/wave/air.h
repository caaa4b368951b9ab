// SPDX-License-Identifier: MIT
// Air: speed of sound, what it swallows, and how loud speech is far away.
#pragma once

#include "scene/waves.h"

namespace dishwright {

/// Speed of sound in air [m/s]: 331 m/s √(T/273 K) (OpenStax University Physics vol. 1, sec. 17.2), T = 273 K + temperature in °C as that book
/// rounds it. `temperature` [K], > 0. Error below 0.3 % from −20 °C to 50 °C; humidity (at most 0.4 %) left out.
double sound_speed(double temperature);

/// What still air swallows of a pure tone [dB/m]: ISO 9613-1:1993, eqs. (3)–(5) (seen in restatement), checked against its Table 1.
/// Range: 50 Hz … 10 kHz, −20 … 50 °C, 10 … 100 %; error ± 10 %.
double air_absorption(double frequency, const Air& air);

/// Level at a distance in the open [dB]: level_at_1m + gain − 20 log10(distance/1 m) − absorption·distance. No wind, no ground, no echo.
double level_at(double level_at_1m, double distance, double gain, double absorption);
/// Distance at which the level falls to `wanted` [m]; at most 100 km.
double distance_for_level(double level_at_1m, double wanted, double gain, double absorption);

/// Overall level of a voice 1 m in front of the mouth [dB]: ANSI S3.5-1997, from memory.
double voice_level(Voice voice);

}  // namespace dishwright
