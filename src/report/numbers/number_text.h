// SPDX-License-Identifier: MIT
// Numbers as people read them: three digits, an error where it shows in them, shop units. The same on every machine, whatever its
// locale.
#pragma once

#include <string>

#include "base/estimate.h"

namespace dishwright {

/// What lengths are printed in: millimetres or inches. Light is in W and kW/m² in both.
enum class Units { si, us };

/// The two halves of a printed number: "712.4" and "0.6"; `error` is empty where there is none to show.
struct NumberParts {
  std::string value, error;
  int power_of_ten = 0;  ///< both halves are to be multiplied by 10 to this power; 0 for all but huge and tiny numbers
};

/// The same estimate in the unit that is printed: m → mm or in, m2 → cm² or in², W/m2 → kW/m², lm/m2 → lux, rad → deg. A length
/// below 1e-10 m is rounding: 0.
Estimate in_shown_unit(const Estimate& estimate, Units units);

/// Cuts a figure to three digits for people. The error is shown only where it reaches half of the last digit, and never finer
/// than that digit. A length that its error does not tell from 0 is cut at 1/1000 in or 1/100 mm.
NumberParts figure_parts(const Estimate& shown);

/// A figure, three digits: "712 W", "52.3 ± 0.9 kW/m²", "(1.23 ± 0.06) × 10^9 W"; a pure number has no unit.
std::string number_text(const Estimate& estimate, Units units);
/// A pure number as a percentage, three digits: "94.3 ± 0.2 %".
std::string percent_text(const Estimate& estimate);

/// A length [m] as a tape or rule shows it: "3/8 in" (marks at 1/`parts` in) or "10 mm".
std::string tape_text(double metres, Units units, int parts = 16);
/// An exact length [m] with its unit, four digits: "48 in" or "1219 mm".
std::string length_text(double metres, Units units);
/// An exact angle [rad] in degrees: "0.5 deg".
std::string degrees_text(double radians);
/// The same to three digits: of an angle that nobody wrote, as of a sun that has gone on.
std::string about_degrees_text(double radians);
/// An exact small angle [rad] in thousandths of a radian: "4 mrad".
std::string milliradians_text(double radians);
/// An exact number, four significant digits, without needless zeros: "24.5", "0.003937", "1.235 × 10^9".
std::string exact_text(double value);
/// A number that is known to so many digits only (1 … 4), whole digits before the point: "620", "0.053", "1200".
std::string rough_text(double value, int digits);

/// "mm" or "in", and how many of them make a metre.
std::string length_unit(Units units);
double lengths_per_metre(Units units);

}  // namespace dishwright
