// SPDX-License-Identifier: MIT
// One dish, several uses: grades and their words.
#include "report/trace/three_uses.h"

#include <doctest/doctest.h>

#include "wave_sample.h"

using namespace dishwright;

namespace {

const std::string name = "dish", digest = "12ab34cd56ef";

UseLine light_use(std::optional<double> intercept) {
  const Scene scene = sample::kettle_scene();
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].intercept.reset();
  if (intercept) figures.targets[0].intercept = Estimate{*intercept, 0.002, "1"};
  return light_use_line({scene, name, digest, figures, Units::us}, nullptr);
}

}  // namespace

TEST_CASE("grades: from the limit up") {
  CHECK(grade_of(0.9, 0.9, 0.5) == UseGrade::fine);
  CHECK(grade_of(0.8999, 0.9, 0.5) == UseGrade::poor);
  CHECK(grade_of(0.5, 0.9, 0.5) == UseGrade::poor);
  CHECK(grade_of(0.4999, 0.9, 0.5) == UseGrade::useless);
  CHECK(grade_of(-1, 6, 0) == UseGrade::useless);
}

TEST_CASE("light: by the first target's intercept") {
  CHECK(light_use(0.9432).verdict == "fine for light on the kettle");
  CHECK(light_use(0.9432).numbers == "94.3 ± 0.2 % of the mirror's light falls on the kettle (intercept)");
  CHECK(light_use(0.6).verdict == "poor for light on the kettle");
  CHECK(light_use(0.1).verdict == "useless for light on the kettle");
  CHECK(light_use({}).verdict == "useless for light on the kettle");
  CHECK(light_use({}).numbers == "nothing reaches the kettle");
}

TEST_CASE("sound by its lowest frequency, radio by its highest") {
  const Scene scene = sample::sound_scene(), radio = sample::radio_scene();
  WaveFigures figures = sample::sound_figures();
  figures.patterns.clear();
  figures.curve_frequencies = {100, 1000};
  figures.curve.gains = {{1, 1}, {2, 2}};
  const auto sound = [&](std::optional<double> gain) {
    figures.targets[0].answers[0].reflected_gain = gain;
    return wave_use_line({scene, name, digest, figures, Units::us}, false);
  };
  CHECK(sound(6).verdict == "fine for sound from 500 Hz");
  CHECK(sound(5.9).verdict == "poor for sound from 500 Hz");
  CHECK(sound(5.9).numbers == "gain of the mirror alone 5.9 dB at 500 Hz");
  CHECK(sound(-0.1).verdict == "useless for sound from 500 Hz");
  CHECK(sound({}).verdict == "useless for sound from 500 Hz");
  CHECK(sound({}).numbers == "the mirror sends nothing to the microphone at 500 Hz");
  WaveFigures waves = sample::radio_figures();
  waves.patterns = {{1.68e9, {0, 0.1}, {24, 10}}};
  const UseLine line = wave_use_line({radio, name, digest, waves, Units::us}, false);
  CHECK(line.verdict == "fine for radio of 1680 MHz");
  CHECK(line.numbers == "aperture efficiency 55.1 % at 1680 MHz, gain 24.1 dBi");
}

TEST_CASE("the verdicts as text, and the rules behind them") {
  const std::string text = uses_text({light_use(0.6)});
  CHECK(
      text.find("\nOne dish, several uses\n  poor for light on the kettle: 60.0 ± 0.2 % of the mirror's light falls on the\n"
                "    kettle (intercept)\n"));
  CHECK(text.starts_with("\nOne dish, several uses\n  Light: fine from 90 %"));
  CHECK(text.find("Below, useless. Common practice, no source.\n  - poor for light") != std::string::npos);
}
