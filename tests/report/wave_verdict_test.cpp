// SPDX-License-Identifier: MIT
// Who gains most, word for word, of made-up figures.
#include <doctest/doctest.h>

#include "report/waves/wave_compare.h"
#include "wave_sample.h"

using namespace dishwright;

namespace {

/// Sound at 500 Hz, 2 and 8 kHz; the verdict is asked for at 2 kHz.
WaveComparison comparison(const std::vector<std::pair<std::string, std::optional<double>>>& gains) {
  WaveComparison all;
  for (const auto& [name, gain] : gains) {
    WaveContestant one{name, "rule", sample::sound_scene(), sample::sound_figures(), {}};
    one.figures.targets[0].answers[1].gain = gain;
    all.contestants.push_back(one);
  }
  all.mapped = {1};
  return all;
}

}  // namespace

TEST_CASE("one gains most; the others by how much less; who hears nothing") {
  CHECK(wave_verdict(comparison({{"sphere", 15.1}, {"paraboloid", 17.34}, {"flat", {}}})) ==
        "At 2 kHz the paraboloid gains most, 17.3 dB; the sphere 2.2 dB less, the flat mirror hears nothing.");
  CHECK(wave_verdict(comparison({{"sphere", -3}, {"paraboloid", -9.04}})) ==
        "At 2 kHz the sphere gains most, -3.0 dB; the paraboloid 6.0 dB less.");
}

TEST_CASE("differences below half a decibel are not seen") {
  CHECK(wave_verdict(comparison({{"sphere", 17}, {"paraboloid", 17.4}})) ==
        "At 2 kHz there is no difference that the method can see between the paraboloid and the sphere (17.4 dB).");
  CHECK(wave_verdict(comparison({{"sphere", 17}, {"paraboloid", 17.4}, {"petals", 17.2}, {"cone", 3}})) ==
        "At 2 kHz there is no difference that the method can see between the paraboloid, the dish of petals and the sphere (17.4 "
        "dB); the "
        "cone 14.4 dB less.");
  CHECK(wave_verdict(comparison({{"sphere", 17}, {"paraboloid", 17.5}}))
            .starts_with("At 2 kHz the paraboloid gains most, 17.5 dB"));
}

TEST_CASE("where nothing arrives, and where the mirror is small against the wave") {
  CHECK(wave_verdict(comparison({{"sphere", {}}, {"paraboloid", {}}})) == "At 2 kHz nothing arrives.");
  WaveComparison all = comparison({{"sphere", 1}, {"paraboloid", 3}});
  for (WaveContestant& one : all.contestants) one.figures.frequencies = {50, 200, 800};  // 1.2192 m at 200 Hz: 0.71 wavelengths
  CHECK(wave_verdict(all) ==
        "At 200 Hz the paraboloid gains most, 3.0 dB; the sphere 2.0 dB less. The mirror is 0.7 wavelengths across there, so "
        "this is "
        "rough.");
  all.mapped = {0, 2};
  for (WaveContestant& one : all.contestants) one.figures.targets[0].answers[2].gain = 20;
  CHECK(wave_verdict(all).find(" At 800 Hz there is no difference ") != std::string::npos);
}
