// SPDX-License-Identifier: MIT
#include "report/trace/safety_card.h"

#include <fmt/format.h>

#include "report/numbers/caution.h"
#include "report/numbers/deferral.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"

namespace dishwright {

namespace {

std::vector<CardEntry> brightness_entries(const Result& result) {
  std::vector<CardEntry> out;
  const TraceFigures& figures = result.figures;
  if (figures.mirror_best) {
    const MirrorBest& best = *figures.mirror_best;
    out.push_back({fmt::format("Brightest anywhere{}", best.aimed_true ? ", when the aim is true" : ""),
                   brightness_text(best.irradiance.value)});
    out.push_back({"which is at", place_words({best.at[0], best.at[1], best.at[2]}, result.units)});
  }
  for (const TargetFigures& target : figures.targets) {
    const std::optional<Estimate>& light = target.peak_irradiance ? target.peak_irradiance : target.mean_irradiance;
    out.push_back({fmt::format("Brightest on the {}", target.name), light ? brightness_text(light->value) : "no light"});
  }
  if (const double missed = missed_power(figures); missed > 0)
    out.push_back({"Misses every target", fmt::format("{} {}", rough_text(missed, 2), figures.aperture_power.unit)});
  return out;
}

/// Rough: docs/safety.md says where they come from.
CardList levels() {
  return {{"From 1.58 kW/m²: the most that clothed workers may stand in for long.",
           "From 4.73 kW/m²: a few minutes of emergency work, clothed; dry wood can char.",
           "From 10 kW/m²: severe burns in seconds; clothing may catch fire.",
           "From 20 kW/m²: wood catches fire with no flame near."},
          false,
          8.5};
}

}  // namespace

WorkCard safety_card(const Result& result) {
  const TraceFigures& figures = result.figures;
  WorkCard card;
  card.name = fmt::format("{}: safety", scene_title(result.scene, result.name));
  card.title = {{"Project", scene_title(result.scene, result.name)},
                {"Light", result.scene.lamp ? "lamp" : "sun"},
                {"Sheet", "safety"},
                {"Made with", fmt::format("dishwright {}", DISHWRIGHT_VERSION)}};
  card.question = "What can this light do?";
  card.answer = danger_words(figures);
  if (!result.scene.lamp) {
    card.numbers = {{"Computed here", brightness_entries(result)}, {"Steps that rules use (rough)", levels()}};
  }
  card.numbers.push_back({"The list to work by", CardList{safety_list(figures), true, 10.5}, true});
  card.cautions = {"This is no promise that anything is safe. " + deferral};
  card.settings = {settings_line(result.scene, figures, result.digest)};
  return card;
}

}  // namespace dishwright
