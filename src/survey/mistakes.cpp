// SPDX-License-Identifier: MIT
#include "survey/mistakes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <optional>
#include <set>

#include "survey/bowl.h"

namespace dishwright {

namespace {

/// A quadric over the places (z is the depth), and how well it fits.
struct DepthBowl {
  std::vector<double> misses;   ///< depth − quadric [m]
  double typical = 0;           ///< median |miss| [m]
  double rough = 0;             ///< |miss| that a fifth exceeds [m]
  double bend = 0;              ///< mean second derivative of the depth [1/m]; a bowl under a straightedge has it below zero
  double reach = 0, range = 0;  ///< of the places; of the quadric's own depths there [m]
};

DepthBowl bowl_of(const std::vector<Vector3>& places) {
  DepthBowl bowl;
  for (const Vector3& p : places) bowl.reach = std::max(bowl.reach, std::hypot(p.x(), p.y()));
  if (!(bowl.reach > 0)) bowl.reach = 1;
  const Bowl fit = least_deviations(places, bowl.reach, 1e-5 * bowl.reach);
  bowl.misses = fit.misses;
  double shallowest = places[0].z() - bowl.misses[0], deepest = shallowest;
  std::vector<double> sizes;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double depth = places[i].z() - bowl.misses[i];
    shallowest = std::min(shallowest, depth), deepest = std::max(deepest, depth);
    sizes.push_back(std::abs(bowl.misses[i]));
  }
  bowl.range = deepest - shallowest;
  std::sort(sizes.begin(), sizes.end());
  bowl.typical = sizes[sizes.size() / 2];
  bowl.rough = sizes[sizes.size() * 4 / 5];
  bowl.bend = (fit.terms[3] + fit.terms[5]) / (bowl.reach * bowl.reach);
  return bowl;
}

/// How badly the depths fit a bowl, as a share of their own range: does not depend on units.
double badness(const DepthBowl& bowl) { return bowl.range > 1e-9 * bowl.reach ? bowl.rough / bowl.range : 1; }

/// Whether the depths' range comes from a bowl, not from a lean: a bowl of this bend is at least a quarter as deep.
bool is_bowl(const DepthBowl& bowl) { return -bowl.bend * bowl.reach * bowl.reach / 2 > bowl.range / 4 && bowl.range > 0; }

std::vector<Vector3> places_of(const TypedTable& typed) {
  std::vector<Vector3> out;
  for (const TypedReading& reading : typed.readings) {
    double x = 0, y = 0;
    place_of(typed, reading, x, y);
    out.emplace_back(x, y, reading.depth);
  }
  return out;
}

const CsvColumn& column(const TypedTable& typed, int index) { return typed.table.columns()[static_cast<std::size_t>(index)]; }
const CsvCell& cell(const TypedReading& reading, int index) { return reading.row->cells[static_cast<std::size_t>(index)]; }
bool in_inches(const TypedTable& typed) { return column(typed, typed.depth).unit->shown == "in"; }
bool in_millimetres(const TypedTable& typed) { return column(typed, typed.depth).unit->shown == "mm"; }

/// "3.8" read as 3 8/16 [in]; nothing for other ways to write, or where the decimals are no sixteenths (0 … 15).
std::optional<double> as_sixteenths(const std::string& text) {
  const std::size_t point = text.find('.');
  if (text.find_first_not_of("0123456789.") != std::string::npos) return std::nullopt;
  if (point == std::string::npos) return std::stod(text);
  const std::string decimals = text.substr(point + 1);
  if (decimals.empty() || decimals.size() > 2 || (decimals.size() == 2 && decimals[0] == '0')) return std::nullopt;
  const int sixteenths = std::stoi(decimals);
  if (sixteenths > 15) return std::nullopt;
  return (point == 0 ? 0 : std::stod(text.substr(0, point))) + sixteenths / 16.0;
}

bool is_fraction(const TypedTable& typed, const TypedReading& reading) {
  return cell(reading, typed.depth).text.find('/') != std::string::npos;
}

/// Mean |miss| of some readings [m].
double mean_miss(const DepthBowl& bowl, const std::vector<std::size_t>& which) {
  double sum = 0;
  for (const std::size_t i : which) sum += std::abs(bowl.misses[i]) / static_cast<double>(which.size());
  return sum;
}

/// Rows of a column of fractions whose decimals would be another depth as sixteenths: 5.6 among 5 1/2 and 5 3/8.
std::vector<std::size_t> odd_decimals(const TypedTable& typed) {
  std::vector<std::size_t> out;
  const auto fraction = [&](const TypedReading& reading) { return is_fraction(typed, reading); };
  if (!in_inches(typed) || std::none_of(typed.readings.begin(), typed.readings.end(), fraction)) return out;
  for (std::size_t i = 0; i < typed.readings.size(); ++i) {
    const double marks = typed.readings[i].depth / 0.0254 * 16;
    const std::optional<double> depth = as_sixteenths(cell(typed.readings[i], typed.depth).text);
    // A multiple of 1/16 in, such as 5.5 or 5.125, is no slip.
    if (depth && std::abs(marks - std::round(marks)) > 1e-3) out.push_back(i);
  }
  return out;
}

Problem sixteenths_problem(const TypedTable& typed, const TypedReading& example) {
  const std::string& text = cell(example, typed.depth).text;
  const std::size_t point = text.find('.');
  const std::string whole = text.substr(0, point), part = text.substr(point + 1);
  return typed.table.problem(cell(example, typed.depth),
                             fmt::format("depth {} looks like {} {}/16 in typed as a decimal", text, whole, part),
                             "read as sixteenths the depths make a smooth bowl; read as decimals they do not",
                             fmt::format("write fractions as fractions, {} {}/16, in this and every row", whole, part));
}

/// Some rows of a column of fractions as sixteenths typed as decimals.
std::optional<Problem> mixed_sixteenths(const TypedTable& typed, const std::vector<Vector3>& places, const DepthBowl& bowl) {
  const std::vector<std::size_t> odd = odd_decimals(typed);
  constexpr std::size_t enough = 3;
  if (odd.size() < enough) return std::nullopt;
  std::vector<Vector3> read = places;
  for (const std::size_t i : odd) read[i].z() = *as_sixteenths(cell(typed.readings[i], typed.depth).text) * 0.0254;
  const double as_typed = mean_miss(bowl, odd), as_marks = mean_miss(bowl_of(read), odd);
  if (as_typed < 0.0254 / 32 || as_marks > as_typed / 2) return std::nullopt;
  return sixteenths_problem(typed, typed.readings[odd.front()]);
}

/// The whole column of depths as sixteenths typed as decimals.
std::optional<Problem> sixteenths(const TypedTable& typed, const std::vector<Vector3>& places, const DepthBowl& bowl) {
  if (!in_inches(typed)) return std::nullopt;
  std::vector<Vector3> read = places;
  const TypedReading* example = nullptr;
  std::set<std::string> decimals;
  for (std::size_t i = 0; i < read.size(); ++i) {
    const std::string& text = cell(typed.readings[i], typed.depth).text;
    const std::optional<double> depth = as_sixteenths(text);
    if (!depth) return std::nullopt;
    read[i].z() = *depth * 0.0254;
    const std::size_t point = text.find('.');
    if (point == std::string::npos) continue;
    decimals.insert(text.substr(point));
    if (example == nullptr || text.size() - point > 2) example = &typed.readings[i];
  }
  constexpr std::size_t enough = 3;
  if (example == nullptr || decimals.size() < enough || badness(bowl_of(read)) > badness(bowl) / 2) return std::nullopt;
  return sixteenths_problem(typed, *example);
}

/// Two columns that changed places.
std::optional<Problem> swapped(const TypedTable& typed, const DepthBowl& bowl) {
  if (badness(bowl) < 0.01) return std::nullopt;
  for (const bool with_first : {true, false}) {
    if (!with_first && typed.by_ring) continue;
    TypedTable other = typed;
    for (TypedReading& reading : other.readings) std::swap(with_first ? reading.first : reading.second, reading.depth);
    const DepthBowl found = bowl_of(places_of(other));
    if (badness(found) > badness(bowl) / 4 || !is_bowl(found)) continue;
    const int index = with_first ? typed.first : typed.second;
    const std::string name = column(typed, index).name;
    return typed.table.problem(
        column(typed, typed.depth).cell, fmt::format("the columns {} and depth seem to be swapped", name),
        fmt::format("with {} read as depth the numbers make a smooth bowl; as they stand they do not", name),
        "change the two names in the header, or the two columns");
  }
  return std::nullopt;
}

/// Depths in inches below a header that says millimetres, or the other way round.
std::optional<Problem> wrong_unit(const TypedTable& typed, const DepthBowl& bowl) {
  const double share = bowl.range / (2 * bowl.reach);  // depth over width
  const bool flat = in_millimetres(typed) && share < 0.015 && 25.4 * share < 0.6;
  const bool deep = in_inches(typed) && share > 1 && share / 25.4 > 0.015;
  if ((!flat && !deep) || badness(bowl) > 0.1 || !is_bowl(bowl)) return std::nullopt;
  const char* const header = flat ? "mm" : "in";
  const char* const meant = flat ? "inches" : "millimetres";
  return typed.table.problem(
      column(typed, typed.depth).cell, fmt::format("the depths look like {} in a column headed [{}]", meant, header),
      fmt::format("as it stands the dish is {:.1f} in across and {:.2g} in deep ({:.0f} mm and {:.2g} mm)",
                  2 * bowl.reach / 0.0254, bowl.range / 0.0254, 2000 * bowl.reach, 1000 * bowl.range),
      fmt::format("write [{}] in the header of the depths, or give all columns in one unit", flat ? "in" : "mm"));
}

/// Single rows in the other unit: 25.4 times too small or too large, and right when that is mended.
void rows_in_other_unit(const TypedTable& typed, const std::vector<Vector3>& places, const DepthBowl& bowl,
                        std::vector<Problem>& problems) {
  if ((!in_inches(typed) && !in_millimetres(typed)) || !is_bowl(bowl)) return;
  const double fine = std::max(4 * bowl.typical, 0.02 * bowl.range);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double expected = places[i].z() - bowl.misses[i];
    const double mended = places[i].z() * (in_millimetres(typed) ? 25.4 : 1 / 25.4);
    if (std::abs(bowl.misses[i]) < 5 * fine || std::abs(mended - expected) > fine) continue;
    const char* const meant = in_millimetres(typed) ? "inches" : "millimetres";
    const double unit = column(typed, typed.depth).unit->scale;
    problems.push_back(typed.table.problem(
        cell(typed.readings[i], typed.depth),
        fmt::format("depth {} looks like {} in a column headed [{}]", cell(typed.readings[i], typed.depth).text, meant,
                    column(typed, typed.depth).unit_text),
        fmt::format("the readings around it are about {}; this one is right as {}", short_number(expected / unit), meant),
        fmt::format("write {}", short_number(mended / unit))));
  }
}

void fractions_in_millimetres(const TypedTable& typed, std::vector<Problem>& problems) {
  for (const TypedReading& reading : typed.readings) {
    for (const int index : {typed.first, typed.second, typed.depth}) {
      const CsvColumn& head = column(typed, index);
      const std::string& text = cell(reading, index).text;
      const bool fraction = text.find('/') != std::string::npos;
      if (!fraction || head.unit == nullptr || head.unit->shown != "mm") continue;
      problems.push_back(typed.table.problem(
          cell(reading, index), fmt::format("{} {} is a fraction in a column headed [mm]", head.name, text),
          "fractions come from an inch tape", "write [in] in the header, or turn the number into millimetres"));
    }
  }
}

/// A straightedge across the rim is farthest from the bowl in the middle.
std::optional<Problem> upside_down(const TypedTable& typed, const DepthBowl& bowl) {
  const bool dome = bowl.bend * bowl.reach * bowl.reach / 2 > bowl.range / 4;
  if (!dome || badness(bowl) > 0.1 || bowl.range < 1e-3 * bowl.reach) return std::nullopt;
  return typed.table.problem(
      column(typed, typed.depth).cell, "the depths grow from the middle to the rim",
      "a depth is measured down from a straightedge that lies across the rim, so the middle is the deepest",
      "if these are heights above the bench, subtract each from the height of the rim");
}

}  // namespace

void place_of(const TypedTable& typed, const TypedReading& reading, double& x, double& y) {
  x = reading.first, y = reading.second;
  if (!typed.by_ring) return;
  const double angle = reading.second / 12 * 2 * std::numbers::pi;
  x = reading.first * std::sin(angle), y = reading.first * std::cos(angle);
}

std::vector<Problem> find_mistakes(const TypedTable& typed) {
  std::vector<Problem> problems;
  fractions_in_millimetres(typed, problems);
  constexpr std::size_t enough = 8;
  if (!problems.empty() || typed.readings.size() < enough) return problems;
  const std::vector<Vector3> places = places_of(typed);
  const DepthBowl bowl = bowl_of(places);
  for (const std::optional<Problem>& found :
       {swapped(typed, bowl), sixteenths(typed, places, bowl), mixed_sixteenths(typed, places, bowl), wrong_unit(typed, bowl),
        upside_down(typed, bowl)}) {
    if (found) return {*found};
  }
  rows_in_other_unit(typed, places, bowl, problems);
  return problems;
}

std::string mixed_depths(const TypedTable& typed) {
  const std::vector<std::size_t> odd = odd_decimals(typed);
  if (odd.empty()) return "";
  const CsvCell& first = cell(typed.readings[odd.front()], typed.depth);
  return fmt::format(
      "the depths are fractions in some rows and decimals in others; line {}: {} was read as the decimal it is, not as "
      "sixteenths",
      first.line, first.text);
}

}  // namespace dishwright
