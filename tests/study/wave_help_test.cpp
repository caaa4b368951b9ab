// SPDX-License-Identifier: MIT
// Pitches at which a dish helps, against the closed form of a gain with an echo.
#include "study/wave_help.h"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>

#include "approx.h"

using namespace dishwright;

namespace {

/// A mirror's part of amplitude a·f that comes `late` seconds after the straight wave: |1 + a f e^{2πi f late}|.
struct Echo {
  double per_hertz = 0, late = 0;
  WaveGain at(double frequency) const {
    const double part = per_hertz * frequency;
    const std::complex<double> both = 1.0 + std::polar(part, 2 * std::numbers::pi * frequency * late);
    return {20 * std::log10(part), 20 * std::log10(std::abs(both))};
  }
  WaveHelp help(const std::vector<double>& frequencies) const {
    std::vector<WaveGain> gains;
    for (const double frequency : frequencies) gains.push_back(at(frequency));
    return wave_help(frequencies, gains, [&](double frequency) { return at(frequency).gain; });
  }
};

}  // namespace

TEST_CASE("help: bands and dips of an echo, where its closed form has them") {
  const Echo echo{1.0 / 1000, 1.0 / 400};  // as strong as the straight wave at 1 kHz, a turn late every 400 Hz
  const std::vector<double> frequencies = frequency_steps(100, 20e3, 240);
  const WaveHelp help = echo.help(frequencies);
  // Out of step at 200, 600, 1000, … Hz; the power 1 + g² + 2 g cos is lowest near there, and below -1 dB only up to 1400 Hz:
  // |1 - 1.8| at 1800 Hz is -1.9 dB. So 200, 600, 1000, 1400, 1800.
  std::vector<double> truth;
  for (double middle : {200.0, 600.0, 1000.0, 1400.0, 1800.0}) {
    double best = middle, least = 1e9;
    for (double f = middle - 40; f < middle + 40; f += 0.01)
      if (echo.at(f).gain < least) least = echo.at(f).gain, best = f;
    truth.push_back(best);
  }
  REQUIRE(help.cancelled.size() == truth.size());
  for (std::size_t k = 0; k < truth.size(); ++k) {
    CHECK(std::abs(help.cancelled[k].frequency / truth[k] - 1) < 1e-3);
    CHECK(help.cancelled[k].gain == testing::approx(echo.at(help.cancelled[k].frequency).gain).epsilon(1e-9));
    // The null at 1 kHz is bottomless; elsewhere the dip is as deep as the closed form's.
    if (k != 2) CHECK(std::abs(help.cancelled[k].gain - echo.at(truth[k]).gain) < 0.02);
  }
  CHECK(help.cancelled[2].gain < -50);
  // The last band: from where the gain is 1 dB for good, after 1800 Hz (2200 Hz: |1 - 2.2| is 1.6 dB).
  double last = 0;
  for (double f = 100; f < 20e3; f += 0.1)
    if (echo.at(f).gain < heard_change) last = f;
  CHECK(help.bands.back().to == frequencies.back());
  CHECK(std::abs(help.bands.back().from / last - 1) < 3e-3);
  // Inside of the bands both conditions hold; outside one fails.
  for (double f = 101; f < 19e3; f *= 1.013) {
    bool in = false, edge = false;
    for (const PitchBand& band : help.bands) {
      in = in || (f >= band.from && f <= band.to);
      edge = edge || std::abs(f / band.from - 1) < 5e-3 || std::abs(f / band.to - 1) < 5e-3;
    }
    if (!edge) CHECK(in == (echo.at(f).gain >= heard_change && echo.at(f).reflected_gain >= 0));
  }
}

TEST_CASE("help: none where the mirror's part is faint, everywhere where it is strong, and what lies elsewhere") {
  const std::vector<double> frequencies = {100, 1000, 10'000};
  const auto help_of = [&](std::vector<WaveGain> gains) { return wave_help(frequencies, gains, [](double) { return 0.0; }); };
  CHECK(help_of({{-20, 0.8}, {-9, 2.4}, {-3, 4.5}}).bands.empty());  // adds, but the mirror's part is the fainter one
  CHECK(help_of({{3, 0.5}, {3, 0.9}, {3, -2}}).bands.empty());
  const WaveHelp all = help_of({{3, 2}, {9, 11}, {20, 20}});
  REQUIRE(all.bands.size() == 1);
  CHECK(all.bands[0].from == 100);
  CHECK(all.bands[0].to == 10'000);
  CHECK(all.most_elsewhere == 0);
  // Half of the way between 0 and 2 dB of margin lies at log10 f = 2.5.
  const WaveHelp some = help_of({{-2, 3}, {2, 4}, {20, 20}});
  REQUIRE(some.bands.size() == 1);
  CHECK(some.bands[0].from == testing::approx(std::pow(10, 2.5)).epsilon(1e-9));
  CHECK(some.least_elsewhere == 3);
  CHECK(some.most_elsewhere == 3);
}
