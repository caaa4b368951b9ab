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

/// With the brightest place anywhere, and watts that miss.
TraceFigures with_best(double on_target, double anywhere, double missed) {
  TraceFigures figures = with_peak(on_target);
  figures.mirror_best = MirrorBest{{anywhere, 1.0, "W/m2"}, {0, 0, 0.6}, 0.6, false};
  for (LedgerLine& line : figures.ledger) {
    if (line.where == "missed") line.power.value = missed;
  }
  return figures;
}

std::string screen(const TraceFigures& figures) { return caution(figures, "Rules: safety.pdf."); }

std::string listed(const TraceFigures& figures) {
  std::string all;
  for (const std::string& one : safety_list(figures)) all += one + "\n";
  return all;
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
  CHECK(has(danger_words(with_peak(1200)), "That is under 1.58 kW/m², but it still dazzles"));
  CHECK(has(danger_words(with_peak(1800)), "about 1.80 kW/m². Bare skin can take a second-degree burn in about 2 minutes."));
  CHECK(has(danger_words(with_peak(5000)), "about 5.0 kW/m². Bare skin can take a second-degree burn in about 25 s."));
  CHECK(has(danger_words(with_peak(5000)), "wood has caught fire at 4.3 kW/m² in one study"));
  CHECK(has(danger_words(with_peak(12000)), "Normal clothing may catch fire."));
  CHECK(has(danger_words(with_peak(3378e3)), "about 3400 kW/m². Bare skin can take a second-degree burn in less than a second."));
  CHECK(has(danger_words(with_peak(25000)), "can catch fire with no flame near"));
  CHECK(has(screen(with_peak(1200)), "CAUTION: up to 1.20 kW/m²: it dazzles."));
  CHECK(has(screen(with_peak(1800)), "1.80 kW/m²: skin burns in about 2 minutes."));
  CHECK(has(screen(with_peak(5000)), "5.0 kW/m²: skin burns in about 25 s, wood and cloth char."));
  CHECK(has(screen(with_peak(12000)), "12 kW/m²: skin burns in about 8 s, clothing may catch fire."));
  CHECK(has(screen(with_peak(3378e3)), "3400 kW/m²: skin burns in under a second, cloth and wood catch fire."));
}

TEST_CASE("every caution keeps eyes away and ends with who governs") {
  for (const double peak : {0.0, 500.0, 2000.0, 6000.0, 15000.0, 1e6}) {
    CHECK(has(screen(with_peak(peak)), "Never look in; cover it until two are ready. Rules: safety.pdf."));
    CHECK(screen(with_peak(peak)).ends_with("govern.\n"));
    CHECK(caution_line(with_peak(peak)).ends_with("local code, school policy and licensed practice govern."));
    for (const char* part :
         {"Never look in the mirror or at the bright spot", "cover it first, then move it", "face down indoors"})
      CHECK(has(listed(with_peak(peak)), part));
  }
}

// The mirror decides, not the target: a pot beside the light of a hot dish gets little, and the dish is as dangerous as ever.
TEST_CASE("the list is the whole one unless it is known that the mirrors do little anywhere and little misses") {
  const char* parts[] = {"Two people",         "Keep the cover on", "gloves, long sleeves and eye protection rated",
                         "nobody in the beam", "fire extinguisher", "bare ground",
                         "over 15 mph",        "sealed container",  "in a vehicle",
                         "sharp edges",        "two people",        "catches wind like a sail"};
  for (const char* part : parts) CHECK(has(listed(with_best(900, 50e3, 0)), part));
  CHECK(has(listed(with_peak(900)), "extinguisher"));            // nobody looked for the brightest place
  CHECK(has(listed(with_best(900, 1500, 21)), "extinguisher"));  // 21 W miss
  CHECK_FALSE(has(listed(with_best(900, 1500, 19)), "extinguisher"));
  CHECK(safety_list(with_best(900, 1500, 0)).size() == 3);
  CHECK(danger(with_best(900, 50e3, 0)) == 50e3);
  CHECK(danger(with_best(60e3, 50e3, 0)) == 60e3);
  CHECK(caution_line(with_best(900, 50e3, 0)).starts_with("Caution: up to about 50 kW/m² can burn bare skin"));
}

TEST_CASE("the screen names both numbers, and the watts that miss from 20 W on") {
  CHECK(screen(with_best(800e3, 1560e3, 0)) ==
        "CAUTION: up to 1600 kW/m² (on the kettle 800): skin burns in under a second,\n"
        "  cloth and wood catch fire. Never look in; cover it until two are ready. Rules:\n"
        "  safety.pdf. Local code, school policy and licensed practice govern.\n");
  CHECK(has(screen(with_best(800e3, 1560e3, 241)), "catch fire. 240 W miss the kettle and go on. Never look in;"));
  CHECK_FALSE(has(screen(with_best(800e3, 1560e3, 19)), "miss the kettle"));
  TraceFigures dark = with_best(0, 1560e3, 990);
  dark.targets[0].peak_irradiance.reset(), dark.targets[0].mean_irradiance.reset();
  CHECK(has(screen(dark), "1600 kW/m² (on the kettle none): skin burns"));
  CHECK(missed_power(dark) == 990);
  // A target of that name gets light; it does not miss it.
  dark.ledger.insert(dark.ledger.begin(), LedgerLine{"missed", {712, 1.0, "W"}});
  CHECK(missed_power(dark) == 990);
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
  CHECK(has(screen(figures), "this mirror dazzles. 130 W miss the targets and go on. Never look in;"));
}

TEST_CASE("the line for pictures is one sentence") {
  CHECK(caution_line(with_peak(52340)) ==
        "Caution: up to about 52 kW/m² can burn bare skin in less than a second and set cloth or wood on fire; never look at the "
        "bright spot; "
        "local code, school policy and licensed practice govern.");
}

TEST_CASE("the line for pictures, word for word at each level") {
  const std::string rule = "; never look at the bright spot; local code, school policy and licensed practice govern.";
  CHECK(caution_line(with_peak(1579)) ==
        "Caution: light from a mirror can dazzle and burn, and be far brighter off the target" + rule);
  CHECK(caution_line(with_best(900, 1500, 0)) == "Caution: light from a mirror can dazzle and burn" + rule);
  // (50.2/1.8)^(1/0.7063) = 111.4 s; 1.58: 134 s; 5: 26.2 s; 9.96: 9.88 s; 12: 7.59 s; 52: 0.95 s; 49: 1.03 s.
  CHECK(caution_line(with_peak(1800)) == "Caution: up to about 1.80 kW/m² can burn bare skin in about 2 minutes" + rule);
  CHECK(caution_line(with_peak(5000)) == "Caution: up to about 5.0 kW/m² can burn bare skin in about 25 s and char wood" + rule);
  CHECK(caution_line(with_peak(9960)) == "Caution: up to about 10 kW/m² can burn bare skin in about 10 s and char wood" + rule);
  CHECK(caution_line(with_peak(12'000)) ==
        "Caution: up to about 12 kW/m² can burn bare skin in about 8 s and set cloth or wood on fire" + rule);
  CHECK(caution_line(with_peak(49'000)) ==
        "Caution: up to about 49 kW/m² can burn bare skin in about 1 s and set cloth or wood on fire" + rule);
  CHECK(caution_line(with_peak(52'340)) ==
        "Caution: up to about 52 kW/m² can burn bare skin in less than a second and set cloth or wood on fire" + rule);
  // About a minute: (50.2/2.8)^(1/0.7063) = 59.6 s.
  CHECK(caution_line(with_peak(2800)) == "Caution: up to about 2.8 kW/m² can burn bare skin in about 1 minute" + rule);
}
