// SPDX-License-Identifier: MIT
#include "report/compare/compare_text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/compare/compare_verdict.h"
#include "report/compare/compare_widths.h"
#include "report/numbers/caution.h"
#include "report/numbers/figure_words.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

constexpr int longest_name = 14;

std::string heading(const std::string& text) { return "\n" + text + "\n"; }

/// A name cut to the table's first column.
std::string short_name(const std::string& name) {
  if (characters(name) <= longest_name) return name;
  std::string cut;
  int count = 0;
  for (const char c : name) {
    if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U && ++count == longest_name) break;
    cut += c;
  }
  return cut + "…";
}

bool bent(const Comparison& all) { return !all.contestants.front().rule.empty(); }

std::string title_block(const Comparison& all, const std::string& name, Units units) {
  const Contestant& first = all.contestants.front();
  const std::string title = first.stays ? fmt::format("{}: as it is, and at its best place", compare_title(all, name))
                            : bent(all)
                                ? fmt::format("{}: {} shapes side by side", compare_title(all, name), all.contestants.size())
                                : fmt::format("{} project files side by side", all.contestants.size());
  std::string out = title_lines(title);
  const std::string paths = grouped_whole(first.figures.paths);
  out += wrapped(bent(all) ? fmt::format("Same width, same target, same light, and the same {} random paths for each.", paths)
                           : fmt::format("The same {} random paths for each.", paths));
  for (const Contestant& one : all.contestants) {
    const Reflector& mirror = one.scene.reflectors.front();
    const std::string rule = one.rule.empty() ? "" : one.rule + ": ";
    out += wrapped(rule + reflector_words(mirror, units) + "; the " + target_words(one.scene.targets.front(), units),
                   one.name + ": ", "  ");
  }
  return out;
}

/// Remarks that all share are told once.
std::string note_lines(const Comparison& all) {
  std::string out;
  std::vector<std::string> told;
  for (const Contestant& one : all.contestants) {
    for (const std::string& note : one.scene.notes) {
      if (std::find(told.begin(), told.end(), note) != told.end()) continue;
      told.push_back(note);
      const bool shared = std::all_of(all.contestants.begin(), all.contestants.end(), [&](const Contestant& other) {
        return std::find(other.scene.notes.begin(), other.scene.notes.end(), note) != other.scene.notes.end();
      });
      out += wrapped(note, shared ? "Note: " : fmt::format("Note on {}: ", one.name), "  ");
    }
  }
  return out;
}

struct Column {
  std::string head, unit;
  std::vector<std::string> cells;
};

/// Value and error without the unit, which stands in the head.
std::string cell(const std::optional<Estimate>& figure, const FigureWords& words) {
  if (!figure) return "-";
  Estimate shown{figure->value * words.per_si, std::nullopt, "1"};
  if (figure->std_error) shown.std_error = *figure->std_error * words.per_si;
  return number_text(shown, Units::si);
}

std::vector<Column> columns_of(const Comparison& all, Units units) {
  const TargetFigures& first = all.contestants.front().figures.targets.front();
  const bool band = first.shape == "rectangle";
  const Scene& scene = all.contestants.front().scene;
  const auto any = [&](Figure figure) {
    return std::any_of(all.contestants.begin(), all.contestants.end(),
                       [&](const Contestant& one) { return light_figure(one.figures.targets.front(), figure).has_value(); });
  };
  std::vector<Column> columns;
  const auto add = [&](Figure figure) {
    const FigureWords words = figure_words(row_of(figure), scene, band, units);
    Column column{with_outline(row_of(figure).column, band), "[" + (words.unit.empty() ? "1" : words.unit) + "]", {}};
    for (const Contestant& one : all.contestants)
      column.cells.push_back(cell(light_figure(one.figures.targets.front(), figure), words));
    columns.push_back(std::move(column));
  };
  for (const Figure figure : {Figure::intercept, Figure::power, Figure::peak_irradiance}) add(figure);
  if (any(Figure::spot_width_50)) add(Figure::spot_width_50), add(Figure::spot_width_90);
  if (all.contestants.front().figures.caught_share) {
    columns.push_back({"met mirror", "[%]", {}});
    for (const Contestant& one : all.contestants)
      columns.back().cells.push_back(cell(one.figures.caught_share, FigureWords{"", "", "%", 100}));
    add(Figure::evenness);
  }
  return columns;
}

/// Widths of the spot stand below where they do not fit beside the rest.
std::string table(const Comparison& all, Units units) {
  const TargetFigures& target = all.contestants.front().figures.targets.front();
  const std::size_t targets = all.contestants.front().figures.targets.size();
  std::string out = heading(fmt::format("Light on the {}{}", target.name, targets > 1 ? ", the first target" : ""));
  int left = 0;
  for (const Contestant& one : all.contestants) left = std::max(left, characters(short_name(one.name)));
  std::string heads, units_line;
  std::vector<std::string> rows;
  const auto begin = [&] {
    heads = units_line = "  " + flush_left("", left);
    rows.clear();
    for (const Contestant& one : all.contestants) rows.push_back("  " + flush_left(short_name(one.name), left));
  };
  const auto end = [&] {
    out += heads + "\n" + units_line + "\n";
    for (const std::string& row : rows) out += row + "\n";
  };
  const std::vector<Column> columns = columns_of(all, units);
  const auto width_of = [](const Column& column) {
    int width = std::max(characters(column.head), characters(column.unit));
    for (const std::string& text : column.cells) width = std::max(width, characters(text));
    return width;
  };
  int whole = left + 2, line = left + 2;
  for (const Column& column : columns) whole += 2 + width_of(column);
  begin();
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const Column& column = columns[c];
    const int width = width_of(column);
    // Widths belong together.
    if ((c == 3 && whole > text_width) || (c > 0 && line + 2 + width > text_width)) {
      end();
      begin();
      line = left + 2;
    }
    line += 2 + width;
    heads += "  " + flush_right(column.head, width);
    units_line += "  " + flush_right(column.unit, width);
    for (std::size_t i = 0; i < rows.size(); ++i) rows[i] += "  " + flush_right(column.cells[i], width);
  }
  end();
  return out;
}

std::string best_place_block(const Comparison& all, Units units) {
  const Contestant& first = all.contestants.front();
  if (std::none_of(all.contestants.begin(), all.contestants.end(), [](const Contestant& one) { return one.best.has_value(); }))
    return "";
  std::string out =
      heading(fmt::format("Best place for the {} along the axis (used in the table)", first.figures.targets.front().name));
  for (const Contestant& one : all.contestants) {
    if (one.best) out += wrapped(best_place_words(one, units), "  " + one.name + ": ", "    ");
  }
  return out;
}

/// "paraboloid − sphere      +12.34 ± 0.05 percentage points".
std::string difference_block(const Comparison& all) {
  std::string out = heading("By how much they differ (the same rays for both, so shared chance drops out)");
  int widest = 0;
  const auto pair_name = [&](const PairDifference& pair) {
    return short_name(all.contestants[pair.a].name) + " − " + short_name(all.contestants[pair.b].name);
  };
  for (const PairDifference& pair : all.differences) widest = std::max(widest, characters(pair_name(pair)));
  for (const Figure figure : {Figure::intercept, Figure::power}) {
    const bool share = figure == Figure::intercept;
    const FigureWords words = figure_words(row_of(figure), all.contestants.front().scene, false, Units::si);
    out += share ? "  Share caught, in percentage points:\n" : fmt::format("  Power, in {}:\n", words.unit);
    for (const PairDifference& pair : all.differences) {
      if (pair.figure != words.name) continue;
      const std::string value = cell(pair.difference, words);
      out += "    " + flush_left(pair_name(pair), widest) + "  " + (pair.difference.value > 0 ? "+" : "") + value + "\n";
    }
  }
  return out;
}

const Contestant& brightest_of(const Comparison& all) {
  return *std::max_element(all.contestants.begin(), all.contestants.end(),
                           [](const Contestant& a, const Contestant& b) { return danger(a.figures) < danger(b.figures); });
}

}  // namespace

std::string compare_title(const Comparison& all, const std::string& name) {
  const std::string& title = all.contestants.front().scene.title;
  return title.empty() ? name : title;
}

std::string best_place_words(const Contestant& one, Units units) {
  const BestPlace& best = *one.best;
  const auto length = [&](double metres) { return number_text({metres, std::nullopt, "m"}, units); };
  const std::string searched = fmt::format(" (searched from {} to {})", length(best.from), length(best.to));
  if (best.dark) return fmt::format("no light at any place{}; it stays at {}", searched, length(best.place.value));
  if (best.flat) {
    return fmt::format("as good anywhere from about {} to {} from the vertex, within the noise; the middle, {}, is taken{}",
                       length(best.even_from), length(best.even_to), length(best.place.value), searched);
  }
  std::string text = number_text(best.place, units) + " from the vertex";
  if (best.focus) {
    const double nearer = *best.focus - best.place.value;
    const bool told = std::abs(nearer) > 2 * best.place.std_error.value_or(0);
    text += told ? fmt::format(", {} {} than the focus at {}", number_text({std::abs(nearer), best.place.std_error, "m"}, units),
                               nearer > 0 ? "nearer" : "farther", length(*best.focus))
                 : fmt::format(", as good as at the focus at {}", length(*best.focus));
  }
  if (best.at_edge) text += "; that is the end of the search, and a better place may lie beyond";
  return text + searched;
}

std::string compare_text(const Comparison& all, const std::string& name, Units units, Detail detail) {
  std::string out = oddity_lines(oddities_of_all(all.contestants)) + title_block(all, name, units) + note_lines(all) +
                    table(all, units) + best_place_block(all, units);
  out += difference_block(all);
  out += "\n" +
         wrapped(
             "The number behind ± is the standard error of the tracing. Shares less than two of them or less than 1 percentage "
             "point apart are called a tie. It says nothing of how well a real dish fits its file.");
  const Contestant& hot = brightest_of(all);
  out += "\n" + caution(hot.figures, "All rules: safety.pdf of a trace.");
  const Contestant& first = all.contestants.front();
  return out + "\n" + wrapped(settings_line(first.scene, first.figures, scene_digest(first.scene), detail), "", "  ");
}

std::string compare_answer(const Comparison& all, Units units) {
  std::string out = answer_heading("Verdict", oddities_of_all(all.contestants)) + wrapped(verdict(all), "  ", "  ");
  for (const std::string& words : {tie_words(all, units), power_words(all, units), width_words(all, units)}) {
    if (!words.empty()) out += wrapped(words, "  ", "  ");
  }
  return out + mind_caution_line();
}

}  // namespace dishwright
