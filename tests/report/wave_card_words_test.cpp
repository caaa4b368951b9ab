// SPDX-License-Identifier: MIT
// What the card of sound or radio says.
#include "report/waves/wave_card_words.h"

#include <doctest/doctest.h>

#include "wave_sample.h"

using namespace dishwright;

namespace {

const std::string name = "dish", digest = "12ab34cd56ef";

}  // namespace

TEST_CASE("question: radio gains, a speaker carries, a microphone hears") {
  Scene scene = sample::sound_scene();
  CHECK(wave_question_words(sample::radio_scene()) == "How much does this dish gain?");
  CHECK(wave_question_words(scene) == "Does this dish help us hear it?");
  scene.sound->from = Sound::From::target;
  CHECK(wave_question_words(scene) == "Does this dish carry our sound far?");
}

TEST_CASE("verdict: yes from 6 dB, a little from 1 dB, no below, and what gets quieter; radio has none") {
  WaveFigures figures = sample::sound_figures();
  const auto verdict = [&](std::optional<double> gain) {
    figures.targets[0].answers[1].gain = gain;
    const std::string words = wave_verdict_words(figures);
    return words.substr(0, words.find(" Sound "));
  };
  CHECK(verdict(17.34) == "Yes.");
  CHECK(verdict(6) == "Yes.");
  CHECK(verdict(5.99) == "A little.");
  CHECK(verdict(1) == "A little.");
  CHECK(verdict(0.99) == "No: it makes hardly a difference.");
  CHECK(verdict(-0.99) == "No: it makes hardly a difference.");
  CHECK(verdict(-1) == "No: it makes it quieter.");
  CHECK(verdict({}).starts_with("Nothing"));
  figures.targets[0].answers[1].gain = 5.04;
  CHECK(wave_verdict_words(figures) == "A little. Sound at the microphone: 5.0 dB more than without the mirror, at 2 kHz.");
  figures.targets[0].answers[0].gain = -4.2;  // at another frequency asked for
  CHECK(wave_verdict_words(figures).ends_with(
      " At 500 Hz the wave from the mirror and the straight one cancel: 4.2 dB quieter than without the dish."));
  CHECK(wave_verdict_words(sample::radio_figures()).starts_with("Gain by way of the feed: "));
}

TEST_CASE("where the microphone goes: how finely its bracket must move") {
  const Scene scene = sample::sound_scene();
  WaveFigures figures = sample::sound_figures();
  // Eighths: 21.4 mm (0.84 in) at 2 kHz, 5.36 mm (0.21 in) at 8 kHz.
  CHECK(wave_place_items({scene, name, digest, figures, Units::us})[0] ==
        "Make the bracket of the microphone so that it can be moved that finely: 1/8 wavelength is 0.84 in at 2 kHz and 0.21 in "
        "at 8 "
        "kHz.");
  CHECK(wave_place_items({scene, name, digest, figures, Units::si})[0].ends_with(
      ": 1/8 wavelength is 21 mm at 2 kHz and 5.4 mm at 8 kHz."));
  figures.frequencies = {50, 200, 200};  // 214 mm: no powers of ten, and one number where the shown one is the highest
  const std::vector<std::string> items = wave_place_items({scene, name, digest, figures, Units::si});
  CHECK(items[0].ends_with(": 1/8 wavelength is 210 mm at 200 Hz."));
  CHECK(items.back() == "Aim by ear: sweep slowly past the loudest direction to both sides, then back to the middle.");
  figures.sends = true;
  CHECK(wave_place_items({scene, name, digest, figures, Units::si}).back() ==
        "Aim by a listener far away: sweep slowly past the direction that is loudest there, then back to the middle.");
  const Scene radio = sample::radio_scene();
  CHECK(wave_place_items({radio, name, digest, sample::radio_figures(), Units::us}).back() ==
        "Aim by the receiver's meter: past the peak on both sides, then back to the middle.");
}

TEST_CASE("why: how many wavelengths the mirror is across") {
  const Scene scene = sample::sound_scene(), radio = sample::radio_scene();
  // 1.2192 m / 0.1715 m = 7.11; at 1680 MHz 6.83; at 30 GHz 122.
  CHECK(wave_why_items({scene, name, digest, sample::sound_figures(), Units::us})[1] ==
        "The mirror is 7.1 wavelengths across at 2 kHz. The more, the higher the gain and the narrower the beam.");
  WaveFigures figures = sample::radio_figures();
  CHECK(wave_why_items({radio, name, digest, figures, Units::us})[1].starts_with(
      "The mirror is 6.8 wavelengths across at 1680 MHz."));
  figures.frequencies = {30e9};
  CHECK(wave_why_items({radio, name, digest, figures, Units::us})[1].starts_with(
      "The mirror is 120 wavelengths across at 30 GHz."));
}
