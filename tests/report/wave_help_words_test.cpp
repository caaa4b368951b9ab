// SPDX-License-Identifier: MIT
// Where sound is helped, where it gets quieter, the loudest place and two facing dishes in words, of made-up figures.
#include "report/waves/wave_help_words.h"

#include <doctest/doctest.h>

#include "report/waves/facing_card.h"
#include "wave_sample.h"

using namespace dishwright;
using sample::inch;

namespace {

/// With a curve from 100 Hz to 10 kHz.
WaveFigures curved() {
  WaveFigures figures = sample::sound_figures();
  figures.curve_frequencies = {100, 10'000};
  figures.curve.gains = {{-20, 0.5}, {20, 21}};
  return figures;
}

}  // namespace

TEST_CASE("from which pitch up the mirror helps, and how it is elsewhere") {
  const Scene scene = sample::sound_scene();
  CHECK(helps_words(scene, sample::sound_figures()) == "");
  WaveFigures figures = curved();
  figures.help = {{{618, 10'000}}, -0.44, 3.12, {}};
  // 48 in at 618 Hz: 1.2192 m / 0.555 m = 2.2 wavelengths.
  CHECK(helps_line(scene, figures) ==
        "From about 620 Hz up the dish helps (1 dB and more, about the least that an ear notices).");
  CHECK(helps_words(scene, figures) == helps_line(scene, figures) + " Below, down to 100 Hz, the gain is -0.4 to 3.1 dB.");
  figures.help.bands[0].from = 123;  // 0.44 wavelengths
  CHECK(helps_words(scene, figures).ends_with(" At 120 Hz the mirror is 0.4 wavelengths across, so that pitch is rough."));
  figures.help = {{{618, 1200}, {1840, 10'000}}, -8, 0.9, {}};
  CHECK(helps_words(scene, figures) ==
        "From about 620 Hz to 1.2 kHz and from about 1.8 kHz up the dish helps (1 dB and more, about the least that an ear "
        "notices). Elsewhere, down to 100 Hz, the gain is -8.0 to 0.9 dB.");
  figures.help.bands = {{400, 500}, {600, 700}, {800, 900}, {1000, 1100}, {1300, 10'000}};
  CHECK(helps_line(scene, figures)
            .starts_with("From about 400 Hz to 500 Hz, from about 600 Hz to 700 Hz, from about 800 Hz to 900 Hz, and in 2 more "
                         "ranges the dish helps "));
  figures.help.bands.clear();
  CHECK(helps_words(scene, figures) ==
        "Up to 10 kHz the dish never helps: what it sends here stays below the straight wave, or adds less than 1 dB to it.");
  figures.help.bands = {{100, 10'000}};
  CHECK(helps_words(scene, figures) ==
        "Even at 100 Hz the dish helps (1 dB and more, about the least that an ear notices). At 100 Hz the mirror is 0.4 "
        "wavelengths across, so that pitch is rough.");
}

TEST_CASE("what cancels: of the frequencies asked for, and between them") {
  WaveFigures figures = curved();
  CHECK(cancelled_words(figures) == "");
  auto& answers = figures.targets[0].answers;
  answers[0].gain = -0.99;  // hardly a difference
  CHECK(cancelled_words(figures) == "");
  figures.help.cancelled = {{693, -4.2}};
  CHECK(cancelled_asked_words(figures) == "");
  CHECK(cancelled_words(figures) ==
        "At about 690 Hz the wave from the mirror and the straight one cancel: 4.2 dB quieter than without the dish.");
  figures.help.cancelled = {{693, -4.2}, {1210, -1.3}};
  CHECK(cancelled_words(figures) ==
        "At about 690 Hz (by 4.2 dB) and 1.2 kHz (by 1.3 dB) the wave from the mirror and the straight one cancel: quieter than "
        "without the dish.");
  for (const double more : {2000.0, 3000.0, 4000.0}) figures.help.cancelled.push_back({more * 1.1, -2});
  CHECK(cancelled_words(figures).find(", 1.2 kHz (by 1.3 dB) and 2.2 kHz (by 2.0 dB) and 2 more pitches the wave ") !=
        std::string::npos);
  answers[0].gain = -2.14;
  figures.help.cancelled = {{497, -2.2}};  // that is the one asked for
  CHECK(cancelled_words(figures) ==
        "At 500 Hz the wave from the mirror and the straight one cancel: 2.1 dB quieter than without the dish.");
  figures.help.cancelled = {{470, -9}};
  CHECK(cancelled_words(figures).ends_with(" without the dish. The quietest pitches are about 470 Hz (by 9.0 dB)."));
  answers[2].gain = -1;
  CHECK(cancelled_asked_words(figures) ==
        "At 500 Hz (by 2.1 dB) and 8 kHz (by 1.0 dB) the wave from the mirror and the straight one cancel: quieter than without "
        "the dish.");
}

TEST_CASE("the loudest place near a microphone") {
  const Scene scene = sample::sound_scene();
  WaveFigures figures = sample::sound_figures();
  CHECK(best_place_words(scene, figures, Units::us) == "");
  figures.details[1].best = BestReceiverPlace{{0, 0, 25.4 * inch}, {17, 17.72}, false};
  CHECK(best_place_words(scene, figures, Units::us) ==
        "Loudest place near there at 2 kHz: x 0, y 0, z 25.4 in, 1.4 in from the middle of the microphone; gain 17.7 dB.");
  figures.details[1].best->at_edge = true;
  CHECK(best_place_words(scene, figures, Units::si) ==
        "Loudest place near there at 2 kHz: x 0, y 0, z 645 mm, 35.6 mm from the middle of the microphone; gain 17.7 dB. It lies "
        "on the edge of the map: farther out it may be louder still.");
}

TEST_CASE("two dishes that face each other: louder, fainter, as loud, nothing; their table and verdict") {
  Scene scene = sample::sound_scene();
  scene.sound->facing = 60 * 0.3048;
  WaveFigures figures = sample::sound_figures();
  const std::string name = "dish", digest = "12ab34cd56ef";
  const auto facing = [&](std::optional<double> gain) {
    figures.link_gains = {{}, gain, 41.26};
    return facing_words(scene, figures, Units::us);
  };
  const auto verdict = [&](std::optional<double> gain) {
    figures.link_gains[1] = gain;
    const std::string words = facing_verdict({scene, name, digest, figures, Units::us});
    return words.substr(0, words.find(" Two "));
  };
  CHECK(facing(31.24) ==
        "Two such dishes that face each other 60 ft apart: what is said at the microphone of one comes by way of both 31.2 dB "
        "louder to that of the other than straight, at 2 kHz.");
  CHECK(facing(-2).find(" comes by way of both 2.0 dB fainter to that of the other than straight, ") != std::string::npos);
  CHECK(facing(0.9).find(" comes by way of both about as loud to that of the other as straight, ") != std::string::npos);
  CHECK(facing({}) == "Two such dishes that face each other 60 ft apart: nothing arrives at 2 kHz.");
  CHECK(verdict(31) == "Yes.");
  CHECK(verdict(5.9) == "A little.");
  CHECK(verdict(0.9) == "No: the straight sound is as loud or louder.");
  CHECK(verdict({}) == "No.");
  figures.link_gains[1] = 31.24;
  const auto rows = facing_rows({scene, name, digest, figures, Units::us});
  REQUIRE(rows.size() == 4);
  CHECK(rows[1] == std::vector<std::string>{"500 Hz", "-1.5", "-3.0", "none"});
  CHECK(rows[2] == std::vector<std::string>{"2 kHz", "17.0", "33.9", "31.2"});
  CHECK(rows[3] == std::vector<std::string>{"8 kHz", "27.9", "55.8", "41.3"});
}
