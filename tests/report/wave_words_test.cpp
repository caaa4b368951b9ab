// SPDX-License-Identifier: MIT
// Sound and radio in words, word for word, of made-up figures.
#include "report/waves/wave_words.h"

#include <doctest/doctest.h>

#include <cmath>

#include "wave_sample.h"

using namespace dishwright;
using sample::inch;

TEST_CASE("frequencies, levels, angles and long distances as people read them") {
  CHECK(frequency_text(440) == "440 Hz");
  CHECK(frequency_text(999) == "999 Hz");
  CHECK(frequency_text(1000) == "1 kHz");
  CHECK(frequency_text(2500) == "2.5 kHz");
  CHECK(frequency_text(1.68e9) == "1680 MHz");
  CHECK(frequency_text(10.45e9) == "10.45 GHz");
  CHECK(level_text(17.34) == "17.3 dB");
  CHECK(level_text(-0.04) == "0.0 dB");
  CHECK(level_text(-0.06) == "-0.1 dB");
  CHECK(level_text(41, "dBi") == "41.0 dBi");
  CHECK(level_text({}) == "none");
  const double degree = std::numbers::pi / 180;
  CHECK(angle_text(17.62 * degree) == "17.6 deg");
  CHECK(angle_text(180 * degree) == "180 deg");
  CHECK(angle_text(0.01234 * degree) == "0.0123 deg");
  CHECK(distance_text(0.3048 * 618.4, Units::us) == "618 ft");
  CHECK(distance_text(0.3048 * 1234, Units::us) == "1230 ft");
  CHECK(distance_text(1609.344 * 1.25, Units::us) == "1.25 miles");
  CHECK(distance_text(188.5, Units::si) == "189 m");
  CHECK(distance_text(12'340, Units::si) == "12.3 km");
  CHECK(distance_text(123'400'000, Units::si) == "123000 km");
  CHECK(distance_text(0, Units::si) == "0 m");
  CHECK(up_to_five(12.1) == 15);
  CHECK(up_to_five(-12.1) == -10);
  CHECK(down_to_five(12.1) == 10);
  CHECK(down_to_five(-12.1) == -15);
  CHECK(up_to_five(15) == 15);
}

TEST_CASE("what is asked: frequencies, where it comes from, the air or the feed") {
  CHECK(frequencies_words({2000}) == "2 kHz");
  CHECK(frequencies_words({8000, 500, 2000}) == "500 Hz to 8 kHz (3 frequencies)");
  Scene scene = sample::sound_scene();
  CHECK(wave_source_words(scene, Units::us) == "500 Hz to 8 kHz (3 frequencies); from far away, straight ahead; air of 20 °C");
  scene.sound->air.temperature = 273.15 - 12.5;
  scene.sound->aim_error = 0.1, scene.sound->aim_direction = std::numbers::pi / 2;
  CHECK(wave_source_words(scene, Units::us) ==
        "500 Hz to 8 kHz (3 frequencies); from far away, 5.73 deg off the axis toward +y (up); air of -12.5 °C");
  scene.sound->from = Sound::From::place;
  scene.sound->place = {0, 0, 2.54};
  scene.sound->speed = 343;
  scene.sound->frequencies = {2000};
  CHECK(wave_source_words(scene, Units::us) == "2 kHz; from a place at x 0, y 0, z 100 in; speed 343 m/s");
  scene.sound->from = Sound::From::target;
  scene.sound->aim_error = 0;
  CHECK(wave_source_words(scene, Units::us) ==
        "2 kHz; sent by a speaker at the microphone, heard far away straight ahead; speed 343 m/s");
  Scene radio = sample::radio_scene();
  CHECK(wave_source_words(radio, Units::us) == "1680 MHz; far side straight ahead; feed with -10 dB at the rim");
  radio.radio->feed_power = 2.5;
  CHECK(wave_source_words(radio, Units::us) == "1680 MHz; far side straight ahead; feed of cosine power 2.5");
}

TEST_CASE("the answer: more, less, as loud, nothing; radio by its share of the area") {
  WaveFigures figures = sample::sound_figures();
  const auto answer = [&](std::optional<double> gain) {
    figures.targets[0].answers[1].gain = gain;
    return wave_answer_words(figures, 0);
  };
  CHECK(answer(17.34) == "Sound at the microphone: 17.3 dB more than without the mirror, at 2 kHz.");
  CHECK(answer(-3.06) == "Sound at the microphone: 3.1 dB less than without the mirror, at 2 kHz.");
  CHECK(answer(0.04) == "Sound at the microphone: as loud as without the mirror, at 2 kHz.");
  CHECK(answer(-0.04) == "Sound at the microphone: as loud as without the mirror, at 2 kHz.");
  CHECK(answer({}) == "Nothing arrives at the microphone at 2 kHz.");
  CHECK(wave_answer_words(sample::radio_figures(), 0) ==
        "Gain by way of the feed: 24.1 dBi at 1680 MHz, 55.1 % of the most that its area allows.");
  // Sending: what goes out, never what is heard at the speaker; another target listens to it.
  figures.sends = true;
  CHECK(answer(17.34) == "Sound sent from the microphone: far away 17.3 dB more than without the mirror, at 2 kHz.");
  CHECK(answer(-3.06) == "Sound sent from the microphone: far away 3.1 dB less than without the mirror, at 2 kHz.");
  CHECK(answer(0.04) == "Sound sent from the microphone: far away as loud as without the mirror, at 2 kHz.");
  CHECK(answer({}) == "Nothing of the microphone's sound arrives far away at 2 kHz.");
  figures.targets.push_back(figures.targets[0]);
  figures.targets[1].name = "ear", figures.targets[1].answers[1].gain = 3;
  CHECK(wave_answer_words(figures, 1) == "Sound at the ear: 3.0 dB more than without the mirror, at 2 kHz.");
  CHECK(wave_heading(figures, 0) == "Sound sent from the microphone");
  CHECK(wave_heading(figures, 1) == "Sound at the ear");
  CHECK(gain_unit(figures) == "dB");
  CHECK(gain_unit(sample::radio_figures()) == "dBi");
}

TEST_CASE("the beam: its width, the miss that loses half, the strongest side lobe") {
  WaveFigures figures = sample::sound_figures();
  CHECK(beam_words(figures) ==
        "At 2 kHz the beam is 17.6 deg wide (to half the power, 3 dB down): 8.81 deg off to the side, half is lost. The "
        "strongest side "
        "lobe is 13.2 dB below the beam.");
  figures.targets[0].answers[1].side_lobe = 2.0;
  CHECK(beam_words(figures).ends_with(" The strongest side lobe is 2.0 dB above the beam."));
  figures.targets[0].answers[1].side_lobe.reset();
  CHECK(beam_words(figures).ends_with("half is lost."));
  figures.shown = 0;
  CHECK(beam_words(figures) == "At 500 Hz there is no beam: it hears to all sides in front.");
  figures.sends = true;
  CHECK(beam_words(figures) == "At 500 Hz there is no beam: it sends to all sides in front.");
}

TEST_CASE("flaws: their size against the wave, Ruze's rule and the true loss") {
  const Scene scene = sample::radio_scene();
  WaveFigures figures = sample::radio_figures();
  CHECK(flaw_loss_words(scene, figures, Units::si) == "");
  // The wave is 178.448 mm. 5 mm: 1/35.7; Ruze (1966): 10 log10(e) (4π ε/λ)² = 4.3429 · 0.12397 = 0.538 dB.
  figures.surface_rms = 5e-3;
  figures.targets[0].answers[0].radio->surface = 0;
  CHECK(
      flaw_loss_words(scene, figures, Units::si) ==
      "The surface of the dish is off by 5 mm rms (half of the way's error, along the axis): 1/35.7 of a wavelength at 1680 MHz. "
      "By Ruze's "
      "rule that costs 0.5 dB if the errors change within a small part of the mirror; the gain here follows the true shape.");
  figures.targets[0].answers[0].radio->surface = 0.9;  // −10 log10 0.9 = 0.46 dB
  CHECK(flaw_loss_words(scene, figures, Units::si).ends_with("the gain here follows the true shape, which costs 0.5 dB."));
  figures.surface_rms = 1e-6;
  CHECK(flaw_loss_words(scene, figures, Units::si).find(" off by 0.001 mm rms ") != std::string::npos);
  CHECK(flaw_loss_words(scene, figures, Units::si).find(" 1/178000 of a wavelength ") != std::string::npos);
}

TEST_CASE("how rough the surface may be: Ruze's rule turned round") {
  const WaveFigures figures = sample::radio_figures();
  // ε = λ/(4π) √(loss/4.3429): 0.5 dB: 0.0270 λ = 4.818 mm = 0.1897 in; 1 dB: 0.0382 λ = 6.814 mm = 0.2683 in.
  CHECK(surface_words(figures, Units::si) ==
        "How rough the surface may be at 1680 MHz: 4.82 mm (0.027 wavelengths) for 0.5 dB, 6.81 mm (0.038 wavelengths) for 1.0 "
        "dB (rms, "
        "half-path, bumps short against the dish).");
  CHECK(surface_words(figures, Units::us).find(": 0.19 in (0.027 wavelengths) for 0.5 dB, 0.268 in ") != std::string::npos);
  WaveFigures low = figures;
  low.frequencies = {1e6};  // 299.8 m: no powers of ten
  CHECK(surface_words(low, Units::si).find(": 8090 mm (0.027 wavelengths)") != std::string::npos);
}

TEST_CASE("how far a voice carries") {
  WaveFigures figures = sample::sound_figures();
  // 0.012 dB/m are 0.366 dB each 100 ft and 1.2 dB each 100 m.
  figures.voice = VoiceFigures{2000, 68.3, 17.3, 0.012, 80.8, 344.4, false, 0, {}};
  CHECK(voice_words(figures, Units::us) ==
        "A voice of 68.3 dB at 1 m has fallen to 30.0 dB, a quiet field, after 265 ft without and 1130 ft with the dish, at 2 "
        "kHz. The air "
        "swallows 0.37 dB each 100 ft.");
  figures.voice->flat_from = 25 * 0.3048;  // beyond the first row
  CHECK(voice_words(figures, Units::us)
            .ends_with(" each 100 ft. Nearer than about 25 ft the dish does not meet a flat wave, and its gain is another: each "
                       "distance is reckoned by itself."));
  figures.voice->flat_from = 0;
  CHECK(voice_words(figures, Units::si) ==
        "A voice of 68.3 dB at 1 m has fallen to 30.0 dB, a quiet field, after 80.8 m without and 344 m with the dish, at 2 kHz. "
        "The air "
        "swallows 1.2 dB each 100 m.");
  figures.voice->absorption = 2.345;
  CHECK(voice_words(figures, Units::si).ends_with(" The air swallows 230 dB each 100 m."));
}

TEST_CASE("a link: the sum of decibels, the margin and the reach") {
  WaveFigures figures = sample::radio_figures();
  figures.frequencies = {2.4e9};
  LinkBudget link;
  link.transmit_power = 20, link.transmit_gain = 12, link.receive_gain = 24;
  link.distance = 10'000, link.wavelength = 299'792'458 / 2.4e9;
  link.other_losses = 3, link.needed_power = -80;
  figures.link = link;
  // Free space: 20 log10(4π · 10 000/0.124914) = 120.05 dB; 20 + 12 + 24 − 120.05 − 3 = −67.05 dBm: a margin of 12.95 dB, 4.44
  // times as far.
  CHECK(link_words(figures, Units::si) ==
        "At 2400 MHz: 20.0 dBm sent + 12.0 dBi there + 24.0 dBi here - 120.1 dB over 10 km - 3.0 dB of other losses = -67.1 dBm "
        "received. "
        "The receiver needs -80.0 dBm: a margin of 12.9 dB. It would be used up at 44.4 km, in free space and in sight.");
  figures.link->needed_power = -60;  // 7.05 dB too little: 10^(−7.05/20) = 0.444
  CHECK(link_words(figures, Units::si)
            .ends_with(" The receiver needs -60.0 dBm: 7.1 dB too little. It would be just enough at 4.44 km, in free space and "
                       "in sight."));
}

TEST_CASE("a wire mesh: what it lets through") {
  WaveFigures figures = sample::radio_figures();
  CHECK(mesh_words(figures) == "");
  figures.mesh_leaks = {0.00412};
  CHECK(mesh_words(figures) == "The wire mesh lets 0.41 % of the power through at 1680 MHz.");
  figures.mesh_leaks = {0.999};
  CHECK(mesh_words(figures) == "The wire mesh lets 100 % of the power through at 1680 MHz.");
}

TEST_CASE("lengths and places to three digits") {
  CHECK(wave_length_text(7.5857 * inch, Units::us) == "7.59 in");
  CHECK(wave_length_text(1.2345, Units::si) == "1230 mm");
  // To three digits of the largest: what lies below is nought.
  CHECK(wave_place_text(Vector3(0.0004, -0.0012, 7.5857) * inch, Units::us) == "x 0, y 0, z 7.59 in");
  CHECK(wave_place_text(Vector3(-2.196, 2.204, 15.71) * inch, Units::us) == "x -2.2, y 2.2, z 15.7 in");
  CHECK(wave_place_text(Vector3(0, 0, 0), Units::si) == "x 0, y 0, z 0 mm");
}

TEST_CASE("settings and cautions of waves") {
  const std::string line = wave_settings_line(1508, 343.21, "12ab34cd56ef");
  CHECK(line.starts_with("dishwright "));
  CHECK(line.ends_with(" · waves · 1 508 places on the mirror · wave speed 343 m/s · scene 12ab34cd56ef"));
  CHECK(wave_settings_line(1'234'567, 299'792'458, "x").find(" · 1 234 567 places on the mirror · wave speed 3 × 10^8 m/s · ") !=
        std::string::npos);
  CHECK(wave_caution_line(true) ==
        "Caution: receive only unless licensed; a shiny dish near the sun burns eyes and starts fires; local code and school "
        "policy "
        "govern.");
  CHECK(wave_caution_line(false).starts_with("Caution: near sounds get loud too: volume down first; "));
  CHECK(wave_caution_line(false, true).starts_with("Caution: loud in the beam: begin softly, ears out of it; "));
  for (const bool radio : {false, true})
    CHECK(wave_caution(radio).ends_with(
        "  This is no promise that anything is safe. Local code, school policy and\n  licensed practice govern.\n"));
}
