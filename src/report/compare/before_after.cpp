// SPDX-License-Identifier: MIT
#include "report/compare/before_after.h"

#include <fmt/format.h>

#include <cmath>

#include "report/compare/compare_pictures.h"
#include "report/numbers/caution.h"
#include "report/numbers/light_units.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/trace/why.h"

namespace dishwright {

namespace {

const TargetFigures& target_of(const Contestant& one) { return one.figures.targets.front(); }

/// The share that counts: of the mirror's light, of a lamp the share of its own.
const std::optional<Estimate>& share_of(const Contestant& one) {
  return one.figures.caught_share ? one.figures.caught_share : target_of(one).intercept;
}

/// To three digits, without the error.
std::string percent(const std::optional<Estimate>& share) {
  return share ? percent_text({share->value, std::nullopt, "1"}) : "none";
}
std::string cell(const std::optional<Estimate>& figure, Units units) {
  return figure ? number_text({figure->value, std::nullopt, figure->unit}, units) : "none";
}

std::vector<std::vector<std::string>> rows_of(const Comparison& pair, Units units) {
  const Contestant &before = pair.contestants[0], &after = pair.contestants[1];
  const TargetFigures &was = target_of(before), &is = target_of(after);
  std::vector<std::vector<std::string>> rows = {{"", "before", "after"}};
  rows.push_back({fmt::format("share on the {}", was.name), percent(share_of(before)), percent(share_of(after))});
  rows.push_back({fmt::format("light on the {}", was.name), cell(was.power, units), cell(is.power, units)});
  rows.push_back({"peak", cell(was.peak_irradiance, units), cell(is.peak_irradiance, units)});
  if (was.spot_width_90 || is.spot_width_90)
    rows.push_back({"width that holds 90 %", cell(was.spot_width_90, units), cell(is.spot_width_90, units)});
  return rows;
}

/// Where the share stays: how the spot changes, if anybody would see it.
std::string spot_change(const TargetFigures& was, const TargetFigures& is, Units units) {
  constexpr double seen = 0.05;
  if (was.spot_width_90 && is.spot_width_90) {
    const double ratio = is.spot_width_90->value / was.spot_width_90->value;
    if (std::abs(ratio - 1) > seen)
      return fmt::format(". But the spot {}: 90 % of the light within {}, not {}.", ratio > 1 ? "grows" : "shrinks",
                         cell(is.spot_width_90, units), cell(was.spot_width_90, units));
  }
  if (was.peak_irradiance && is.peak_irradiance) {
    const double ratio = is.peak_irradiance->value / was.peak_irradiance->value;
    if (std::abs(ratio - 1) > seen)
      return fmt::format(". But its brightest place has {}, not {}.", cell(is.peak_irradiance, units),
                         cell(was.peak_irradiance, units));
  }
  return ": no difference to speak of.";
}

}  // namespace

std::string change_words(const std::vector<SetChange>& changes) {
  std::string out;
  for (const SetChange& one : changes)
    out += fmt::format("{}{} {} -> {}", out.empty() ? "" : "; ", one.key, one.from.empty() ? "not set" : one.from, one.to);
  return out;
}

std::string before_after_answer(const Comparison& pair, Units units) {
  const std::optional<Estimate>&was = share_of(pair.contestants[0]), &is = share_of(pair.contestants[1]);
  const std::string& name = target_of(pair.contestants[0]).name;
  if (!was && !is) return fmt::format("No light reaches the {}, before or after.", name);
  if (!was || !is) return fmt::format("Light reaches the {} only {}.", name, was ? "before the change" : "after the change");
  const Estimate change = difference(*is, *was);
  const std::string both =
      fmt::format("The {} catches {} {}; before it was {}", name, percent(is),
                  pair.contestants[1].figures.caught_share ? "of the lamp's light" : "of the mirror's light", percent(was));
  constexpr double little = 1e-3;  // nobody would see it
  if (std::abs(change.value) < little)
    return both + spot_change(target_of(pair.contestants[0]), target_of(pair.contestants[1]), units);
  // Two standard errors: 95 of 100 runs.
  if (std::abs(change.value) <= 2 * change.std_error.value_or(0)) return both + ": no difference that these paths can tell.";
  return fmt::format("{}: {} points {}.", both, rough_text(100 * std::abs(change.value), 2), change.value > 0 ? "more" : "less");
}

WorkCard before_after_card(const Comparison& pair, const std::vector<SetChange>& changes, const Result& after) {
  const Contestant &first = pair.contestants[0], &second = pair.contestants[1];
  WorkCard card;
  card.name = fmt::format("{}: before and after", scene_title(after.scene, after.name));
  card.title = {{"Project", scene_title(after.scene, after.name)},
                {"Target", fmt::format("{} ({})", target_of(second).name, target_of(second).shape)},
                {"Mirror", mirrors_words(after.scene)},
                {"Sheet", "before and after"}};
  card.question = "What does it change? " + change_words(changes);
  card.answer = before_after_answer(pair, after.units);
  CardPicture maps = compare_maps(pair, after.name, after.units).common.pictures.front();
  maps.heading = "One window and one scale of ink for both. Lines hold 50 % (solid), 90 % (dashed)";
  maps.share = 1, maps.height = 88;
  card.numbers = {{"The numbers", CardTable{rows_of(pair, after.units)}}};
  card.pictures = {std::move(maps)};
  std::vector<std::string> set;
  for (const SetChange& one : changes) set.push_back(change_words({one}));
  card.numbers.push_back({"What was set", CardList{std::move(set)}});
  card.why = why_lines(after.scene, after.figures, 0, after.units, after.story);
  card.notes = {
      "Before: the project file as it stands. After: with what was set. Both have the same seed and number of paths. The reasons "
      "are those of the changed one."};
  card.cautions = {caution_line(danger(second.figures) > danger(first.figures) ? second.figures : first.figures)};
  card.settings = {settings_line(after.scene, after.figures, after.digest)};
  return card;
}

}  // namespace dishwright
