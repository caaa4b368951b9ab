// SPDX-License-Identifier: MIT
#include "picture/colour_scale.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace dishwright {

namespace {

struct Linear {
  double red = 0, green = 0, blue = 0;  // linear sRGB, 0 … 1 inside the gamut
};

/// Hue and chroma of the ink at a share of the scale; the lightness follows from the share alone.
struct Ink {
  double share, hue, chroma;  // hue in OKLab degrees
};
// Straw, orange, brick, plum. Chroma is kept inside sRGB at each lightness (checked in the tests).
constexpr std::array<Ink, 7> inks{{{0.00, 100, 0.000},
                                   {0.15, 95, 0.085},
                                   {0.32, 76, 0.135},
                                   {0.50, 48, 0.150},
                                   {0.66, 22, 0.150},
                                   {0.83, -12, 0.110},
                                   {1.00, -40, 0.035}}};
constexpr double darkest = 10;  // L* at the top of the scale
constexpr std::size_t table_size = 1024;

double to_linear(double coded) { return coded <= 0.04045 ? coded / 12.92 : std::pow((coded + 0.055) / 1.055, 2.4); }
double to_coded(double linear) { return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055; }

double luminance(const Linear& c) { return 0.2126 * c.red + 0.7152 * c.green + 0.0722 * c.blue; }
double lightness_of(double y) { return y > 216.0 / 24389 ? 116 * std::cbrt(y) - 16 : y * 24389 / 27; }
double cubed(double x) { return x * x * x; }
/// lightness_of the other way.
double luminance_at(double lightness) { return lightness > 8 ? cubed((lightness + 16) / 116) : lightness * 27 / 24389; }

/// OKLab → linear sRGB (Ottosson's matrices).
Linear from_oklab(double light, double a, double b) {
  const double l = cubed(light + 0.3963377774 * a + 0.2158037573 * b);
  const double m = cubed(light - 0.1055613458 * a - 0.0638541728 * b);
  const double s = cubed(light - 0.0894841775 * a - 1.2914855480 * b);
  return {4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s, -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
          -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

/// The colour of given L*, OKLab hue [rad] and chroma: OKLab's own lightness is found by halving.
Linear with_lightness(double wanted, double hue, double chroma) {
  const double a = chroma * std::cos(hue), b = chroma * std::sin(hue);
  const double goal = luminance_at(wanted);
  double low = 0, high = 1.1;
  for (int i = 0; i < 30; ++i) {  // to 1e-9
    const double middle = (low + high) / 2;
    (std::max(0.0, luminance(from_oklab(middle, a, b))) < goal ? low : high) = middle;
  }
  return from_oklab((low + high) / 2, a, b);
}

bool in_gamut(const Linear& c) {
  const auto inside = [](double v) { return v >= -1e-4 && v <= 1 + 1e-4; };
  return inside(c.red) && inside(c.green) && inside(c.blue);
}

/// Smooth curve through the ink points (cubic with the slopes of neighbouring chords).
double through_inks(double share, double Ink::*part) {
  std::size_t i = 0;
  while (i + 2 < inks.size() && share > inks[i + 1].share) ++i;
  const auto slope = [&](std::size_t k) {
    const std::size_t before = k == 0 ? 0 : k - 1, after = std::min(k + 1, inks.size() - 1);
    return (inks[after].*part - inks[before].*part) / (inks[after].share - inks[before].share);
  };
  const double width = inks[i + 1].share - inks[i].share, t = (share - inks[i].share) / width;
  const double t2 = t * t, t3 = t2 * t;
  return (2 * t3 - 3 * t2 + 1) * inks[i].*part + (t3 - 2 * t2 + t) * width * slope(i) + (3 * t2 - 2 * t3) * inks[i + 1].*part +
         (t3 - t2) * width * slope(i + 1);
}

Colour compute_ink(double share) {
  const double wanted = 100 + (darkest - 100) * share;
  const double hue = through_inks(share, &Ink::hue) * std::numbers::pi / 180;
  double chroma = std::max(0.0, through_inks(share, &Ink::chroma));
  Linear colour = with_lightness(wanted, hue, chroma);
  while (!in_gamut(colour) && chroma > 1e-4) {
    chroma *= 0.98;
    colour = with_lightness(wanted, hue, chroma);
  }
  const auto byte = [](double linear) {
    return static_cast<std::uint8_t>(std::lround(255 * std::clamp(to_coded(std::clamp(linear, 0.0, 1.0)), 0.0, 1.0)));
  };
  if (share <= 0) return {255, 255, 255};
  return {byte(colour.red), byte(colour.green), byte(colour.blue)};
}

std::array<Colour, table_size> compute_table() {
  std::array<Colour, table_size> table;
  for (std::size_t i = 0; i < table_size; ++i) table[i] = compute_ink(static_cast<double>(i) / (table_size - 1));
  return table;
}

}  // namespace

double lightness(const Colour& colour) {
  return lightness_of(
      luminance({to_linear(colour.red / 255.0), to_linear(colour.green / 255.0), to_linear(colour.blue / 255.0)}));
}

Colour ink_colour(double share) {
  static const std::array<Colour, table_size> table = compute_table();
  const double clamped = share > 0 ? std::min(share, 1.0) : 0.0;  // NaN is no light
  return table[static_cast<std::size_t>(std::lround(clamped * (table_size - 1)))];
}

}  // namespace dishwright
