// SPDX-License-Identifier: MIT
// The tables of sound and radio, cell by cell.
#include "report/waves/wave_tables.h"

#include <doctest/doctest.h>

#include "wave_sample.h"

using namespace dishwright;

using Row = std::vector<std::string>;

TEST_CASE("sound by frequency: gains, the beam, what is not there") {
  const WaveFigures figures = sample::sound_figures();
  CHECK(gain_rows(figures, figures.targets[0], 24) == TableRows{{"", "gain", "mirror only", "beam at", "side lobe"},
                                                                {"frequency", "[dB]", "[dB]", "half power", "[dB]"},
                                                                {"500 Hz", "2.0", "-1.5", "all round", "none"},
                                                                {"2 kHz", "17.3", "17.0", "17.6 deg", "-13.2"},
                                                                {"8 kHz", "28.0", "27.9", "4 deg", "-17.0"}});
  // Two rows of three: the ends. One: the first.
  CHECK(gain_rows(figures, figures.targets[0], 2).size() == 4);
  CHECK(gain_rows(figures, figures.targets[0], 2)[3][0] == "8 kHz");
  CHECK(gain_rows(figures, figures.targets[0], 1)[2][0] == "500 Hz");
}

TEST_CASE("radio by frequency: shares in per cent") {
  const WaveFigures figures = sample::radio_figures();
  const TableRows rows = gain_rows(figures, figures.targets[0], 24);
  CHECK(rows[1] == Row{"frequency", "[dBi]", "[%]", "[%]", "[%]", "[%]", "[%]", "half power", "[dB]"});
  CHECK(rows[2] == Row{"1680 MHz", "24.1", "55.1", "75.0", "90.0", "98.5", "82.9", "10.5 deg", "-22.3"});
}

TEST_CASE("what a miss costs, by frequency") {
  CHECK(miss_rows(sample::sound_figures(), 6) == TableRows{{"lost [dB] when", "500 Hz", "2 kHz", "8 kHz"},
                                                           {"25 mm (0.98 in) aside", "0.0", "0.1", "0.2"},
                                                           {"5 deg off", "none", "none", "none"}});
}

TEST_CASE("a voice over distance: 6 dB each doubling, and what the air swallows") {
  WaveFigures figures = sample::sound_figures();
  figures.voice = VoiceFigures{2000, 70, 20, 0.01, 0, 0, false, 0, {{10, 15.5}, {30, {}}}};
  // 70 − 20 log10(r) − 0.01 (r − 1), or from r: 10 m: 50 less 0.1; 100 m: 30 less 1; 300 m: 20.46 less 3. With the dish 20 dB
  // more, at 10 m 15.5 dB; at 30 m the sum did not settle.
  const TableRows rows = voice_rows(figures, Units::si);
  REQUIRE(rows.size() == 6);
  CHECK(rows[0] == Row{"distance", "without [dB]", "with the dish [dB]"});
  CHECK(rows[2] == Row{"10 m", "49.9", "65.4"});
  CHECK(rows[3].back() == "none");
  CHECK(rows[4] == Row{"100 m", "29.0", "49.0"});
  CHECK(rows[5] == Row{"300 m", "17.5", "37.5"});
  CHECK(voice_rows(figures, Units::us)[1][0] == "10 ft");
  CHECK(voice_rows(figures, Units::us)[5][0] == "1000 ft");
}
