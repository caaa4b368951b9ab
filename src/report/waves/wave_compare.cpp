// SPDX-License-Identifier: MIT
#include "report/waves/wave_compare.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>

#include "base/csv.h"
#include "base/text.h"
#include "report/compare/compare_verdict.h"
#include "report/numbers/card_files.h"
#include "report/numbers/figure_words.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/numbers/text_table.h"
#include "report/waves/wave_json.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

const WaveAnswer& answer_of(const WaveContestant& one, std::size_t frequency) {
  return one.figures.targets.front().answers[frequency];
}

std::string number(const std::optional<Estimate>& figure, double scale, const char* format) {
  return figure ? fmt::format(fmt::runtime(format), figure->value * scale) : "none";
}

std::string difference_cell(const WaveContestant& one, const WaveContestant& first, std::size_t frequency) {
  const auto &own = answer_of(one, frequency).gain, &other = answer_of(first, frequency).gain;
  if (&one == &first) return "-";
  if (!own || !other) return "none";
  return std::abs(*own - *other) < seen_difference ? "not seen" : fmt::format("{:+.1f}", *own - *other);
}

/// Of one frequency, a row a scene.
std::string table(const WaveComparison& all, std::size_t frequency) {
  const bool radio = all.first().radio;
  std::vector<std::vector<std::string>> rows = {{frequency_text(all.first().frequencies[frequency]),
                                                 radio ? "gain [dBi]" : "gain [dB]", radio ? "efficiency" : "mirror only", "beam",
                                                 "side lobe", "to the first"}};
  int widest = 19;
  for (const WaveContestant& one : all.contestants) widest = std::max(widest, characters(clipped(one.name, 18)));
  for (const WaveContestant& one : all.contestants) {
    const WaveAnswer& answer = answer_of(one, frequency);
    rows.push_back({flush_left(clipped(one.name, 18), widest), number(wave_figure(answer, Figure::gain), 1, "{:.1f}"),
                    radio ? number(wave_figure(answer, Figure::aperture_efficiency), 100, "{:.1f} %")
                          : number(wave_figure(answer, Figure::reflected_gain), 1, "{:.1f}"),
                    answer.half_power_width ? angle_text(*answer.half_power_width) : "all round",
                    number(wave_figure(answer, Figure::side_lobe), 1, "{:.1f}"),
                    difference_cell(one, all.contestants.front(), frequency)});
  }
  return "\n" + text_table(rows);
}

/// At one frequency, the most gain first.
std::string verdict_at(const WaveComparison& all, std::size_t frequency) {
  std::vector<std::size_t> order(all.contestants.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto gain = [&](std::size_t k) { return answer_of(all.contestants[k], frequency).gain.value_or(-INFINITY); };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return gain(a) > gain(b); });
  const auto name = [&](std::size_t k) { return called(all.contestants[k].name, all.contestants[k].rule); };
  const std::string at = "At " + frequency_text(all.first().frequencies[frequency]);
  if (!std::isfinite(gain(order.front()))) return at + " nothing arrives.";
  std::vector<std::string> alike;
  std::string less;
  for (const std::size_t k : order) {
    const double behind = gain(order.front()) - gain(k);
    if (behind < seen_difference) {
      alike.push_back(name(k));
    } else {
      less += fmt::format("{}{} {}", less.empty() ? "" : ", ", name(k),
                          std::isfinite(behind) ? fmt::format("{:.1f} dB less", behind) : std::string("hears nothing"));
    }
  }
  const std::string level = level_text(gain(order.front()), gain_unit(all.first()));
  const std::string rest = less.empty() ? "." : "; " + less + ".";
  const double across =
      rim_width(all.contestants.front().scene.reflectors.front().shape) * all.first().frequencies[frequency] / all.first().speed;
  const std::string rough =
      across < 1 ? fmt::format(" The mirror is {:.1f} wavelengths across there, so this is rough.", across) : "";
  if (alike.size() == 1) return fmt::format("{} {} gains most, {}{}{}", at, alike.front(), level, rest, rough);
  return fmt::format("{} there is no difference that the method can see between {} and {} ({}){}{}", at,
                     fmt::join(alike.begin(), alike.end() - 1, ", "), alike.back(), level, rest, rough);
}

}  // namespace

std::string wave_verdict(const WaveComparison& all) {
  std::string out;
  for (const std::size_t k : all.mapped) out += (out.empty() ? "" : " ") + verdict_at(all, k);
  return out;
}

std::string wave_compare_text(const WaveComparison& all, const std::string& name, Units units, Detail detail) {
  const WaveContestant& first = all.contestants.front();
  const std::string title = fmt::format(
      "{}: {} side by side", first.rule.empty() || first.scene.title.empty() ? name : first.scene.title, all.contestants.size());
  std::string out = oddity_lines(oddities_of_all(all.contestants)) + title_lines(title);
  out += wrapped(wave_source_words(first.scene, units), first.scene.radio ? "Radio: " : "Sound: ", "  ");
  for (const WaveContestant& one : all.contestants) {
    out += wrapped(fmt::format("{}: {}{}", one.name, one.rule.empty() ? "" : one.rule + ": ",
                               wave_mirror_words(one.scene.reflectors.front(), units)),
                   "", "  ");
    for (const std::string& note : one.figures.notes) out += wrapped(note, "  Note: ", "    ");
  }
  for (std::size_t k = 0; k < all.first().frequencies.size(); ++k) out += table(all, k);
  out += wrapped(fmt::format("\"to the first\": difference of the gain [dB]; below {} dB it is not seen, since the waves from "
                             "the edge are left out.",
                             seen_difference),
                 "  ", "  ");
  out += "\n" + wave_caution(all.first().radio);
  return out + "\n" +
         wrapped(wave_settings_line(all.first().convergence.points, all.first().speed, scene_digest(first.scene), detail), "",
                 "  ");
}

std::string wave_compare_answer(const WaveComparison& all) {
  return answer_heading("Verdict", oddities_of_all(all.contestants)) + wrapped(wave_verdict(all), "  ", "  ") +
         mind_caution_line();
}

std::string wave_compare_json(const WaveComparison& all, const std::string& name) {
  Json out;
  out["scenes"] = Json::array();
  for (const WaveContestant& one : all.contestants) {
    Json scene = wave_json(one.scene, name, scene_digest(one.scene), one.figures);
    if (!one.rule.empty()) scene["title"] = scene["scene"], scene["rule"] = one.rule;
    scene["scene"] = one.name;
    out["scenes"].push_back(std::move(scene));
  }
  out["differences"] = Json::array();
  for (const WaveDifference& one : all.differences) {
    Json entry;
    entry["a"] = all.contestants[one.contestant].name;
    entry["b"] = all.contestants.front().name;
    entry["frequency"] = json_quantity({all.first().frequencies[one.frequency], std::nullopt, "Hz"});
    entry["figure"] = row_of(one.figure).name;
    entry["difference"] = json_quantity(one.difference);
    if (one.figure == Figure::gain) entry["seen"] = std::abs(one.difference.value) >= seen_difference;
    out["differences"].push_back(std::move(entry));
  }
  out["verdict"] = wave_verdict(all);
  return json_text(out);
}

std::string wave_compare_csv(const WaveComparison& all) {
  const bool radio = all.first().radio;
  const Scene& scene = all.contestants.front().scene;
  const std::vector<FigureRow>& rows = compared_rows(radio ? FigureSource::radio : FigureSource::sound);
  std::string out = "scene,frequency [Hz]";
  for (const FigureRow& row : rows) out += "," + figure_column(figure_words(row, scene, false, Units::si));
  out += "\n";
  for (const WaveContestant& one : all.contestants) {
    for (std::size_t k = 0; k < all.first().frequencies.size(); ++k) {
      out += csv_text(one.name) + fmt::format(",{:.10g}", all.first().frequencies[k]);
      for (const FigureRow& row : rows) {
        const auto value = wave_figure(answer_of(one, k), row.figure);
        out += value ? fmt::format(",{:.6g}", value->value * figure_words(row, scene, false, Units::si).per_si) : ",";
      }
      out += "\n";
    }
  }
  return out;
}

std::string add_wave_compare_outputs(const WaveComparison& all, const std::string& name, Units units, WholeFiles& files) {
  const std::string chart_name = all.first().radio ? "pattern" : "gain";
  files.add("compare.json", wave_compare_json(all, name));
  files.add("compare.csv", wave_compare_csv(all));
  add_card(files, "maps", wave_compare_maps(all, name, units));
  add_chart_card(files, chart_name, wave_compare_chart(all, name));
  return fmt::format(
      "\nWritten into {0}:\n  maps.png  the maps side by side on one scale\n  {1}.png, {1}.svg  {2}\n  compare.json, compare.csv "
      " "
      "every figure\n",
      files.folder().string(), chart_name, all.first().radio ? "level against direction" : "gain against pitch");
}

}  // namespace dishwright
