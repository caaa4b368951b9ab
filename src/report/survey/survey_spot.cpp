// SPDX-License-Identifier: MIT
#include "report/survey/survey_spot.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/numbers/card_files.h"
#include "report/numbers/provenance.h"
#include "report/trace/map_card.h"
#include "report/trace/map_view.h"

namespace dishwright {

namespace {

const MapFace& brightest_face(const TargetFigures& target) {
  return *std::max_element(target.map.begin(), target.map.end(),
                           [&](const MapFace& a, const MapFace& b) { return face_share(target, a) < face_share(target, b); });
}

/// A peak that so few paths cannot tell is left out.
void drop_doubtful_peak(WorkCard& card, const TargetFigures& target) {
  if (!target.peak_irradiance || target.peak_irradiance->std_error.value_or(0) < 0.2 * target.peak_irradiance->value) return;
  for (CardBlock& block : card.numbers) {
    if (auto* entries = std::get_if<std::vector<CardEntry>>(&block.body))
      std::erase_if(*entries, [](const CardEntry& entry) { return entry.label.find("eak") != std::string::npos; });
  }
}

}  // namespace

std::vector<WorkCard> spot_cards(const SurveyReport& report) {
  std::vector<WorkCard> cards;
  if (!report.light) return cards;
  const std::string digest = scene_digest(report.light->scene);
  // The scene's title and the power as traced.
  const Result result{report.light->scene, report.name, digest, report.light->figures, report.units};
  for (std::size_t k = 0; k < report.light->targets.size(); ++k) {
    WorkCard card = map_card(result, k);
    card.question = fmt::format("What light would the measured mirror send to the {}?", report.light->targets[k]);
    card.why.emplace_back("The noise of the readings blurs this picture a little.");
    drop_doubtful_peak(card, report.light->figures.targets[k]);
    cards.push_back(std::move(card));
  }
  return cards;
}

CardPicture spot_picture(const SurveyReport& report, const WorkCard& card) {
  const TargetFigures& target = report.light->figures.targets.front();
  // The card has the brightest face first.
  MapPicture map = map_of(card);
  map.panels.resize(1);
  map.bar = false;
  MapPanel& panel = map.panels.front();
  panel.heading.clear();
  panel.face = panel.view;  // no small picture of the whole beside so small a one
  return {std::move(map), fmt::format("Spot on the {} ({})", target.name, brightest_face(target).name)};
}

std::string add_spot_files(const std::vector<WorkCard>& cards, WholeFiles& files) {
  std::string names;
  for (std::size_t k = 0; k < cards.size(); ++k) {
    const std::string stem = k == 0 ? "spot" : fmt::format("spot-{}", k + 1);
    add_card(files, stem, cards[k]);
    names += ", " + stem + ".png";
  }
  return names;
}

}  // namespace dishwright
