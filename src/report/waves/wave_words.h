// SPDX-License-Identifier: MIT
// Sound and radio in words: levels, pitches, the source, what the figures say in plain sentences.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "study/wave_figures.h"

namespace dishwright {

/// "500 Hz", "2 kHz", "1680 MHz".
std::string frequency_text(double frequency);
/// "17.3 dB", "-0.4 dB"; "none" where nothing arrives.
std::string level_text(const std::optional<double>& level, const std::string& unit = "dB");
/// An angle [rad] to three digits: "17.6 deg".
std::string angle_text(double angle);
/// Next multiple of 5 dB at or above, or below.
double up_to_five(double level);
double down_to_five(double level);
/// The unit of a gain: "dB", or "dBi" of radio.
std::string gain_unit(const WaveFigures& figures);
/// "2 kHz", or "500 Hz to 8 kHz (5 frequencies)".
std::string frequencies_words(const std::vector<double>& frequencies);
/// "2 kHz, from far away, straight ahead".
std::string wave_source_words(const Scene& scene, Units units);
/// What a target's figures stand under: "Sound at the microphone", "Sound sent from the speaker", "Gain by way of the feed".
std::string wave_heading(const WaveFigures& figures, std::size_t target);
/// "Sound at the microphone: 17.3 dB more than without the mirror, at 2 kHz."
std::string wave_answer_words(const WaveFigures& figures, std::size_t target);
/// "the beam is 12.3 deg wide at half its power"; what it means to aim.
std::string beam_words(const WaveFigures& figures);
/// What the flaws of the first mirror are to the wave; empty for a true mirror.
std::string flaw_loss_words(const Scene& scene, const WaveFigures& figures, Units units);
/// Radio: how rough the surface may be for a loss of 0.5 dB and of 1 dB, at the frequency shown.
std::string surface_words(const WaveFigures& figures, Units units);
/// A length [m] to three digits: "7.59 in"; and a place, to three digits of its largest coordinate: "x 0, y 0, z 7.59 in".
std::string wave_length_text(double metres, Units units);
std::string wave_place_text(const Vector3& place, Units units);
/// A long distance [m], three digits: "620 ft", "1.2 miles", "190 m", "12 km".
std::string distance_text(double metres, Units units);
/// "A voice of 68.3 dB at 1 m has fallen to 30 dB, a quiet field, after 265 ft without and 1130 ft with the dish, at 2 kHz."
std::string voice_words(const WaveFigures& figures, Units units);
/// What arrives over a link, its margin and its reach; and the latter two alone.
std::string link_words(const WaveFigures& figures, Units units);
std::string link_margin_words(const WaveFigures& figures, Units units);
/// "The wire mesh lets 0.4 % of the power through at 1680 MHz."; empty where there is none.
std::string mesh_words(const WaveFigures& figures);
/// "dishwright 0.9 · waves · 1 508 places on the mirror · wave speed 343 m/s · scene 12ab…"; the places only with
/// Detail::method.
std::string wave_settings_line(std::size_t places, double speed, const std::string& digest, Detail detail = Detail::method);
/// Words of caution for sound or radio, a block of lines; and one sentence for the foot of a picture. `sends`: sound goes out.
std::string wave_caution(bool radio, bool sends = false);
std::string wave_caution_line(bool radio, bool sends = false);

}  // namespace dishwright
