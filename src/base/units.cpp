// SPDX-License-Identifier: MIT
// The table of units. Factors: [nist811], appendix B; exact by definition unless a note says otherwise.
#include <numbers>

#include "base/quantity.h"

namespace dishwright {

namespace {

constexpr double inch = 0.0254;
constexpr double foot = 0.3048;
constexpr double pound = 0.45359237;
constexpr double gallon = 231 * inch * inch * inch;
constexpr double degree = std::numbers::pi / 180;
constexpr double btu = 1055.05585262;  // international table
constexpr double standard_gravity = 9.80665;
constexpr double mercury_millimetre = 133.322387415;  // conventional millimetre of mercury, 13595.1 kg/m³
constexpr double celsius_zero = 273.15;
constexpr double fahrenheit_zero = 273.15 - 32 / 1.8;

// Chains: units of one chain may follow each other in one quantity.
constexpr int feet_inches = 1, metric = 2, arc = 3, pounds_ounces = 4, clock = 5;

std::vector<Unit> make_lengths() {
  const Dimension d = Dimension::length;
  return {
      {"in", d, inch, 0, "in", feet_inches, true},
      {"inch", d, inch, 0, "in", feet_inches, true},
      {"inches", d, inch, 0, "in", feet_inches, true},
      {"\"", d, inch, 0, "in", feet_inches, true},
      {"ft", d, foot, 0, "ft", feet_inches, true},
      {"foot", d, foot, 0, "ft", feet_inches, true},
      {"feet", d, foot, 0, "ft", feet_inches, true},
      {"'", d, foot, 0, "ft", feet_inches, true},
      {"yd", d, 3 * foot, 0, "yd", feet_inches, true},
      {"yard", d, 3 * foot, 0, "yd", feet_inches, true},
      {"yards", d, 3 * foot, 0, "yd", feet_inches, true},
      {"mi", d, 5280 * foot, 0, "mi", 0, true},
      {"mile", d, 5280 * foot, 0, "mi", 0, true},
      {"miles", d, 5280 * foot, 0, "mi", 0, true},
      {"thou", d, inch / 1000, 0, "thou", 0, true},
      {"um", d, 1e-6, 0, "µm", 0, false},
      {"mm", d, 1e-3, 0, "mm", metric, false},
      {"cm", d, 1e-2, 0, "cm", metric, false},
      {"m", d, 1, 0, "m", metric, false},
      {"km", d, 1e3, 0, "km", 0, false},
      {"millimeter", d, 1e-3, 0, "mm", metric, false},
      {"millimeters", d, 1e-3, 0, "mm", metric, false},
      {"millimetre", d, 1e-3, 0, "mm", metric, false},
      {"millimetres", d, 1e-3, 0, "mm", metric, false},
      {"centimeter", d, 1e-2, 0, "cm", metric, false},
      {"centimeters", d, 1e-2, 0, "cm", metric, false},
      {"centimetre", d, 1e-2, 0, "cm", metric, false},
      {"centimetres", d, 1e-2, 0, "cm", metric, false},
      {"meter", d, 1, 0, "m", metric, false},
      {"meters", d, 1, 0, "m", metric, false},
      {"metre", d, 1, 0, "m", metric, false},
      {"metres", d, 1, 0, "m", metric, false},
      {"kilometer", d, 1e3, 0, "km", 0, false},
      {"kilometers", d, 1e3, 0, "km", 0, false},
      {"kilometre", d, 1e3, 0, "km", 0, false},
      {"kilometres", d, 1e3, 0, "km", 0, false},
  };
}

std::vector<Unit> make_angles() {
  const Dimension d = Dimension::angle;
  return {
      {"deg", d, degree, 0, "deg", arc, false},
      {"degree", d, degree, 0, "deg", arc, false},
      {"degrees", d, degree, 0, "deg", arc, false},
      {"mrad", d, 1e-3, 0, "mrad", 0, false},
      {"milliradian", d, 1e-3, 0, "mrad", 0, false},
      {"milliradians", d, 1e-3, 0, "mrad", 0, false},
      {"urad", d, 1e-6, 0, "µrad", 0, false},
      {"rad", d, 1, 0, "rad", 0, false},
      {"radian", d, 1, 0, "rad", 0, false},
      {"radians", d, 1, 0, "rad", 0, false},
      {"arcmin", d, degree / 60, 0, "arcmin", arc, false},
      {"arcsec", d, degree / 3600, 0, "arcsec", arc, false},
      {"'", d, degree / 60, 0, "arcmin", arc, false},
      {"\"", d, degree / 3600, 0, "arcsec", arc, false},
  };
}

std::vector<Unit> make_areas_and_volumes() {
  const Dimension a = Dimension::area, v = Dimension::volume;
  return {
      {"in2", a, inch * inch, 0, "in²", 0, true},
      {"sq in", a, inch * inch, 0, "in²", 0, true},
      {"ft2", a, foot * foot, 0, "ft²", 0, true},
      {"sq ft", a, foot * foot, 0, "ft²", 0, true},
      {"mm2", a, 1e-6, 0, "mm²", 0, false},
      {"cm2", a, 1e-4, 0, "cm²", 0, false},
      {"m2", a, 1, 0, "m²", 0, false},
      {"m3", v, 1, 0, "m³", 0, false},
      {"cm3", v, 1e-6, 0, "cm³", 0, false},
      {"in3", v, inch * inch * inch, 0, "in³", 0, true},
      {"ft3", v, foot * foot * foot, 0, "ft³", 0, true},
      {"L", v, 1e-3, 0, "L", 0, false},
      {"l", v, 1e-3, 0, "L", 0, false},
      {"liter", v, 1e-3, 0, "L", 0, false},
      {"liters", v, 1e-3, 0, "L", 0, false},
      {"litre", v, 1e-3, 0, "L", 0, false},
      {"litres", v, 1e-3, 0, "L", 0, false},
      {"mL", v, 1e-6, 0, "mL", 0, false},
      {"ml", v, 1e-6, 0, "mL", 0, false},
      {"gal", v, gallon, 0, "gal", 0, true},
      {"gallon", v, gallon, 0, "gal", 0, true},
      {"gallons", v, gallon, 0, "gal", 0, true},
      {"qt", v, gallon / 4, 0, "qt", 0, true},
      {"quart", v, gallon / 4, 0, "qt", 0, true},
      {"quarts", v, gallon / 4, 0, "qt", 0, true},
      {"pt", v, gallon / 8, 0, "pt", 0, true},
      {"pint", v, gallon / 8, 0, "pt", 0, true},
      {"pints", v, gallon / 8, 0, "pt", 0, true},
      {"cup", v, gallon / 16, 0, "cup", 0, true},
      {"cups", v, gallon / 16, 0, "cup", 0, true},
      {"fl oz", v, gallon / 128, 0, "fl oz", 0, true},
  };
}

std::vector<Unit> make_mass_time_speed() {
  const Dimension m = Dimension::mass, t = Dimension::time, s = Dimension::speed;
  return {
      {"g", m, 1e-3, 0, "g", 0, false},
      {"gram", m, 1e-3, 0, "g", 0, false},
      {"grams", m, 1e-3, 0, "g", 0, false},
      {"kg", m, 1, 0, "kg", 0, false},
      {"kilogram", m, 1, 0, "kg", 0, false},
      {"kilograms", m, 1, 0, "kg", 0, false},
      {"lb", m, pound, 0, "lb", pounds_ounces, true},
      {"lbs", m, pound, 0, "lb", pounds_ounces, true},
      {"pound", m, pound, 0, "lb", pounds_ounces, true},
      {"pounds", m, pound, 0, "lb", pounds_ounces, true},
      {"oz", m, pound / 16, 0, "oz", pounds_ounces, true},
      {"ounce", m, pound / 16, 0, "oz", pounds_ounces, true},
      {"ounces", m, pound / 16, 0, "oz", pounds_ounces, true},
      {"ms", t, 1e-3, 0, "ms", 0, false},
      {"s", t, 1, 0, "s", clock, false},
      {"sec", t, 1, 0, "s", clock, false},
      {"second", t, 1, 0, "s", clock, false},
      {"seconds", t, 1, 0, "s", clock, false},
      {"min", t, 60, 0, "min", clock, false},
      {"minute", t, 60, 0, "min", clock, false},
      {"minutes", t, 60, 0, "min", clock, false},
      {"h", t, 3600, 0, "h", clock, false},
      {"hr", t, 3600, 0, "h", clock, false},
      {"hour", t, 3600, 0, "h", clock, false},
      {"hours", t, 3600, 0, "h", clock, false},
      {"day", t, 86400, 0, "days", clock, false},
      {"days", t, 86400, 0, "days", clock, false},
      {"m/s", s, 1, 0, "m/s", 0, false},
      {"km/h", s, 1 / 3.6, 0, "km/h", 0, false},
      {"kph", s, 1 / 3.6, 0, "km/h", 0, false},
      {"mph", s, 5280 * foot / 3600, 0, "mph", 0, true},
      {"ft/s", s, foot, 0, "ft/s", 0, true},
      {"knot", s, 1852.0 / 3600, 0, "knots", 0, false},
      {"knots", s, 1852.0 / 3600, 0, "knots", 0, false},
  };
}

std::vector<Unit> make_power() {
  const Dimension w = Dimension::power, e = Dimension::irradiance, l = Dimension::luminous_flux;
  return {
      {"W", w, 1, 0, "W", 0, false},
      {"watt", w, 1, 0, "W", 0, false},
      {"watts", w, 1, 0, "W", 0, false},
      {"mW", w, 1e-3, 0, "mW", 0, false},
      {"kW", w, 1e3, 0, "kW", 0, false},
      {"BTU/h", w, btu / 3600, 0, "BTU/h", 0, true},
      {"W/m2", e, 1, 0, "W/m2", 0, false},
      {"kW/m2", e, 1e3, 0, "kW/m2", 0, false},
      {"W/cm2", e, 1e4, 0, "W/cm2", 0, false},
      {"mW/cm2", e, 10, 0, "mW/cm2", 0, false},
      {"BTU/h/ft2", e, btu / 3600 / (foot * foot), 0, "BTU/h/ft2", 0, true},
      {"lm", l, 1, 0, "lm", 0, false},
      {"lumen", l, 1, 0, "lm", 0, false},
      {"lumens", l, 1, 0, "lm", 0, false},
      {"klm", l, 1e3, 0, "klm", 0, false},
  };
}

std::vector<Unit> make_others() {
  const Dimension n = Dimension::number, f = Dimension::frequency, t = Dimension::temperature, p = Dimension::pressure;
  return {
      {"%", n, 0.01, 0, "%", 0, false},
      {"percent", n, 0.01, 0, "%", 0, false},
      {"Hz", f, 1, 0, "Hz", 0, false},
      {"kHz", f, 1e3, 0, "kHz", 0, false},
      {"MHz", f, 1e6, 0, "MHz", 0, false},
      {"GHz", f, 1e9, 0, "GHz", 0, false},
      {"K", t, 1, 0, "K", 0, false},
      {"C", t, 1, celsius_zero, "°C", 0, false},
      {"degC", t, 1, celsius_zero, "°C", 0, false},
      {"deg C", t, 1, celsius_zero, "°C", 0, false},
      {"F", t, 1 / 1.8, fahrenheit_zero, "°F", 0, true},
      {"degF", t, 1 / 1.8, fahrenheit_zero, "°F", 0, true},
      {"deg F", t, 1 / 1.8, fahrenheit_zero, "°F", 0, true},
      {"Pa", p, 1, 0, "Pa", 0, false},
      {"hPa", p, 100, 0, "hPa", 0, false},
      {"kPa", p, 1e3, 0, "kPa", 0, false},
      {"mbar", p, 100, 0, "mbar", 0, false},
      {"bar", p, 1e5, 0, "bar", 0, false},
      {"psi", p, pound * standard_gravity / (inch * inch), 0, "psi", 0, true},
      {"mmHg", p, mercury_millimetre, 0, "mmHg", 0, false},
      {"dB", Dimension::level, 1, 0, "dB", 0, false},
      {"dBm", Dimension::power_level, 1, 0, "dBm", 0, false},
      {"inHg", p, mercury_millimetre * 25.4, 0, "inHg", 0, true},
  };
}

std::vector<Unit> make_units() {
  std::vector<Unit> units = make_lengths();
  for (const auto& more : {make_angles(), make_areas_and_volumes(), make_mass_time_speed(), make_power(), make_others()}) {
    units.insert(units.end(), more.begin(), more.end());
  }
  return units;
}

}  // namespace

const std::vector<Unit>& all_units() {
  static const std::vector<Unit> units = make_units();
  return units;
}

}  // namespace dishwright
