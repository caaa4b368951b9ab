// SPDX-License-Identifier: MIT
#include "wave/air.h"

#include <doctest/doctest.h>

#include <cmath>
#include <utility>

using namespace dishwright;

TEST_CASE("speed of sound: the formula of ISO 9613-1, beside an ideal gas and printed values") {
  const auto at = [](double celsius) { return sound_speed(273.15 + celsius); };
  // [iso9613]: 343.2 m/s at its reference temperature of 293.15 K, as the root of the temperature.
  CHECK(std::abs(at(20) - 343.2) < 1e-9);
  CHECK(std::abs(at(-10) / at(20) - std::sqrt(263.15 / 293.15)) < 1e-12);
  // √(γ R T/M) of dry air: γ = 1.400, R = 8.314462618 J/(mol K), M = 28.9647 g/mol (US Standard Atmosphere 1976).
  for (const double celsius : {-20.0, 0.0, 20.0, 35.0, 50.0})
    CHECK(std::abs(at(celsius) - std::sqrt(1.400 * 8.314462618 * (273.15 + celsius) / 28.9647e-3)) < 0.1);
  // OpenStax University Physics vol. 1, sec. 17.2, Table 17.1: air at 0 °C 331, at 20 °C 343, half of the last digit.
  CHECK(std::abs(at(0) - 331) < 0.5);
  CHECK(std::abs(at(20) - 343) < 0.5);
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
