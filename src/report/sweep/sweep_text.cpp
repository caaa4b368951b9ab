// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>

#include "report/numbers/scene_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/numbers/text_table.h"
#include "report/sweep/sweep_outputs.h"
#include "report/sweep/sweep_words.h"

namespace dishwright {

namespace {

constexpr std::size_t most_rows = 60, most_columns = 7;
constexpr int widest_head = 24;  // two axes and a figure stand side by side

/// Value and error of a figure without its unit; "-" where there is none.
std::string cell(const SweepPoint& point, const FigureWords& words, bool with_error) {
  const auto figure = figure_at(point, words.name);
  if (!figure) return "-";
  Estimate shown{figure->value * words.per_si, std::nullopt, "1"};
  if (with_error && figure->std_error) shown.std_error = *figure->std_error * words.per_si;
  return number_text(shown, Units::si);
}

struct Column {
  std::string head;
  std::vector<std::string> cells;
};

/// Heads of several lines stand flush at their foot. The first `labels` columns stand in each part of a table that is cut.
std::string laid_out(const std::vector<Column>& columns, std::size_t labels) {
  std::vector<std::vector<std::string>> heads;
  std::size_t high = 1;
  for (const Column& column : columns) {
    heads.push_back(head_lines(column.head, widest_head));
    high = std::max(high, heads.back().size());
  }
  std::vector<std::vector<std::string>> rows(high + columns.front().cells.size());
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const std::size_t above = high - heads[c].size();
    for (std::size_t r = 0; r < high; ++r) rows[r].push_back(r < above ? "" : heads[c][r - above]);
    for (std::size_t r = 0; r < columns[c].cells.size(); ++r) rows[high + r].push_back(columns[c].cells[r]);
  }
  return text_table(rows, labels);
}

/// Every n-th number below count, so that at most about `most` are left; the last one always.
std::vector<std::size_t> thinned(std::size_t count, std::size_t most) {
  std::vector<std::size_t> out;
  const std::size_t step = std::max<std::size_t>(1, (count + most - 3) / (most - 1));
  for (std::size_t k = 0; k < count; k += step) out.push_back(k);
  if (count > 0 && out.back() != count - 1) out.push_back(count - 1);
  return out;
}

/// A value in a table: a time as the clock shows it, else the number alone.
std::string bare_value(const SweepAxis& axis, double si) {
  return axis.midnight ? axis_value(axis, si) : exact_text(axis_number(axis, si));
}

std::string table(const Sweep& sweep, const std::vector<std::string>& figures, Units units) {
  const std::vector<std::size_t> rows = thinned(sweep.points.size(), most_rows);
  std::vector<Column> columns;
  for (const SweepAxis& axis : sweep.axes) {
    const std::string unit = axis.midnight ? "" : axis_unit(axis), key = axis.key.substr(axis.key.find('.') + 1);
    Column& column = columns.emplace_back(Column{unit.empty() ? key : fmt::format("{} [{}]", key, unit), {}});
    const auto a = static_cast<std::size_t>(&axis - sweep.axes.data());
    for (const std::size_t k : rows) column.cells.push_back(bare_value(axis, sweep.points[k].at[a]));
  }
  for (const std::string& figure : figures) {
    const FigureWords words = figure_words(sweep, figure, units);
    Column& column = columns.emplace_back(Column{words.label(), {}});
    for (const std::size_t k : rows) column.cells.push_back(cell(sweep.points[k], words, true));
  }
  std::string out = "\n" + laid_out(columns, sweep.axes.size());
  if (rows.size() < sweep.points.size())
    out += wrapped(fmt::format("{} of {} points; all are in sweep.csv.", rows.size(), sweep.points.size()), "  ", "  ");
  return out;
}

/// Rows: the first key; columns: the second.
std::string grid(const Sweep& sweep, const std::string& figure, Units units) {
  const FigureWords words = figure_words(sweep, figure, units);
  const std::size_t across = sweep.axes[1].values.size();
  const std::vector<std::size_t> rows = thinned((sweep.points.size() + across - 1) / across, most_rows),
                                 columns = thinned(across, most_columns);
  std::string out =
      "\n" + wrapped(fmt::format("{}: down {}, across {}", words.label(), axis_label(sweep.axes[0]), axis_label(sweep.axes[1])),
                     "  ", "  ");
  std::vector<Column> table(1);
  for (const std::size_t r : rows) table[0].cells.push_back(bare_value(sweep.axes[0], sweep.axes[0].values[r]));
  for (const std::size_t c : columns) {
    Column column{bare_value(sweep.axes[1], sweep.axes[1].values[c]), {}};
    for (const std::size_t r : rows) {
      const std::size_t k = r * across + c;
      column.cells.push_back(k < sweep.points.size() ? cell(sweep.points[k], words, false) : "");
    }
    table.push_back(std::move(column));
  }
  return out + laid_out(table, 1);
}

}  // namespace

std::string sweep_text(const Sweep& sweep, const std::vector<std::string>& figures, const std::string& name, Units units,
                       Detail detail) {
  std::string out = oddity_lines(sweep.scene.oddities) + title_lines(sweep_title(sweep, name) + ": what changes?");
  for (const SweepAxis& axis : sweep.axes) {
    const std::size_t steps = axis.values.size() - 1;
    out += wrapped(fmt::format("{} from {} to {} in {} step{}", axis.key, axis_value(axis, axis.values.front()),
                               axis_value(axis, axis.values.back()), steps, steps == 1 ? "" : "s"),
                   "Varied: ", "  ");
  }
  for (const Reflector& mirror : sweep.scene.reflectors)
    out += wrapped("Mirror " + mirror.name + ": " + mirror_words(sweep.scene, mirror, units), "", "  ");
  for (const Target& target : sweep.scene.targets)
    out += wrapped("Target " + target.name + ": " + target_words(target, units), "", "  ");
  for (const std::string& note : sweep.scene.notes) out += wrapped(note, "Note: ", "  ");
  if (sweep.axes.size() == 1) {
    out += table(sweep, figures, units);
  } else {
    for (const std::string& figure : figures) out += grid(sweep, figure, units);
  }
  out += "\n" + wrapped(joined_sentences(method_sentence(sweep, detail),
                                         sweep.scene.is_wave()
                                             ? "A real dish differs by 1 dB or so."
                                             : "The number behind ± is the standard error of the figures, not of a real dish."));
  out += "\n" + sweep_caution(sweep);
  return out + "\n" + wrapped(sweep_settings_line(sweep, detail), "", "  ");
}

std::string sweep_answer(const Sweep& sweep, const std::vector<std::string>& figures, Units units) {
  std::string out = answer_heading("Answer", sweep.scene.oddities);
  for (const std::string& figure : figures)
    out += wrapped(joined_sentences(sweep_sentence(sweep, figure, units), here_sentence(sweep, figure, units)), "  ", "  ");
  if (const std::string reason = sweep_reason(sweep, units); !reason.empty()) out += wrapped(reason, "  Why: ", "  ");
  if (const std::string broken = broken_off_sentence(sweep); !broken.empty()) out += wrapped(broken, "  ", "  ");
  return out + mind_caution_line();
}

}  // namespace dishwright
