// SPDX-License-Identifier: MIT
#include "report/sweep/sweep_outputs.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/numbers/card_files.h"
#include "report/numbers/text_layout.h"
#include "report/sweep/sweep_data.h"
#include "report/sweep/sweep_words.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

/// A round number at or above: 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8 × 10ⁿ.
double round_up(double value) {
  if (!(value > 0)) return 1;
  const double decade = std::pow(10.0, std::floor(std::log10(value)));
  for (const double step : {1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0}) {
    if (value <= step * decade * (1 + 1e-12)) return step * decade;
  }
  return 10 * decade;
}

/// From the lightest to the darkest ink, or from the foot to the top of a chart, for values between these.
struct Range {
  double from = 0, to = 1;
};
Range range_for(const FigureWords& words, double least, double most) {
  constexpr double depth = 60;  // shown below the highest level [dB]
  if (words.unit == "%") return {0, 100};
  if (words.unit != "dB" && words.unit != "dBi") return {0, round_up(most)};
  const double to = up_to_five(most);
  return {std::max(down_to_five(least), to - depth) - (least == to ? 5 : 0), to};
}

/// The file's own value; of the share caught also where 90 % end or begin.
void mark_places(LineChart& chart, const Sweep& sweep, const std::string& figure) {
  const SweepAxis& axis = sweep.axes[0];
  if (shows_own(sweep)) chart.marks.push_back({axis_number(axis, *axis.own), "you are here: " + axis_value(axis, *axis.own)});
  if (figure != "intercept") return;
  const std::vector<ShareEdge> edges = share_edges(sweep);
  if (!edges.empty()) chart.levels = {{90, "90 %"}};
  const std::string unit = axis_unit(axis).empty() ? "" : " " + axis_unit(axis);
  for (const ShareEdge& edge : edges) {
    const double at = axis_number(axis, edge.at);
    const std::string where = axis.midnight ? axis_value(axis, edge.at) : rough_text(at, 3) + unit;
    chart.marks.push_back({at, fmt::format("90 % {}: {}", edge.ends ? "ends" : "begins", where)});
  }
}

LineChart sweep_chart(const Sweep& sweep, const std::string& figure, Units units) {
  const FigureWords words = figure_words(sweep, figure, units);
  const SweepAxis& axis = sweep.axes[0];
  LineChart chart;
  chart.x_label = axis_label(axis), chart.y_label = words.label();
  const double first = axis_number(axis, axis.values.front()), last = axis_number(axis, axis.values.back());
  chart.x_from = std::min(first, last), chart.x_to = std::max(first, last);
  ChartLine line;
  line.label = words.words;
  double least = INFINITY, top = -INFINITY;
  for (const SweepPoint& point : sweep.points) {
    const auto value = figure_at(point, figure);
    if (!value) continue;
    line.x.push_back(axis_number(axis, point.at[0]));
    line.y.push_back(value->value * words.per_si);
    line.error.push_back(value->std_error.value_or(0) * words.per_si);
    top = std::max(top, line.y.back() + line.error.back()), least = std::min(least, line.y.back());
  }
  if (!line.x.empty() && line.x.front() > line.x.back())
    for (auto* column : {&line.x, &line.y, &line.error}) std::reverse(column->begin(), column->end());
  if (line.x.empty()) least = 0, top = 0;
  const bool level = words.unit == "dB" || words.unit == "dBi";
  const Range range = range_for(words, least, level ? top : 1.04 * top);
  chart.y_from = range.from, chart.y_to = words.unit == "%" ? 105 : range.to;
  chart.lines.push_back(std::move(line));
  mark_places(chart, sweep, figure);
  return chart;
}

HeatChart sweep_heat_chart(const Sweep& sweep, const std::string& figure, Units units) {
  const FigureWords words = figure_words(sweep, figure, units);
  HeatChart chart;
  chart.x_label = axis_label(sweep.axes[1]), chart.y_label = axis_label(sweep.axes[0]);
  for (const double value : sweep.axes[1].values) chart.x_names.push_back(exact_text(axis_number(sweep.axes[1], value)));
  for (const double value : sweep.axes[0].values) chart.y_names.push_back(exact_text(axis_number(sweep.axes[0], value)));
  double least = INFINITY, top = -INFINITY;
  for (std::size_t k = 0; k < sweep.count(); ++k) {
    const auto value = k < sweep.points.size() ? figure_at(sweep.points[k], figure) : std::nullopt;
    chart.values.push_back(value ? std::optional(value->value * words.per_si) : std::nullopt);
    if (value) least = std::min(least, *chart.values.back()), top = std::max(top, *chart.values.back());
  }
  const Range range = least > top ? Range{} : range_for(words, least, top);
  chart.bottom = range.from, chart.top = range.to;
  const double size = std::max(std::abs(chart.bottom), std::abs(chart.top));
  chart.decimals = size >= 1000 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
  chart.unit = words.unit.empty() ? words.words : words.unit;
  return chart;
}

}  // namespace

WorkCard sweep_card(const Sweep& sweep, const std::string& figure, const std::string& name, Units units) {
  std::string keys;
  for (const SweepAxis& axis : sweep.axes) keys += (keys.empty() ? "" : ", ") + axis.key;
  WorkCard card;
  card.title = {{"Project", sweep_title(sweep, name)}, {"Varied", keys}, {"Target", sweep.target}, {"Sheet", "sweep"}};
  if (sweep.axes.size() == 2) card.title[1].value = fmt::format("{} keys", sweep.axes.size());
  card.name = fmt::format("{}: sweep of {}", card.title[0].value, keys);
  card.question = fmt::format("How does the {} change with {}?", figure_words(sweep, figure, units).words, keys);
  card.answer = sweep_sentence(sweep, figure, units);
  if (const std::string reason = sweep_reason(sweep, units); !reason.empty() && figure == "intercept") card.why = {reason};
  const std::string edges = figure == "intercept" ? edge_sentence(sweep) : "";
  if (const std::string marked = joined_sentences(edges, here_sentence(sweep, figure, units)); !marked.empty())
    card.notes.push_back(marked);
  card.notes.push_back(joined_sentences(method_sentence(sweep), broken_off_sentence(sweep)));
  card.cautions = {sweep_caution_line(sweep)}, card.settings = {sweep_settings_line(sweep)};
  card.pictures.emplace_back();
  if (sweep.axes.size() == 1) {
    card.pictures[0].what = sweep_chart(sweep, figure, units);
  } else {
    card.pictures[0].what = sweep_heat_chart(sweep, figure, units);
  }
  return card;
}

std::string add_sweep_outputs(const Sweep& sweep, const std::vector<std::string>& figures, const std::string& name, Units units,
                              WholeFiles& files) {
  files.add("sweep.json", sweep_json(sweep, name));
  files.add("sweep.csv", sweep_csv(sweep, units));
  std::string said = fmt::format("\nWritten into {}:\n", files.folder().string());
  for (const std::string& figure : figures) {
    const std::string file = "sweep-" + figure;
    add_chart_card(files, file, sweep_card(sweep, figure, name, units));
    said += fmt::format("  {0}.png, {0}.svg  the picture\n", file);
  }
  return said + "  sweep.json, sweep.csv  every point with every figure\n";
}

}  // namespace dishwright
