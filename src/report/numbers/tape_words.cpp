// SPDX-License-Identifier: MIT
#include "report/numbers/tape_words.h"

#include <fmt/format.h>

#include <cmath>

namespace dishwright {

namespace {

constexpr double inch = 0.0254, millimetre = 1e-3;  // [m]
constexpr double long_length = 100 * inch;          // from here on fractions tell nothing [m]
constexpr double slack = 1e-9;                      // of a mark: a length on the mark stays on it
constexpr int rule_parts = 64;                      // of an inch: the finest marks of a steel rule
constexpr double shortest_run_us = 6 * inch, shortest_run_si = 150 * millimetre;

double down_to(double metres, double mark) { return std::floor(metres / mark + slack) * mark; }
double up_to(double metres, double mark) { return std::ceil(metres / mark - slack) * mark; }

/// Distance of the marks that people read a length of this size by [m].
double mark_for(double metres, Units units) {
  if (units == Units::si) return metres < 3 * millimetre ? 0.5 * millimetre : millimetre;
  if (metres >= long_length) return inch;
  return metres >= inch ? inch / 16 : metres >= inch / 8 ? inch / 32 : inch / rule_parts;
}

std::string on_tape(double metres, Units units) { return tape_text(metres, units, rule_parts); }

std::string tenths(double metres) { return fmt::format("{:.1f} mm", metres / millimetre); }

}  // namespace

std::string tape_down(double metres, Units units) {
  const double mark = mark_for(metres, units), shown = down_to(metres, mark);
  return shown > 0 || metres <= 0 ? on_tape(shown, units) : "less than " + on_tape(mark, units);
}

std::string tape_up(double metres, Units units) { return on_tape(up_to(metres, mark_for(metres, units)), units); }

double straightedge(double slope, double longest, Units units) {
  const double least = units == Units::us ? inch / 16 : millimetre;
  double run = units == Units::us ? shortest_run_us : shortest_run_si;
  while (slope > 0 && slope * run < least * (1 - slack) && 2 * run <= longest) run *= 2;
  return run;
}

std::string rise_down(double metres, Units units) {
  const double mark = units == Units::us ? inch / rule_parts : 0.1 * millimetre, shown = down_to(metres, mark);
  if (units == Units::us) return shown > 0 || metres <= 0 ? on_tape(shown, units) : "less than " + on_tape(mark, units);
  return shown > 0 || metres <= 0 ? tenths(shown) : "less than " + tenths(mark);
}

std::string rise_up(double metres, Units units) {
  return units == Units::us ? on_tape(up_to(metres, inch / rule_parts), units) : tenths(up_to(metres, 0.1 * millimetre));
}

std::string run_text(double metres, Units units) { return tape_text(metres, units); }

}  // namespace dishwright
