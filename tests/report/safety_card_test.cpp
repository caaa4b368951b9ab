// SPDX-License-Identifier: MIT
// The safety page: both brightest places, watts that miss, the whole list, who governs.
#include "report/trace/safety_card.h"

#include <doctest/doctest.h>

#include "figures_sample.h"
#include "report/numbers/caution.h"

using namespace dishwright;

namespace {

WorkCard card_of(const TraceFigures& figures) {
  static const Scene scene = sample::kettle_scene();
  static const std::string name = "kettle-dish", digest = "0123456789ab";
  return safety_card(Result{scene, name, digest, figures, Units::us});
}

std::string value_of(const WorkCard& card, const std::string& label) {
  for (const CardEntry& entry : std::get<std::vector<CardEntry>>(card.numbers.at(0).body)) {
    if (entry.label == label) return entry.value;
  }
  return "(none)";
}

}  // namespace

TEST_CASE("safety page: a pot beside the light of a hot dish") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].peak_irradiance = Estimate{900, 1.0, "W/m2"};
  figures.mirror_best = MirrorBest{{3.38e6, 1e4, "W/m2"}, {0, 0, 0.6096}, 0.6, true};
  const WorkCard card = card_of(figures);
  CHECK(card.question == "What can this light do?");
  CHECK(card.answer.starts_with("Up to about 3400 kW/m². Bare skin can take a second-degree burn in less than a second."));
  CHECK(value_of(card, "Brightest anywhere, when the aim is true") == "3400 kW/m²");
  CHECK(value_of(card, "which is at") == "x 0, y 0, z 24 in");
  CHECK(value_of(card, "Brightest on the kettle") == "0.90 kW/m²");
  CHECK(value_of(card, "Misses every target") == "130 W");
  const CardList& list = std::get<CardList>(card.numbers.back().body);
  CHECK(list.items == safety_list(figures));
  CHECK(list.items.size() == 11);
  CHECK(list.numbered);
  REQUIRE(card.cautions.size() == 1);
  CHECK(card.cautions[0] == "This is no promise that anything is safe. Local code, school policy and licensed practice govern.");
}
