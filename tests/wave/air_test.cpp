// SPDX-License-Identifier: MIT
#include "wave/air.h"

#include <doctest/doctest.h>

#include <cmath>
#include <utility>

using namespace dishwright;

TEST_CASE("speed of sound as printed in a textbook") {
  // OpenStax University Physics vol. 1, sec. 17.2: 0, 20, 30, 35, 56 °C.
  const auto at = [](double celsius) { return sound_speed(273.15 + celsius); };
  CHECK(std::abs(at(0) - 331) < 0.5);
  CHECK(std::abs(at(20) - 343) < 0.5);
  CHECK(std::abs(at(30) - 348.7) < 0.05);
  CHECK(std::abs(at(35) - 351.58) < 0.005);
  CHECK(std::abs(at(56) - 363) < 0.5);
}

TEST_CASE("absorption of sound in air") {
  // ISO 9613-1:1993 Table 1, exact midbands at 20 °C, 70 %, 101.325 kPa [dB/km], three printed digits.
  const Air air{293.15, 0.7, 101'325};
  const std::pair<double, double> printed[] = {{-9, 0.338}, {-6, 1.13}, {-3, 2.80}, {0, 4.98}, {3, 9.02}, {6, 22.9}, {9, 76.6}};
  for (const auto& [step, expected] : printed) {
    const double frequency = 1000 * std::pow(10, step / 10);
    CHECK(std::abs(1000 * air_absorption(frequency, air) / expected - 1) < 0.005);
  }
}

TEST_CASE("levels far away") {
  CHECK(std::abs(level_at(60, 2, 0, 0) - 53.979400) < 1e-6);  // −6.0206 dB at twice the distance
  const double far = distance_for_level(60, 30, 12, 0.005);
  CHECK(std::abs(level_at(60, far, 12, 0.005) - 30) < 1e-9);
  CHECK(voice_level(Voice::shout) > voice_level(Voice::normal));
}
