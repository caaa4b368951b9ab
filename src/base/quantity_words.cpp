// SPDX-License-Identifier: MIT
// Quantities and dimensions in words.
#include <fmt/format.h>

#include <cmath>

#include "base/quantity.h"

namespace dishwright {

namespace {

/// A metric or US length in the unit of fitting size.
std::string format_length(double value, bool us) {
  const double size = std::abs(value);
  if (us) return size < 120 * 0.0254 ? short_number(value / 0.0254) + " in" : short_number(value / 0.3048) + " ft";
  if (size < 0.1) return short_number(value * 1e3) + " mm";
  if (size < 1) return short_number(value * 1e2) + " cm";
  return size < 1000 ? short_number(value) + " m" : short_number(value / 1e3) + " km";
}

std::string_view usual_unit(Dimension dimension) {
  switch (dimension) {
    case Dimension::number: return "";
    case Dimension::length: return "m";
    case Dimension::area: return "m2";
    case Dimension::volume: return "L";
    case Dimension::mass: return "kg";
    case Dimension::time: return "s";
    case Dimension::speed: return "m/s";
    case Dimension::angle: return "mrad";
    case Dimension::frequency: return "Hz";
    case Dimension::temperature: return "degC";
    case Dimension::pressure: return "kPa";
    case Dimension::power: return "W";
    case Dimension::irradiance: return "W/m2";
    case Dimension::luminous_flux: return "lm";
    case Dimension::level: return "dB";
    case Dimension::power_level: return "dBm";
  }
  return "";
}

}  // namespace

std::string short_number(double value) {
  const double size = std::abs(value);
  if (value != 0 && (size < 1e-4 || size >= 1e7)) return fmt::format("{:.4g}", value);
  const int before_point = size >= 1 ? static_cast<int>(std::floor(std::log10(size))) + 1 : 0;
  int decimals = before_point >= 4 ? 0 : 4 - before_point;
  if (size > 0 && size < 0.1) decimals += static_cast<int>(-std::floor(std::log10(size))) - 1;
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') == std::string::npos) return text;
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string format_quantity(double value, Dimension dimension, const Unit* like) {
  if (dimension == Dimension::length) return format_length(value, like != nullptr && like->us);
  if (dimension == Dimension::number && like == nullptr) return short_number(value);
  const Unit* unit = like;
  for (const Unit& candidate : all_units()) {
    if (unit == nullptr && candidate.dimension == dimension && candidate.symbol == usual_unit(dimension)) unit = &candidate;
  }
  return fmt::format("{} {}", short_number((value - unit->zero) / unit->scale), unit->shown);
}

std::string dimension_word(Dimension dimension) {
  switch (dimension) {
    case Dimension::number: return "a pure number";
    case Dimension::length: return "a length";
    case Dimension::area: return "an area";
    case Dimension::volume: return "a volume";
    case Dimension::mass: return "a mass";
    case Dimension::time: return "a time";
    case Dimension::speed: return "a speed";
    case Dimension::angle: return "an angle";
    case Dimension::frequency: return "a frequency";
    case Dimension::temperature: return "a temperature";
    case Dimension::pressure: return "a pressure";
    case Dimension::power: return "a power";
    case Dimension::irradiance: return "a power per area";
    case Dimension::luminous_flux: return "an amount of light";
    case Dimension::level: return "a level";
    case Dimension::power_level: return "a power in dBm";
  }
  return "";
}

std::pair<std::string, std::string> two_usual_units(Dimension dimension) {
  switch (dimension) {
    case Dimension::number: return {"%", "%"};
    case Dimension::length: return {"in", "cm"};
    case Dimension::area: return {"ft2", "m2"};
    case Dimension::volume: return {"qt", "L"};
    case Dimension::mass: return {"lb", "kg"};
    case Dimension::time: return {"min", "s"};
    case Dimension::speed: return {"mph", "m/s"};
    case Dimension::angle: return {"deg", "mrad"};
    case Dimension::frequency: return {"Hz", "GHz"};
    case Dimension::temperature: return {"°F", "°C"};
    case Dimension::pressure: return {"inHg", "kPa"};
    case Dimension::power: return {"W", "kW"};
    case Dimension::irradiance: return {"W/m2", "kW/m2"};
    case Dimension::luminous_flux: return {"lm", "klm"};
    case Dimension::level: return {"dB", "dB"};
    case Dimension::power_level: return {"dBm", "dBm"};
  }
  return {};
}

std::string usual_units(Dimension dimension) {
  switch (dimension) {
    case Dimension::number: return "no unit, or %";
    case Dimension::length: return "in, ft, mm, cm or m";
    case Dimension::area: return "in2, ft2, cm2 or m2";
    case Dimension::volume: return "gal, qt, cup, L or mL";
    case Dimension::mass: return "lb, oz, kg or g";
    case Dimension::time: return "h, min or s";
    case Dimension::speed: return "mph, ft/s, km/h or m/s";
    case Dimension::angle: return "deg or mrad";
    case Dimension::frequency: return "Hz, kHz, MHz or GHz";
    case Dimension::temperature: return "°F, °C or K";
    case Dimension::pressure: return "psi, inHg, kPa, hPa or mbar";
    case Dimension::power: return "W, kW or BTU/h";
    case Dimension::irradiance: return "W/m2 or kW/m2";
    case Dimension::luminous_flux: return "lm or klm";
    case Dimension::level: return "dB";
    case Dimension::power_level: return "dBm";
  }
  return "";
}

std::string si_unit(Dimension dimension) {
  switch (dimension) {
    case Dimension::number: return "1";
    case Dimension::length: return "m";
    case Dimension::area: return "m2";
    case Dimension::volume: return "m3";
    case Dimension::mass: return "kg";
    case Dimension::time: return "s";
    case Dimension::speed: return "m/s";
    case Dimension::angle: return "rad";
    case Dimension::frequency: return "Hz";
    case Dimension::temperature: return "K";
    case Dimension::pressure: return "Pa";
    case Dimension::power: return "W";
    case Dimension::irradiance: return "W/m2";
    case Dimension::luminous_flux: return "lm";
    case Dimension::level: return "dB";
    case Dimension::power_level: return "dBm";
  }
  return "1";
}

}  // namespace dishwright
