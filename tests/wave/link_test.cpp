// SPDX-License-Identifier: MIT
#include "wave/link.h"

#include "wave/gain.h"
#include "wave_scenes.h"

using namespace dishwright;
using namespace dishwright::test;

TEST_CASE("free-space loss and a link budget") {
  // 1 km at 1 GHz: 92.44778322 dB; 10 km at 10 GHz: 132.4478 dB (published pages of two signal-processing libraries).
  CHECK(std::abs(free_space_loss(1000, light_speed / 1e9) - 92.44778322) < 1e-8);
  CHECK(std::abs(free_space_loss(10'000, light_speed / 10e9) - 132.4478) < 5e-5);
  // Balanis, Antenna Theory, example 2.16 (Friis, 4.792 mW): the same numbers by way of the budget: 100λ, 16 and 20 dB, 2 W, 0.2
  // and 0.1 of mismatch.
  LinkBudget budget{33, 16, 20, 100, 1, 0, -20};
  CHECK(std::abs(budget.received_power() - (33 + 36 - 20 * std::log10(4 * pi * 100))) < 1e-12);
  budget.distance = link_reach(budget);
  CHECK(std::abs(budget.margin()) < 1e-9);
}

TEST_CASE("two facing dishes far apart: the product of both gains; nearer, less") {
  // Far away the second dish stands in a plane wave: K1·K2, K = 2kf ln(1 + d/f), closed form.
  const double f = 0.24, width = 0.6, wave_number = 2 * pi / 0.1;
  const double gain = 2 * wave_number * f * std::log(1 + width * width / (16 * f * f));
  const auto link_at = [&](double distance) {
    Scene scene = wave_scene(Paraboloid{f, width, 0});
    scene.reflectors.push_back(scene.reflectors[0]);
    scene.reflectors[1].pose.turn = rotation(pi, 0, 0);
    scene.reflectors[1].pose.at = Vector3(0, 0, distance);
    return two_dish_link(scene, of_length(0.1), Vector3(0, 0, f), 0, Vector3(0, 0, distance - f), 1);
  };
  const TwoDishLink far = link_at(2000);
  CHECK(far.convergence.reached);
  CHECK(std::abs(far.gain - 2 * decibels(gain)) < 0.01);
  CHECK(std::abs(far.first_gain - decibels(gain)) < 0.01);
  CHECK(link_at(10).gain < far.gain);
}

TEST_CASE("a class dish talked into from its focus is heard clearly about 300 ft away") {
  // Common practice, no source: a gain of 10 dB or more at speech's consonants brings a raised voice over a quiet field.
  const double f = 0.24;
  const WaveField field = wave_field(wave_scene(Paraboloid{f, 0.6, 0}), of_length(343.0 / 2000),
                                     WaveSource::from_point({0, 0, f}), {Vector3(0, 0, 91.44)});
  CHECK(wave_gain(field.reflected[0], field.direct[0]).reflected_gain > 10);
}
