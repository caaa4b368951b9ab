// SPDX-License-Identifier: MIT
#include "report/tolerance/tolerance_outputs.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "base/csv.h"
#include "report/numbers/card_files.h"
#include "report/numbers/deferral.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/numbers/text_table.h"
#include "report/tolerance/shop_table.h"
#include "report/tolerance/tolerance_words.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

constexpr double chart_reach = 1.6;  // of a limit

std::string settings(const Tolerance& all, Detail detail = Detail::method) {
  if (all.waves) return wave_settings_line(all.waves->convergence.points, all.waves->speed, scene_digest(all.scene), detail);
  return fmt::format("dishwright {} · seed {} · {} paths a point · scene {}", DISHWRIGHT_VERSION, all.scene.trace.seed,
                     grouped_whole(all.scene.trace.paths), scene_digest(all.scene));
}

/// The first column flush left, for it is words.
std::string shop_lines(const Tolerance& all, Units units) {
  const auto cells = shop_cells(all, units);
  std::vector<int> widths(cells.front().size(), 0);
  for (const auto& row : cells) {
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], characters(row[c]));
  }
  int wide = 0;
  for (const int width : widths) wide += width + 2;
  const std::string gap(wide > text_width ? 1 : 2, ' ');
  std::string out;
  for (const auto& row : cells) {
    std::string line = (wide > text_width ? "" : gap) + flush_left(row[0], widths[0]);
    for (std::size_t c = 1; c < row.size(); ++c) line += gap + flush_left(row[c], widths[c]);
    out += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
  }
  return out;
}

std::string table(const Tolerance& all, Units units) {
  int widest = 0;
  for (const ToleranceLimit& limit : all.limits) widest = std::max(widest, characters(limit_name(limit)));
  std::string out;
  for (const ToleranceLimit& limit : all.limits) {
    const std::string words = limit_in_shop_words(all, limit, units);
    const std::string pad(static_cast<std::size_t>(widest + 4), ' ');
    out += wrapped(limit_text(all, limit, units), "  " + flush_left(limit_name(limit), widest) + "  ", pad);
    if (!words.empty()) out += wrapped(words, pad, pad);
  }
  return out;
}

/// Share caught [%], or loss of gain [dB].
double charted(const Tolerance& all, double figure) { return all.waves ? *all.waves->gain - figure : 100 * figure; }

/// A curve against parts of its limit [%]; points beyond the chart are left out.
ChartLine line_of(const Tolerance& all, const ToleranceLimit& limit) {
  ChartLine line;
  line.label = limit_name(limit);
  for (const LimitPoint& point : limit.curve) {
    const double part = point.at / limit.limit->value;
    if (part > 2 * chart_reach) break;
    line.x.push_back(100 * part), line.y.push_back(charted(all, point.figure));
    if (!all.waves) line.error.push_back(100 * point.std_error);
  }
  return line;
}

}  // namespace

std::string tolerance_text(const Tolerance& all, const std::string& name, Units units, Detail detail) {
  std::string out = oddity_lines(all.scene.oddities) + title_lines(scene_title(all.scene, name) + ": how good must it be?");
  for (const Reflector& mirror : all.scene.reflectors)
    out += wrapped("Mirror " + mirror.name + ": " + mirror_words(all.scene, mirror, units), "", "  ");
  const Target& target = all.scene.targets[all.target];
  out += wrapped("Target " + target.name + ": " + target_words(target, units), "", "  ");
  for (const std::string& note : all.scene.notes) out += wrapped(note, "Note: ", "  ");
  out += "\n" + wrapped(tolerance_question(all, units));
  if (all.waves) {
    out += table(all, units);
  } else {
    out += "\n" + shop_lines(all, units) + "\n";
    for (const std::string& note : shop_notes(all)) out += wrapped(note, "  ", "  ");
    if (detail == Detail::method) out += "\nIn numbers\n" + table(all, units);
  }
  const std::string budget = budget_sentence(all, units);
  if (!budget.empty()) out += "\n" + wrapped(budget, "", "  ");
  std::string exactness = all.waves
                              ? "The limits are those of the wave integral, without chance; a real dish differs by 1 dB or so."
                              : "The limits are found by tracing, to a part of a per cent; your tools are coarser.";
  if (all.waves && !all.waves->convergence.reached)
    exactness += fmt::format(" The sum over the mirror did not settle: good to about {} of the strongest amplitude.",
                             rough_text(all.waves->convergence.change, 1));
  out += "\n" + wrapped(exactness +
                        " Keep a margin: the wind, the heat and the next person's aim also count. Nothing here promises that a "
                        "structure holds or that a fire is safe; " +
                        deferral_clause);
  if (all.waves) out += "\n" + wave_caution(all.scene.radio.has_value());
  if (detail == Detail::method)
    out +=
        "\n" + wrapped(all.waves ? "Each limit is found by the wave integral of the dish with that one thing changed."
                                 : "Each limit is found by tracing the same random paths at one value after another; its error "
                                   "comes from the replicates of these paths.");
  return out + "\n" + wrapped(settings(all, detail), "", "  ");
}

std::string tolerance_answer(const Tolerance& all, Units units) {
  std::string out = answer_heading("Verdict", all.scene.oddities) + wrapped(tolerance_verdict(all), "  ", "  ");
  if (const std::string width = width_sentence(all, units); !width.empty()) out += wrapped(width, "  ", "  ");
  return out;
}

std::string tolerance_csv(const Tolerance& all, Units units) {
  const std::string length = length_unit(units);
  std::string out = "key,side,limit,± limit,unit,words\n";
  for (const ToleranceLimit& limit : all.limits) {
    std::string value, error, unit;
    if (limit.limit) {
      const Estimate shown = in_shown_unit(*limit.limit, units);
      value = fmt::format("{:.6g}", shown.value), unit = shown.unit;
      if (shown.std_error) error = fmt::format("{:.2g}", *shown.std_error);
    }
    std::string words = limit_text(all, limit, units);
    if (const std::string shop = limit_in_shop_words(all, limit, units); !shop.empty()) words += "; " + shop;
    out += fmt::format("{},{},{},{},{},{}\n", csv_text(limit.key), csv_text(limit.side), value, error, unit, csv_text(words));
  }
  return out;
}

WorkCard tolerance_sheet(const Tolerance& all, const std::string& name, Units units) {
  constexpr double table_type = 11, all_at_once_type = 10;  // to be read at the bench [points]
  WorkCard card = tolerance_card(all, name, units);
  card.question = "How far may each thing be off?";
  card.answer = joined_sentences(tolerance_verdict(all), width_sentence(all, units));
  card.pictures.front().heading = "Share caught as each thing goes wrong, in parts of its limit";
  card.pictures.front().share = 1;
  card.numbers = {{"", CardTable{shop_cells(all, units), 1, table_type, true}, true}};
  if (const std::string budget = budget_sentence(all, units); !budget.empty())
    card.numbers.push_back({"", CardList{{budget}, false, all_at_once_type}, true});
  card.notes = shop_notes(all);
  card.cautions = {
      "Keep a margin: the wind, the heat and the next person's aim also count. Nothing here promises that a structure "
      "holds or that a fire is safe; " +
      std::string(deferral_clause)};
  return card;
}

WorkCard tolerance_card(const Tolerance& all, const std::string& name, Units units) {
  WorkCard card;
  card.title = {
      {"Project", scene_title(all.scene, name)},
      {"Target", all.scene.targets[all.target].name},
      all.waves ? CardEntry{"Allowed", "loss of " + wanted_text(all)} : CardEntry{"Wanted", wanted_text(all) + " of the light"},
      {"Sheet", "tolerance"}};
  card.name = fmt::format("{}: tolerance", scene_title(all.scene, name));
  card.question = "How good must it be? Share caught as each thing goes wrong, in parts of its limit.";
  if (all.waves) card.question = "How good must it be? Gain lost as each thing goes wrong, in parts of its limit.";
  card.answer = tolerance_verdict(all);
  LineChart chart;
  std::string limits;
  for (const char* key :
       {"slope_error", "surface_rms", "waviness", "aim_error", "offset_along", "offset_across", "focal_length_error"}) {
    // The tightest side of each.
    const ToleranceLimit* least = nullptr;
    for (const ToleranceLimit& limit : all.limits) {
      if (limit.key == key && limit.limit && limit.limit->value > 0 &&
          (least == nullptr || limit.limit->value < least->limit->value))
        least = &limit;
    }
    if (least == nullptr) continue;
    chart.lines.push_back(line_of(all, *least));
    limits += fmt::format("{}{}: {}", limits.empty() ? "" : " · ", limit_name(*least), limit_text(all, *least, units));
  }
  chart.x_label = "part of its own limit [%]", chart.y_label = "share of the mirror's light [%]";
  chart.x_to = 100 * chart_reach, chart.y_to = all.waves ? 2 * all.wanted : 105;
  if (all.waves) chart.y_label = "loss of gain [dB]";
  const double level = all.waves ? all.wanted : 100 * all.wanted;
  chart.levels = {{level, (all.waves ? "allowed: " : "wanted: ") + wanted_text(all)}};
  card.notes = {limits.empty() ? "No limit was found." : limits}, card.settings = {settings(all)};
  card.pictures = {{std::move(chart)}};
  return card;
}

std::string add_tolerance_outputs(const Tolerance& all, const std::string& name, Units units, PageSize paper, WholeFiles& files) {
  files.add("tolerance.txt", tolerance_text(all, name, units, Detail::method) + tolerance_answer(all, units));
  files.add("tolerance.json", tolerance_json(all, name, units));
  files.add("tolerance.csv", tolerance_csv(all, units));
  const std::string said = fmt::format("\nWritten into {}:\n", files.folder().string());
  if (all.waves) {
    add_chart_card(files, "tolerance", tolerance_card(all, name, units));
    return said +
           "  tolerance.png, tolerance.svg  the loss against each deviation\n  tolerance.txt, tolerance.json, tolerance.csv  all "
           "limits\n";
  }
  add_printed_card(files, "tolerance", tolerance_sheet(all, name, units), paper, true);
  add_chart_card(files, "tolerance-chart", tolerance_card(all, name, units));
  return said +
         "  tolerance.pdf, tolerance.png  the table for the shop\n"
         "  tolerance-chart.png, tolerance-chart.svg  the share against each deviation\n"
         "  tolerance.txt, tolerance.json, tolerance.csv  all limits\n";
}

}  // namespace dishwright
