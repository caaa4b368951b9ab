// SPDX-License-Identifier: MIT
#include "report/yard/yard_words.h"

#include <fmt/format.h>

#include <cmath>

namespace dishwright {

namespace {

constexpr double metres_per_inch = 0.0254, pounds_per_newton = 0.2248;
constexpr double hair = 1e-6;  // of a unit, of rounding

std::string inches_text(long inches) {
  constexpr long in_inches_below = 36, foot = 12;
  if (std::abs(inches) < in_inches_below) return fmt::format("{} in", inches);
  if (inches % foot == 0) return fmt::format("{} ft", inches / foot);
  return fmt::format("{} ft {} in", inches / foot, std::abs(inches % foot));
}

std::string centimetres_text(long centimetres) {
  if (std::abs(centimetres) < 100) return fmt::format("{} cm", centimetres);
  return fmt::format("{:.2f} m", static_cast<double>(centimetres) / 100);
}

}  // namespace

std::string yard_text(double metres, Units units, bool up) {
  const double shown = metres / (units == Units::us ? metres_per_inch : 0.01);
  const long whole = std::lround(up ? std::ceil(shown - hair) : std::floor(shown + hair));
  return units == Units::us ? inches_text(whole) : centimetres_text(whole);
}

std::string yard_text(double metres, Units units) {
  const double unit = units == Units::us ? metres_per_inch : 0.01;
  const long whole = std::lround(metres / unit);
  return units == Units::us ? inches_text(whole) : centimetres_text(whole);
}

double wind_push(double area, double wind) {
  constexpr double air = 1.2, drag = 1.4;
  return 0.5 * air * wind * wind * drag * area;
}

std::string wind_words(double area) {
  constexpr double stop = 6.7;  // 15 mph
  const double push = wind_push(area, stop);
  return fmt::format(
      "Wind pushes with about {} lb ({} N) at 15 mph (24 km/h), with four times that in a gust of 30 mph. An order of magnitude: "
      "F = 1/2 rho v² Cd A, rho 1.2 kg/m³, Cd 1.4 (common practice, no source), A {} m².",
      rough_text(push * pounds_per_newton, 1), rough_text(push, 1), rough_text(area, 2));
}

double dish_area(const TraceFigures& figures) { return figures.beam > 0 ? figures.aperture_power.value / figures.beam : 0; }

std::vector<std::string> store_list() {
  return {"Cover the mirror first, then move it.", "Store it face down, indoors, out of the sun.",
          "If it must stay out: covered, face down, tied or weighted.",
          "Never leave it in a vehicle, at a window, or leaning on a wall or fence.",
          "Face up catches the least wind, and is the worst way to leave a mirror."};
}

std::string eye_words() {
  return "Eyes: an image of the sun is as bright as the sun itself at any distance in the beam. Bare, it is 4.4 times the limit "
         "for "
         "the retina; in a mirror that fills 100 mrad or more of your view, up to 47 times. Never look in.";
}

}  // namespace dishwright
