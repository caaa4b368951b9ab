// SPDX-License-Identifier: MIT
#include "report/numbers/number_text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/tape_marks.h"

namespace dishwright {

namespace {

constexpr double metres_per_inch = 0.0254;            // exact: international inch
constexpr double huge_from = 1e7, tiny_below = 1e-6;  // outside these, powers of ten read better than zeros
constexpr double no_length = 1e-10;                   // [m] less than an atom: rounding
constexpr int figure_digits = 3, most_decimals = 12;

/// Largest power of ten not above |x|; x not 0.
int decade(double x) { return static_cast<int>(std::floor(std::log10(std::abs(x)))); }

/// Decimals that leave one significant digit of the error, two where it begins with 1 (after rounding).
int decimals_for(double error) {
  const int e = decade(error);
  const double lead = error / std::pow(10.0, e);
  return lead < 1.95 ? 1 - e : -e;
}

/// Fixed decimals; a negative count rounds to tens, hundreds, …; never "-0".
std::string fixed(double value, int decimals) {
  if (decimals < 0) {
    const double step = std::pow(10.0, -decimals);
    value = std::round(value / step) * step;
  }
  std::string text = fmt::format("{:.{}f}", value, std::max(0, decimals));
  if (text[0] == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string without_needless_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string four_digits(double value) {
  if (value == 0) return "0";
  // Digits before the point are never cut to zeros: 12346, not 12350.
  return without_needless_zeros(fixed(value, std::max(0, 3 - decade(value))));
}

/// Decimals that leave three digits of a value that is not 0; below 0 they round to tens, hundreds …
int figure_decimals(double value) {
  const int decimals = figure_digits - 1 - decade(value);
  // 99.96 becomes 100, not 100.0.
  const double rounded = std::round(value * std::pow(10.0, decimals)) * std::pow(10.0, -decimals);
  return figure_digits - 1 - decade(rounded * (1 + 1e-12));
}

/// Decimals of the finest place of a length that anybody could measure.
int finest_place(const std::string& unit) { return unit == "in" ? 3 : unit == "mm" ? 2 : most_decimals; }

int shown_power(double size) {
  if (size == 0 || (size < huge_from && size >= tiny_below)) return 0;
  return decade(size);
}

std::string unit_suffix(const std::string& unit) { return unit == "1" || unit.empty() ? "" : " " + unit; }

/// An exact number, four digits.
NumberParts exact_parts(double value) {
  if (!std::isfinite(value)) return {fmt::format("{}", value), "", 0};
  const int power = shown_power(std::abs(value));
  return {four_digits(value * std::pow(10.0, -power)), "", power};
}

std::string joined(const NumberParts& parts, const std::string& suffix) {
  const std::string both = parts.error.empty() ? parts.value : parts.value + " ± " + parts.error;
  if (parts.power_of_ten == 0) return both + suffix;
  const std::string power = fmt::format(" × 10^{}", parts.power_of_ten);
  return (parts.error.empty() ? both : "(" + both + ")") + power + suffix;
}

}  // namespace

NumberParts figure_parts(const Estimate& shown) {
  const double value = shown.value, error = shown.std_error.value_or(0);
  if (!std::isfinite(value) || !std::isfinite(error)) return {fmt::format("{}", value), "", 0};
  NumberParts parts;
  parts.power_of_ten = shown_power(std::max(std::abs(value), error));
  const double scale = std::pow(10.0, -parts.power_of_ten);
  const int decimals = value == 0 ? most_decimals : std::min(figure_decimals(value * scale), most_decimals);
  const int finest = std::abs(value) <= 2 * error ? finest_place(shown.unit) : most_decimals;
  if (error * scale < 0.5 * std::pow(10.0, -std::min(decimals, finest))) {
    parts.value = without_needless_zeros(fixed(value * scale, std::min(decimals, finest)));
    return parts;
  }
  const int shown_decimals = std::min({decimals, finest, decimals_for(error * scale)});
  parts.value = fixed(value * scale, shown_decimals);
  parts.error = fixed(error * scale, shown_decimals);
  return parts;
}

Estimate in_shown_unit(const Estimate& estimate, Units units) {
  double scale = 1;
  std::string unit = estimate.unit;
  if (unit == "m") {
    scale = lengths_per_metre(units);
    unit = length_unit(units);
  } else if (unit == "m2") {
    scale = units == Units::us ? 1 / (metres_per_inch * metres_per_inch) : 1e4;
    unit = units == Units::us ? "in²" : "cm²";
  } else if (unit == "W/m2") {
    scale = 1e-3;
    unit = "kW/m²";
  } else if (unit == "lm/m2") {
    unit = "lux";
  } else if (unit == "rad") {
    scale = 180 / std::numbers::pi;
    unit = "deg";
  }
  if (estimate.unit == "m" && std::max(std::abs(estimate.value), estimate.std_error.value_or(0)) < no_length)
    return {0, std::nullopt, unit};
  Estimate shown{estimate.value * scale, std::nullopt, unit};
  if (estimate.std_error) shown.std_error = *estimate.std_error * scale;
  return shown;
}

std::string number_text(const Estimate& estimate, Units units) {
  const Estimate shown = in_shown_unit(estimate, units);
  return joined(figure_parts(shown), unit_suffix(shown.unit));
}

std::string percent_text(const Estimate& estimate) {
  Estimate percent{100 * estimate.value, std::nullopt, "%"};
  if (estimate.std_error) percent.std_error = 100 * *estimate.std_error;
  return joined(figure_parts(percent), " %");
}

std::string tape_text(double metres, Units units, int parts) {
  return units == Units::us ? tape_inches(metres, parts) : tape_millimetres(metres);
}

std::string length_text(double metres, Units units) {
  const Estimate shown = in_shown_unit({metres, std::nullopt, "m"}, units);
  return joined(exact_parts(shown.value), unit_suffix(shown.unit));
}
std::string degrees_text(double radians) { return exact_text(radians * 180 / std::numbers::pi) + " deg"; }
std::string about_degrees_text(double radians) { return rough_text(radians * 180 / std::numbers::pi, 3) + " deg"; }
std::string milliradians_text(double radians) { return exact_text(radians * 1e3) + " mrad"; }
std::string exact_text(double value) { return joined(exact_parts(value), ""); }
std::string rough_text(double value, int digits) {
  if (value == 0 || !std::isfinite(value)) return exact_text(value);
  const double step = std::pow(10.0, decade(value) - digits + 1);
  return exact_text(std::round(value / step) * step);
}

std::string length_unit(Units units) { return units == Units::us ? "in" : "mm"; }
double lengths_per_metre(Units units) { return units == Units::us ? 1 / metres_per_inch : 1e3; }

}  // namespace dishwright
