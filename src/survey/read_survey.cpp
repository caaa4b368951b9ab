// SPDX-License-Identifier: MIT
#include "survey/read_survey.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "base/csv.h"
#include "base/decimal.h"
#include "base/files.h"
#include "base/text.h"
#include "survey/median.h"
#include "survey/mistakes.h"
#include "survey/repeats.h"

namespace dishwright {

namespace {

constexpr std::size_t largest_file = 400'000'000;  // bytes
constexpr std::size_t largest_typed = 2'000'000;   // bytes; of larger tables the header alone is read first
constexpr std::size_t most_points = 4'000'000;
constexpr double farthest = 1e5;  // [m]

std::string ending_of(const std::filesystem::path& path) {
  std::string ending = path.extension().string();
  for (char& c : ending) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return ending;
}

[[noreturn]] void refuse(const std::string& file, std::string what, std::string why, std::string fix) {
  throw InputError(std::vector<Problem>{Problem{printable(file), 0, 0, 1, "", std::move(what), std::move(why), std::move(fix)}});
}

void raise(std::vector<Problem> problems) {
  constexpr std::size_t most = 8;  // a table that is wrong in every row needs no thousand messages
  if (problems.size() > most) problems.resize(most);
  if (!problems.empty()) throw InputError(std::move(problems));
}

/// Hours and minutes of "7:30", digits only; nothing for other ways to write.
struct ClockTime {
  int hours = 0, minutes = 0;
};
std::optional<ClockTime> clock_time(const std::string& text) {
  const std::size_t colon = text.find(':');
  const auto digits = [&](std::size_t from, std::size_t count) {
    return count >= 1 && count <= 2 && text.find_first_not_of("0123456789", from) >= from + count;
  };
  if (colon == std::string::npos || !digits(0, colon) || text.size() != colon + 3 || !digits(colon + 1, 2)) return std::nullopt;
  return ClockTime{std::stoi(text.substr(0, colon)), std::stoi(text.substr(colon + 1))};
}

/// A clock position [h], 0 to below 12, or 12: 7, 7.5, 7 1/2, 7:30; the half hour after 12 may be 12:30 or 0:30.
std::optional<double> clock_of(const CsvTable& table, const CsvRow& row, int column, std::vector<Problem>& problems) {
  const CsvCell& cell = row.cells[static_cast<std::size_t>(column)];
  std::optional<double> clock;
  if (cell.text.find(':') != std::string::npos) {
    const std::optional<ClockTime> time = clock_time(cell.text);
    if (!time || time->minutes > 59) {
      problems.push_back(table.problem(cell, fmt::format("clock {} is no time", printable(cell.text)),
                                       "after the colon stand minutes in two digits, 00 to 59", "write 7:30, or 7.5"));
      return std::nullopt;
    }
    clock = time->hours + time->minutes / 60.0;
  } else if (const std::optional<double> seconds = table.number(row, column, problems)) {
    clock = *seconds / 3600;
  }
  if (clock && !(*clock >= 0 && *clock < 13)) {
    problems.push_back(table.problem(cell, fmt::format("clock {} is not on a clock", cell.text),
                                     "positions go from 0 to 12: 12 at the top, 3 on the right, seen from the sun side",
                                     "check the row; if the column holds degrees, divide by 30"));
    return std::nullopt;
  }
  return clock && *clock > 12 ? *clock - 12 : clock;
}

/// The coarsest usual step that all depths are multiples of [m]; 0 where there is none.
double step_of(const TypedTable& typed) {
  const double unit = typed.table.columns()[static_cast<std::size_t>(typed.depth)].unit->scale;
  const bool metric = unit != 0.0254 && unit != 0.3048;
  const std::vector<double> steps = metric ? std::vector<double>{0.01, 0.005, 0.002, 0.001, 0.0005}
                                           : std::vector<double>{1, 0.5, 0.25, 0.125, 0.1, 0.0625, 0.05, 0.03125, 0.015625};
  for (const double step : steps) {
    const double size = metric ? step : step * 0.0254;
    if (std::all_of(typed.readings.begin(), typed.readings.end(),
                    [size](const TypedReading& r) { return std::abs(r.depth / size - std::round(r.depth / size)) < 1e-4; })) {
      return size;
    }
  }
  return 0;
}

/// The columns of the readings; nothing where the header is wrong (the problems say how).
std::optional<TypedTable> typed_columns(const CsvTable& table, std::vector<Problem>& problems) {
  const bool by_ring = table.find("ring") >= 0 || table.find("clock") >= 0;
  const auto depth = table.measured_column("depth", Dimension::length, "depth [in]", problems);
  const auto first = by_ring ? table.measured_column("ring", Dimension::length, "ring [in]", problems)
                             : table.measured_column("x", Dimension::length, "x [in]", problems);
  const auto second = by_ring ? table.measured_column("clock", Dimension::time, "clock [h]", problems)
                              : table.measured_column("y", Dimension::length, "y [in]", problems);
  if (!depth || !first || !second) return std::nullopt;
  return TypedTable{table, by_ring, *first, *second, *depth, {}};
}

void read_rows(TypedTable& typed, std::vector<Problem>& problems) {
  for (const CsvRow& row : typed.table.rows()) {
    TypedReading reading{0, 0, 0, &row};
    const auto first = typed.table.number(row, typed.first, problems);
    const auto second =
        typed.by_ring ? clock_of(typed.table, row, typed.second, problems) : typed.table.number(row, typed.second, problems);
    const auto depth = typed.table.number(row, typed.depth, problems);
    if (!first || !second || !depth) continue;
    reading.first = *first, reading.second = *second, reading.depth = *depth;
    if (typed.by_ring && reading.first < 0) {
      problems.push_back(typed.table.problem(row.cells[static_cast<std::size_t>(typed.first)], "a ring cannot be less than 0",
                                             "a ring is the distance from the middle of the dish", "write it without the minus"));
    }
    for (const int index : {typed.first, typed.depth}) {
      const double value = index == typed.first ? reading.first : reading.depth;
      if (std::abs(value) <= farthest) continue;
      problems.push_back(
          typed.table.problem(row.cells[static_cast<std::size_t>(index)], "no dish is that large", "", "check the number"));
    }
    typed.readings.push_back(reading);
  }
}

/// Two readings of one place that disagree cannot both be right; where more than half of several agree, the rest is set aside
/// later.
void check_repeats(const TypedTable& typed, const SurveyPoints& points, std::vector<Problem>& problems) {
  constexpr double inch = 0.0254;
  for (const std::vector<std::size_t>& group : place_groups(points)) {
    std::vector<double> depths;
    depths.reserve(group.size());
    for (const std::size_t i : group) depths.push_back(typed.readings[i].depth);
    const double middle = median(depths);
    const auto agree = std::count_if(depths.begin(), depths.end(), [&](double d) { return std::abs(d - middle) < inch; });
    const auto [least, most] = std::minmax_element(depths.begin(), depths.end());
    if (*most - *least < inch || 2 * agree > static_cast<std::ptrdiff_t>(group.size())) continue;
    const TypedReading& first = typed.readings[group.front()];
    const auto other = std::find_if(group.begin(), group.end(),
                                    [&](std::size_t i) { return std::abs(typed.readings[i].depth - first.depth) >= inch / 2; });
    const TypedReading& second = typed.readings[*other];
    problems.push_back(typed.table.problem(second.row->cells[static_cast<std::size_t>(typed.depth)],
                                           fmt::format("this place was read on line {} too, and differently", first.row->line),
                                           "the two depths differ by an inch or more", "measure it again and keep one row"));
  }
}

/// Rows of separators alone, as spreadsheets leave them below or between the readings.
std::string blank_rows_note(const std::string& content) {
  int count = 0;
  for (std::size_t at = 0; at < content.size();) {
    const std::size_t end = std::min(content.find_first_of("\r\n", at), content.size());
    const std::string_view line = std::string_view(content).substr(at, end - at);
    const bool blank = line.find_first_not_of(" \t,;\"") == std::string_view::npos;
    if (blank && line.find_first_of("\t,;") != std::string_view::npos) ++count;
    at = end + 1;
  }
  if (count == 0) return "";
  return count == 1 ? "1 blank row was passed over" : fmt::format("{} blank rows were passed over", count);
}

SurveyFile typed_survey(const CsvTable& table) {
  std::vector<Problem> problems;
  std::optional<TypedTable> typed = typed_columns(table, problems);
  if (typed) read_rows(*typed, problems);
  raise(problems);
  raise(find_mistakes(*typed));
  SurveyFile out;
  out.places = typed->by_ring ? PlaceWords::rings : PlaceWords::grid;
  out.survey.under_rim = true;
  out.survey.step = step_of(*typed);
  for (const TypedReading& reading : typed->readings) {
    double x = 0, y = 0;
    place_of(*typed, reading, x, y);
    out.survey.points.emplace_back(x, y, -reading.depth);
    out.survey.rows.push_back(reading.row->line);
    if (typed->by_ring && reading.first > 0) out.rings.push_back(reading.first);
  }
  if (const std::string note = mixed_depths(*typed); !note.empty()) out.notes.push_back(note);
  check_repeats(*typed, out.survey, problems);
  raise(problems);
  std::sort(out.rings.begin(), out.rings.end());
  out.rings.erase(std::unique(out.rings.begin(), out.rings.end(), [](double a, double b) { return b - a < 1e-6; }),
                  out.rings.end());
  return out;
}

/// Three plain numbers of a line.
bool plain_numbers(std::string_view line, char separator, const std::array<std::size_t, 3>& columns, std::array<double, 3>& out) {
  std::size_t at = 0, column = 0, found = 0;
  while (at <= line.size() && found < 3) {
    const std::size_t end = std::min(line.find(separator, at), line.size());
    for (std::size_t k = 0; k < 3; ++k) {
      if (columns[k] != column) continue;
      std::size_t from = at;
      while (from < end && (line[from] == ' ' || line[from] == '+')) ++from;
      const auto [stop, error] = decimal_from(line.data() + from, line.data() + end, out[k]);
      const std::string_view rest(stop, static_cast<std::size_t>(line.data() + end - stop));
      if (error != std::errc() || rest.find_first_not_of(" \r") != std::string_view::npos || !std::isfinite(out[k])) return false;
      ++found;
    }
    at = end + 1;
    ++column;
  }
  return found == 3;
}

/// The first lines of a table.
std::string head_of(const std::string& text) {
  std::size_t end = 0;
  for (int line = 0; line < 40 && end < text.size(); ++line) end = std::min(text.find('\n', end), text.size() - 1) + 1;
  return text.substr(0, end);
}

/// The columns say what a table is, not how long it is: x, y, z is a cloud, depths are readings.
bool is_cloud(const CsvTable& table) { return table.find("z") >= 0 && table.find("depth") < 0; }

/// A cloud in a table: the header is read with all care, the rows quickly.
SurveyFile table_cloud(const std::string& text, const std::string& file) {
  const CsvTable head(head_of(text), file);
  std::vector<Problem> problems;
  std::array<std::size_t, 3> columns{};
  std::array<double, 3> scales{};
  const std::array<const char*, 3> names = {"x", "y", "z"};
  for (std::size_t k = 0; k < 3; ++k) {
    const auto column = head.measured_column(names[k], Dimension::length, fmt::format("{} [mm]", names[k]), problems);
    if (!column) continue;
    columns[k] = static_cast<std::size_t>(*column);
    scales[k] = head.columns()[columns[k]].unit->scale;
  }
  raise(problems);
  const std::string first_line = text.substr(0, text.find('\n'));
  const char separator = first_line.find('\t') != std::string::npos  ? '\t'
                         : first_line.find(';') != std::string::npos ? ';'
                                                                     : ',';
  SurveyFile out;
  out.places = PlaceWords::cloud;
  int number = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string_view line = std::string_view(text).substr(at, end - at);
    ++number;
    at = end + 1;
    if (number <= head.columns().front().cell.line || line.empty() || line[0] == '#' ||
        line.find_first_not_of(" \t\r,;") == std::string_view::npos) {
      continue;
    }
    std::array<double, 3> values{};
    if (!plain_numbers(line, separator, columns, values)) {
      problems.push_back(Problem{printable(file), number, 1, 1, clipped(line, 120),
                                 "this row does not hold three numbers x, y, z", "a point needs all three, in plain decimals",
                                 "mend the row or take it out"});
      if (problems.size() >= 20) break;
      continue;
    }
    out.survey.points.emplace_back(values[0] * scales[0], values[1] * scales[1], values[2] * scales[2]);
    out.survey.rows.push_back(number);
  }
  raise(problems);
  return out;
}

SurveyFile mesh_cloud(const std::string& content, const std::string& ending, const std::string& file, const SurveyInput& input) {
  if (input.cloud_unit == nullptr) {
    refuse(file, fmt::format("the points of a {} file have no unit", ending.substr(1)), "the file format does not carry one",
           "say what they are in: --points-in mm (or in, cm, m)");
  }
  SurveyFile out;
  out.places = PlaceWords::cloud;
  out.row_word = "point";
  std::size_t left_out = 0;
  out.survey.points = cloud_points(content, ending, file, left_out);
  for (std::size_t i = 0; i < out.survey.points.size(); ++i) {
    out.survey.points[i] *= input.cloud_unit->scale;
    out.survey.rows.push_back(static_cast<int>(i) + 1);
  }
  if (left_out > 0) out.notes.push_back(fmt::format("{} points are not numbers and were left out", left_out));
  return out;
}

void check_points(const SurveyFile& found, const std::string& file) {
  const std::size_t count = found.survey.points.size();
  if (count < 10) {
    refuse(file, fmt::format("there are only {} readings", count),
           "a curved shape and its tilt need at least 10, spread over the whole dish",
           "read the middle and three rings of four places, or more; `dishwright survey --form` prints a form for them");
  }
  if (count > most_points) {
    refuse(file, fmt::format("there are {} points", count), fmt::format("at most {} are read", most_points),
           "thin the cloud out: take every second or third point");
  }
  for (std::size_t i = 0; i < count; ++i) {
    if (found.survey.points[i].allFinite() && found.survey.points[i].cwiseAbs().maxCoeff() <= farthest) continue;
    refuse(file, fmt::format("{} {} is more than 100 km away", found.row_word, found.survey.rows[i]), "",
           "check its numbers and the unit");
  }
  Vector3 low = found.survey.points.front(), high = low;
  for (const Vector3& point : found.survey.points) low = low.cwiseMin(point), high = high.cwiseMax(point);
  constexpr double smallest = 1e-3;
  if (const double reach = (high - low).maxCoeff(); reach > 0 && reach < smallest) {
    refuse(file, fmt::format("all the points lie within {:.2g} mm", 1e3 * reach), "no dish is under 1 mm across",
           "check the numbers and the unit");
  }
}

void apply_skin(SurveyFile& found, const SurveyInput& input) {
  if (input.outside && !input.skin) {
    throw InputError("--outside without --skin", "the mirror lies under the outer face by the thickness of the skin",
                     "give it: --skin 1/8in");
  }
  if (!input.skin) return;
  double reach = 0;
  for (const Vector3& point : found.survey.points) reach = std::max(reach, (point - found.survey.points.front()).norm());
  if (*input.skin < 0 || *input.skin > reach / 10) {
    throw InputError("--skin " + format_quantity(*input.skin, Dimension::length, nullptr) + " is no skin for a dish " +
                         format_quantity(reach, Dimension::length, nullptr) + " across",
                     "it lies between 0 and a tenth of the dish", "give the thickness of the sheet and what backs it");
  }
  found.survey.skin = *input.skin;
}

}  // namespace

SurveyFile read_survey(const std::filesystem::path& path, const SurveyInput& input) {
  const std::string file = path.string(), ending = ending_of(path);
  const std::string content = read_file(path, largest_file);
  SurveyFile found;
  if (ending == ".ply" || ending == ".obj" || ending == ".stl") {
    found = mesh_cloud(content, ending, file, input);
  } else if (ending == ".csv" || ending == ".txt" || ending == ".tsv") {
    if (const bool large = content.size() > largest_typed; large && is_cloud(CsvTable(head_of(content), file))) {
      found = table_cloud(content, file);
    } else {
      const CsvTable table(content, file);
      found = is_cloud(table) ? table_cloud(content, file) : typed_survey(table);
    }
    if (const std::string note = blank_rows_note(content); !note.empty()) found.notes.push_back(note);
  } else {
    throw FileRefused(std::vector<Problem>{Problem{
        printable(file), 0, 0, 1, "", fmt::format("\"{}\" is not a kind of file with points that is known", printable(ending)),
        "tables end in .csv, clouds in .csv, .ply, .obj or .stl", "save it as one of these"}});
  }
  check_points(found, file);
  apply_skin(found, input);
  return found;
}

}  // namespace dishwright
