// SPDX-License-Identifier: MIT
// Quantities as people in a shop write them, turned into SI once, at the door: "3 1/2 in", "2' 6-1/2\"", "4 mrad", "72 °F".
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace dishwright {

/// What a quantity measures. `number` is a pure number, which may carry a per cent sign.
enum class Dimension {
  number,
  length,
  area,
  volume,
  mass,
  time,
  speed,
  angle,
  frequency,
  temperature,
  pressure,
  power,
  irradiance,
  luminous_flux,
  level,       ///< a ratio in dB
  power_level  ///< a power in dBm, decibels over 1 mW
};

/// One way to write a unit. value_SI = number × scale + zero (zero is not 0 for the temperature scales only).
struct Unit {
  std::string_view symbol;  ///< as written, in plain ASCII: "in", "W/m2", "degF"
  Dimension dimension = Dimension::number;
  double scale = 1;        ///< SI units a unit
  double zero = 0;         ///< SI value of 0 of this unit
  std::string_view shown;  ///< the usual way to print it: "in" for "inches", "°F" for "degF"
  int chain = 0;           ///< units of one chain may follow each other: "2 ft 6 in"; 0 = stands alone
  bool us = false;         ///< a US customary unit
};

/// A quantity that was understood.
struct Quantity {
  double value = 0;            ///< in SI units (a pure number as such)
  const Unit* unit = nullptr;  ///< the first unit written; null for a pure number without one
};

/// Why a text is not a quantity. The words complete "KEY = "TEXT" …".
struct BadQuantity {
  std::string what;  ///< "has no unit"
  std::string why;   ///< "a length needs its unit: in, ft, mm, cm, m"
  std::string fix;   ///< `write "24 in" or "24 cm"`; empty where an example has to do
};

/// Reads `text` as a quantity of the wanted dimension.
///
/// Numbers: 24, 0.25, .5, 1e3, 1/2, 3 1/2, 3-1/2, ½, 3½. Units of one chain may follow each other from large to small, all but
/// the last with whole numbers, each below one of the unit before: 2 ft 6 in, 2'-6 1/2", 1 m 20 cm, 12° 30', 1 h 5 min, 2 lb 3
/// oz. ' and " are feet and inches for a length, minutes and seconds of arc for an angle. Gallons, quarts and fluid ounces are US
/// ones.
std::variant<Quantity, BadQuantity> parse_quantity(std::string_view text, Dimension wanted);

/// The value in words a person uses, four digits: inches and feet if `like` is a US unit, the metric unit of fitting size if not;
/// dimensions without such a ladder are printed in `like`, or in their usual unit where it is null.
std::string format_quantity(double value, Dimension dimension, const Unit* like);
/// A length in inches and in metric units: "24 in (60.96 cm)".
std::string in_both(double metres);
/// Four significant digits without an exponent where that reads well: 0.003937, 24.5, 1000000.
std::string short_number(double value);

/// The SI unit of a dimension: "m", "rad", "W/m2"; "1" for a pure number.
std::string si_unit(Dimension dimension);
/// "a length", "an angle", …
std::string dimension_word(Dimension dimension);
/// The units to name in remedies: "in, ft, mm, cm or m".
std::string usual_units(Dimension dimension);
/// Two units to offer where one was left out: US or small, then metric or large.
std::pair<std::string, std::string> two_usual_units(Dimension dimension);
/// All ways to write units.
const std::vector<Unit>& all_units();

}  // namespace dishwright
