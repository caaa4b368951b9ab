// SPDX-License-Identifier: MIT
// Air: speed of sound, what it swallows, and how loud speech is far away.
#pragma once

#include "scene/waves.h"

namespace dishwright {

/// Speed of sound in air [m/s]: 343.2 m/s √(T/293.15 K) as the absorption below takes it [iso9613].
/// `temperature` [K], > 0. Beside a gas of 28.9647 g/mol whose heats are as 1.4 to 1 below 0.1 m/s; humidity, which the standard
/// leaves out here, adds at most 0.4 %.
double sound_speed(double temperature);

/// What still air swallows of a pure tone [dB/m]: eqs. (3)–(5) of [iso9613], checked against its Table 1.
/// Range: 50 Hz … 10 kHz, −20 … 50 °C, 10 … 100 %; error ± 10 %.
double air_absorption(double frequency, const Air& air);

/// Level at a distance in the open [dB]: level_at_1m + gain − 20 log10(distance/1 m) − absorption·distance. No wind, no ground,
/// no echo.
double level_at(double level_at_1m, double distance, double gain, double absorption);
/// Distance at which the level falls to `wanted` [m]; at most 100 km.
double distance_for_level(double level_at_1m, double wanted, double gain, double absorption);

/// Overall level of a voice 1 m in front of the mouth [dB]: [ansis35].
double voice_level(Voice voice);

}  // namespace dishwright
