// SPDX-License-Identifier: MIT
#include "heat/demo_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/csv.h"

namespace dishwright {

namespace {

constexpr double kelvin_zero = 273.15;

/// A column of the log, and what its numbers may be.
struct LogColumn {
  const char* name;
  Dimension dimension;
  const char* example;
  double low, high;
  const char* limits;
  bool needed;
};

std::vector<LogColumn> log_columns(double hottest) {
  return {{"time", Dimension::time, "time [min]", 0, 1e6, "from 0 on, at most 11 days", true},
          {"temperature", Dimension::temperature, "temperature [degC]", kelvin_zero - 10, hottest,
           "from -10 °C to what the load can be there", true},
          {"beam", Dimension::irradiance, "beam [W/m2]", 0, 1500, "from 0 to 1500 W/m2", true},
          {"wind", Dimension::speed, "wind [m/s]", 0, 40, "from 0 to 40 m/s", false},
          {"air", Dimension::temperature, "air [degC]", kelvin_zero - 30, kelvin_zero + 60, "from -30 to 60 °C", false}};
}

/// A cell's number within its limits; empty where that was reported.
std::optional<double> checked_cell(const CsvTable& table, const CsvRow& row, int column, const LogColumn& about,
                                   std::vector<Problem>& problems) {
  const CsvCell& cell = row.cells[static_cast<std::size_t>(column)];
  if (cell.blank()) {
    problems.push_back(table.problem(cell, fmt::format("the row has no {}", about.name), "every row of a log is whole",
                                     "write what was read, or take the row out"));
    return std::nullopt;
  }
  const std::optional<double> value = table.number(row, column, problems);
  if (!value) return std::nullopt;
  if (*value >= about.low && *value <= about.high) return value;
  problems.push_back(table.problem(cell, fmt::format("{} {} is absurd", about.name, cell.text),
                                   fmt::format("it may be {}", about.limits), "look whether the unit in the header is right"));
  return std::nullopt;
}

void read_rows(const CsvTable& table, const std::vector<LogColumn>& about, const std::vector<int>& at, DemoLog& log,
               std::vector<Problem>& problems) {
  for (const CsvRow& row : table.rows()) {
    std::vector<std::optional<double>> cells(about.size());
    for (std::size_t k = 0; k < about.size(); ++k) {
      if (at[k] >= 0) cells[k] = checked_cell(table, row, at[k], about[k], problems);
    }
    if (!cells[0] || !cells[1] || !cells[2]) continue;
    if (!log.rows.empty() && *cells[0] <= log.rows.back().time) {
      problems.push_back(table.problem(row.cells[static_cast<std::size_t>(at[0])],
                                       fmt::format("time {} is not behind that of line {}",
                                                   row.cells[static_cast<std::size_t>(at[0])].text, log.rows.back().line),
                                       "the rows of a log follow each other in time", "sort the rows, and give no time twice"));
      continue;
    }
    log.rows.push_back({*cells[0], *cells[1], *cells[2], cells[3], cells[4], row.line});
  }
}

/// Mean over time of something that runs straight from row to row, from `from` to `to` [s].
template <class Value>
double mean_between(const std::vector<LogRow>& rows, double from, double to, const Value& value) {
  double sum = 0;
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const LogRow &a = rows[k - 1], &b = rows[k];
    const double start = std::max(from, a.time), end = std::min(to, b.time);
    if (end <= start) continue;
    const auto at = [&](double t) { return value(a) + (value(b) - value(a)) * (t - a.time) / (b.time - a.time); };
    sum += (end - start) * (at(start) + at(end)) / 2;
  }
  return sum / (to - from);
}

/// What the log reads at a time between its rows.
double reading_at(const std::vector<LogRow>& rows, double time, double LogRow::*what) {
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const LogRow &a = rows[k - 1], &b = rows[k];
    if (time <= b.time) return a.*what + (b.*what - a.*what) * (time - a.time) / (b.time - a.time);
  }
  return rows.back().*what;
}

/// Why a step does not count, or nothing.
std::string reason_against(const DemoLog& log, const CookingStep& step, double boiling) {
  constexpr double longest_gap = 600, weakest = 450, strongest = 1100, most_change = 100, near_boiling = 5, most_wind = 2.5;
  const double first = reading_at(log.rows, step.from, &LogRow::beam), last = reading_at(log.rows, step.to, &LogRow::beam);
  double least = std::min(first, last), most = std::max(first, last);
  for (std::size_t k = 0; k < log.rows.size(); ++k) {
    const LogRow& row = log.rows[k];
    const bool crosses = k > 0 && log.rows[k - 1].time < step.to && row.time > step.from;
    if (crosses && row.time - log.rows[k - 1].time > longest_gap + 1)
      return fmt::format("a gap of {:.0f} min before line {}", (row.time - log.rows[k - 1].time) / 60, row.line);
    if (row.time < step.from || row.time > step.to) continue;
    least = std::min(least, row.beam), most = std::max(most, row.beam);
  }
  if (reading_at(log.rows, step.to, &LogRow::temperature) > boiling - near_boiling) return "within 5 K of boiling";
  if (step.beam < weakest) return "beam below 450 W/m2";
  if (step.beam > strongest) return "beam above 1100 W/m2";
  if (most - least > most_change) return "beam changes by more than 100 W/m2";
  if (step.wind && *step.wind > most_wind) return "wind above 2.5 m/s";
  return "";
}

void fit_line(CookingPower& all) {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
  for (const CookingStep& step : all.steps) {
    if (!step.left_out.empty()) continue;
    const double d = step.difference, p = step.standard_power;
    n += 1, x += d, y += p, xx += d * d, xy += d * p, yy += p * p;
  }
  all.counted = static_cast<int>(n);
  const double spread = xx - x * x / std::max(n, 1.0);
  if (n < 2 || spread < 1e-6) return;
  all.slope = (xy - x * y / n) / spread;
  all.offset = (y - *all.slope * x) / n;
  all.at_50 = *all.offset + 50 * *all.slope;
  const double scatter = yy - y * y / n;
  if (n > 2 && scatter > 0) all.fit = *all.slope * *all.slope * spread / scatter;
}

}  // namespace

DemoLog read_demo_log(const std::filesystem::path& path, double hottest) {
  const CsvTable table = read_csv(path);
  const std::vector<LogColumn> about = log_columns(hottest);
  std::vector<Problem> problems;
  std::vector<int> at;
  for (const LogColumn& column : about) {
    const bool there = table.find(column.name) >= 0;
    const auto found = there || column.needed ? table.measured_column(column.name, column.dimension, column.example, problems)
                                              : std::optional<int>{};
    at.push_back(found.value_or(-1));
  }
  DemoLog log;
  log.file = table.file();
  if (problems.empty()) read_rows(table, about, at, log, problems);
  if (problems.empty() && log.rows.size() < 2)
    problems.push_back(
        table.problem("the log has fewer than two rows", "heating is seen between two readings", "write down more rows"));
  if (!problems.empty()) throw InputError(problems);
  const double from = log.rows.front().time, to = log.rows.back().time;
  log.mean_beam = mean_between(log.rows, from, to, [](const LogRow& row) { return row.beam; });
  if (at[3] >= 0) log.mean_wind = mean_between(log.rows, from, to, [](const LogRow& row) { return row.wind.value_or(0); });
  if (at[4] >= 0) log.mean_air = mean_between(log.rows, from, to, [](const LogRow& row) { return row.air.value_or(0); });
  return log;
}

CookingPower cooking_power(const DemoLog& log, double mass, double air, double boiling) {
  constexpr double step_time = 600, specific_heat = 4186, standard_beam = 700;
  CookingPower all;
  const std::vector<LogRow>& rows = log.rows;
  for (double from = rows.front().time; from + step_time <= rows.back().time + 1e-6; from += step_time) {
    CookingStep step;
    step.from = from, step.to = from + step_time;
    for (const LogRow& row : rows) {
      if (step.line == 0 && row.time >= from) step.line = row.line;
    }
    const double rise = reading_at(rows, step.to, &LogRow::temperature) - reading_at(rows, from, &LogRow::temperature);
    step.power = rise * mass * specific_heat / step_time;
    step.beam = mean_between(rows, from, step.to, [](const LogRow& row) { return row.beam; });
    step.difference =
        mean_between(rows, from, step.to, [&](const LogRow& row) { return row.temperature - row.air.value_or(air); });
    if (log.mean_wind) step.wind = mean_between(rows, from, step.to, [](const LogRow& row) { return row.wind.value_or(0); });
    step.standard_power = step.beam > 0 ? step.power * standard_beam / step.beam : 0;
    step.left_out = reason_against(log, step, boiling);
    all.steps.push_back(std::move(step));
  }
  fit_line(all);
  return all;
}

}  // namespace dishwright
