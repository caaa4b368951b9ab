// SPDX-License-Identifier: MIT
#include "report/numbers/caution.h"

#include <doctest/doctest.h>

#include "approx.h"
#include "figures_sample.h"
#include "report/numbers/text_layout.h"

using namespace dishwright;

namespace {

TraceFigures with_peak(double irradiance) {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].peak_irradiance = Estimate{irradiance, std::nullopt, "W/m2"};
  return figures;
}

bool has(const std::string& text, const std::string& part) {
  CAPTURE(text);
  std::string flat;  // line breaks and indents do not matter
  for (const char c : text) {
    if ((c == '\n' || c == ' ') && (flat.empty() || flat.back() == ' ')) continue;
    flat += c == '\n' ? ' ' : c;
  }
  return flat.find(part) != std::string::npos;
}

}  // namespace

// 1.58 and 4.73 kW/m² [api521]; 10 [hymes1983]; 20, lower bound for wood [h2tools_flux].
TEST_CASE("levels change at the published steps") {
  CHECK(heat_level(0) == HeatLevel::mild);
  CHECK(heat_level(1579) == HeatLevel::mild);
  CHECK(heat_level(1580) == HeatLevel::pain);
  CHECK(heat_level(4729) == HeatLevel::pain);
  CHECK(heat_level(4730) == HeatLevel::burn);
  CHECK(heat_level(9999) == HeatLevel::burn);
  CHECK(heat_level(10000) == HeatLevel::severe);
  CHECK(heat_level(19999) == HeatLevel::severe);
  CHECK(heat_level(20000) == HeatLevel::ignition);
}

// Second-degree burn at 4.5, 6.4, 10, 16 kW/m² after 30, 18, 10, 5 s (restated table, rounded to whole seconds: 5 %), and the
// power law's own values 23.105 kW/m² at 3 s and 9.872 kW/m² at 10 s (1e-3).
TEST_CASE("burn times match the published table") {
  CHECK(burn_time(4500) == testing::approx(30).epsilon(0.05));
  CHECK(burn_time(6400) == testing::approx(18).epsilon(0.05));
  CHECK(burn_time(10000) == testing::approx(10).epsilon(0.05));
  CHECK(burn_time(16000) == testing::approx(5).epsilon(0.05));
  CHECK(burn_time(23105) == testing::approx(3).epsilon(1e-3));
  CHECK(burn_time(9872) == testing::approx(10).epsilon(1e-3));
}

TEST_CASE("words grow with the brightness") {
  CHECK(has(caution(with_peak(1200)), "That is under 1.58 kW/m², but it still dazzles"));
  CHECK(has(caution(with_peak(1800)), "about 1.80 kW/m². Bare skin can take a second-degree burn in about 2 minutes."));
  CHECK(has(caution(with_peak(5000)), "about 5.0 kW/m². Bare skin can take a second-degree burn in about 25 s."));
  CHECK(has(caution(with_peak(5000)), "wood has caught fire at 4.3 kW/m² in one study"));
  CHECK(has(caution(with_peak(12000)), "Normal clothing may catch fire."));
  CHECK(has(caution(with_peak(3378e3)), "about 3400 kW/m². Bare skin can take a second-degree burn in less than a second."));
  CHECK(has(caution(with_peak(25000)), "can catch fire with no flame near"));
}

TEST_CASE("every caution keeps eyes away and ends with who governs") {
  for (const double peak : {0.0, 500.0, 2000.0, 6000.0, 15000.0, 1e6}) {
    const std::string text = caution(with_peak(peak));
    CHECK(has(text, "Never look in the mirror or at the bright spot"));
    CHECK(has(text, "cover it first, then move it"));
    CHECK(has(text, "face down indoors"));
    CHECK(has(text, "This is no promise that anything is safe."));
    CHECK(text.ends_with("govern.\n"));
    CHECK(caution_line(with_peak(peak)).ends_with("local code, school policy and licensed practice govern."));
  }
}

TEST_CASE("a hot spot calls for the whole list, a weak one for the short list") {
  const char* parts[] = {"Two people",         "cover on",          "gloves, long sleeves and eye protection rated",
                         "nobody in the beam", "fire extinguisher", "bare ground",
                         "over 15 mph",        "sealed container",  "in a vehicle"};
  for (const char* part : parts) CHECK(has(caution(with_peak(50e3)), part));
  CHECK_FALSE(has(caution(with_peak(900)), "extinguisher"));
  CHECK(caution(with_peak(900)).size() < caution(with_peak(50e3)).size());
}

TEST_CASE("the mean stands in for a missing peak, and the brightest target counts") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].peak_irradiance.reset();
  CHECK(brightest(figures) == 39059);
  figures.targets.push_back(figures.targets[0]);
  figures.targets[1].peak_irradiance = Estimate{90e3, std::nullopt, "W/m2"};
  CHECK(brightest(figures) == 90e3);
  figures.targets.clear();
  CHECK(brightest(figures) == 0);
  CHECK(has(caution(figures), "no mirror light lands on the target. It goes somewhere else and can burn there."));
}

TEST_CASE("the line for pictures is one sentence") {
  CHECK(caution_line(with_peak(52340)) ==
        "Caution: about 52 kW/m² can burn bare skin in less than a second and set cloth or wood on fire; never look at the "
        "bright spot; "
        "local code, school policy and licensed practice govern.");
}

TEST_CASE("the line for pictures, word for word at each level") {
  const std::string rule = "; never look at the bright spot; local code, school policy and licensed practice govern.";
  CHECK(caution_line(with_peak(1579)) ==
        "Caution: light from a mirror can dazzle and burn; never look at the bright spot; local code, school policy and licensed "
        "practice "
        "govern.");
  // (50.2/1.8)^(1/0.7063) = 111.4 s; 1.58: 134 s; 5: 26.2 s; 9.96: 9.88 s; 12: 7.59 s; 52: 0.95 s; 49: 1.03 s.
  CHECK(caution_line(with_peak(1800)) == "Caution: about 1.80 kW/m² can burn bare skin in about 2 minutes" + rule);
  CHECK(caution_line(with_peak(5000)) == "Caution: about 5.0 kW/m² can burn bare skin in about 25 s and char wood" + rule);
  CHECK(caution_line(with_peak(9960)) == "Caution: about 10 kW/m² can burn bare skin in about 10 s and char wood" + rule);
  CHECK(caution_line(with_peak(12'000)) ==
        "Caution: about 12 kW/m² can burn bare skin in about 8 s and set cloth or wood on fire" + rule);
  CHECK(caution_line(with_peak(49'000)) ==
        "Caution: about 49 kW/m² can burn bare skin in about 1 s and set cloth or wood on fire" + rule);
  CHECK(caution_line(with_peak(52'340)) ==
        "Caution: about 52 kW/m² can burn bare skin in less than a second and set cloth or wood on fire" + rule);
  // About a minute: (50.2/2.8)^(1/0.7063) = 59.6 s.
  CHECK(caution_line(with_peak(2800)) == "Caution: about 2.8 kW/m² can burn bare skin in about 1 minute" + rule);
}

TEST_CASE("a whole caution, word for word: faint light, and none on the target") {
  const std::string rest =
      "  - Never look in the mirror or at the bright spot: even a faint picture of the\n"
      "    sun is as bright as the sun.\n"
      "  - Keep a cover on the mirror until you are ready. When done, cover it first,\n"
      "    then move it.\n"
      "  - Store it face down indoors. Never leave it parked in the open.\n"
      "  This is no promise that anything is safe. Local code, school policy and\n"
      "  licensed practice govern.\n";
  CHECK(caution(with_peak(1200)) ==
        "CAUTION: The brightest computed spot is about 1.20 kW/m². That is under\n"
        "  1.58 kW/m², but it still dazzles, and other places in the beam can be far\n"
        "  brighter than the target.\n" +
            rest);
  TraceFigures dark = with_peak(0);
  dark.targets[0].mean_irradiance.reset();
  CHECK(caution(dark) ==
        "CAUTION: As computed, no mirror light lands on the target. It goes somewhere\n"
        "  else and can burn there.\n" +
            rest);
}
