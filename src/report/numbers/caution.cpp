// SPDX-License-Identifier: MIT
#include "report/numbers/caution.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "report/numbers/deferral.h"
#include "report/numbers/number_text.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

constexpr double kilowatt = 1e3;
/// First irradiance [W/m²] of each level above mild. Sources: caution.h and docs/references.bib (api521, hymes1983,
/// babrauskas2001).
constexpr std::array<double, 4> level_from = {1580, 4730, 10000, 20000};

/// "less than a second", "about 5 s", "about 2 minutes": no finer than the rule is.
std::string rough_time(double seconds) {
  if (seconds < 1) return "less than a second";
  if (seconds < 10) return fmt::format("about {:.0f} s", seconds);
  if (seconds < 57.5) return fmt::format("about {:.0f} s", 5 * std::round(seconds / 5));
  const double minutes = std::round(seconds / 60);
  return minutes == 1 ? "about 1 minute" : fmt::format("about {:.0f} minutes", minutes);
}

std::string brightness_text(double irradiance) {
  if (irradiance < 2 * kilowatt) return fmt::format("{:.2f} kW/m²", irradiance / kilowatt);
  if (irradiance >= 9.95 * kilowatt) {  // two digits
    const double step = std::pow(10.0, std::floor(std::log10(irradiance)) - 1);
    return fmt::format("{:.0f} kW/m²", std::round(irradiance / step) * step / kilowatt);
  }
  return fmt::format("{:.1f} kW/m²", irradiance / kilowatt);
}

/// What this much light can do.
std::string effect(double irradiance) {
  if (irradiance <= 0) return "";
  const std::string burn = "Bare skin can take a second-degree burn in " + rough_time(burn_time(irradiance)) + ".";
  switch (heat_level(irradiance)) {
    case HeatLevel::mild:
      return "That is under 1.58 kW/m², but it still dazzles, and other places in the beam can be far brighter than the target.";
    case HeatLevel::pain: return burn + " It hurts sooner. Industry lets clothed workers stay in 1.58 kW/m² at most.";
    case HeatLevel::burn: return burn + " Dry wood, paper and cloth can char; wood has caught fire at 4.3 kW/m² in one study.";
    case HeatLevel::severe: return burn + " Normal clothing may catch fire. So may dry wood, paper and leaves.";
    case HeatLevel::ignition: return burn + " Clothing, wood, paper and dry leaves can catch fire with no flame near.";
  }
  return "";
}

std::string item(const std::string& text) { return wrapped(text, "  - ", "    "); }

std::string short_items() {
  return item("Never look in the mirror or at the bright spot: even a faint picture of the sun is as bright as the sun.") +
         item("Keep a cover on the mirror until you are ready. When done, cover it first, then move it.") +
         item("Store it face down indoors. Never leave it parked in the open.");
}

std::string full_items() {
  return item(
             "Never look in the mirror or at the bright spot. A picture of the sun is as bright as the sun at any distance in "
             "the beam.") +
         item("Two people: one aims, one watches. Nobody else near; nobody in the beam.") +
         item("Keep the cover on until both are ready.") +
         item("Wear gloves, long sleeves and eye protection rated for this brightness.") +
         item("Work on bare ground, with water and a fire extinguisher in reach.") +
         item("Expect hot food, steam and hot vessels. Never heat a sealed container.") +
         item("Stop in wind over 15 mph (24 km/h), or when a crowd gathers.") + item("When done, cover it first, then move it.") +
         item(
             "Store it face down indoors. Never leave it parked in the open or in a vehicle: the bright spot moves with the "
             "sun.");
}

std::string lamp_caution(const TraceFigures& figures) {
  const double most = figures.aperture_power.unit == "W" ? brightest(figures) : 0;  // lumens tell nothing of heat
  std::string found = "A mirror shows the lamp at its full brightness, far away too.";
  if (heat_level(most) != HeatLevel::mild)
    found += " The brightest computed spot is about " + brightness_text(most) + ". " + effect(most);
  return wrapped(found, "CAUTION: ", "  ") +
         item("Never look into the lit mirror from within the beam. Keep the beam off roads, paths and windows.") +
         item("Lamps get hot: keep film, paper and wood away from them, and let them cool before you touch them.") +
         item("Outdoors use only lamps, cords and outlets made for wet places, with ground-fault protection.") +
         item(
             "By day the same mirror gathers the sun where the lamp stands, and can set it on fire. When the lamp is off, cover "
             "the mirror or store it face down.") +
         wrapped("This is no promise that anything is safe. " + deferral, "  ", "  ");
}

}  // namespace

HeatLevel heat_level(double irradiance) {
  const auto passed = std::upper_bound(level_from.begin(), level_from.end(), irradiance) - level_from.begin();
  return static_cast<HeatLevel>(passed);
}

double burn_time(double irradiance) { return std::pow(50.2 * kilowatt / irradiance, 1 / 0.7063); }

std::string caution(const TraceFigures& figures) {
  if (figures.caught_share) return lamp_caution(figures);
  const double most = brightest(figures);
  const std::string found = most > 0
                                ? "The brightest computed spot is about " + brightness_text(most) + ". "
                                : "As computed, no mirror light lands on the target. It goes somewhere else and can burn there.";
  const bool weak = heat_level(most) == HeatLevel::mild;
  return wrapped(found + effect(most), "CAUTION: ", "  ") + (weak ? short_items() : full_items()) +
         wrapped("This is no promise that anything is safe. " + deferral, "  ", "  ");
}

std::string caution_line(const TraceFigures& figures) {
  if (figures.caught_share) {
    return "Caution: a lit mirror dazzles like the lamp itself; by day it gathers the sun, so cover it when the lamp is off; " +
           deferral_clause;
  }
  const double most = brightest(figures);
  const std::string rule = "never look at the bright spot; " + deferral_clause;
  if (heat_level(most) == HeatLevel::mild) return "Caution: light from a mirror can dazzle and burn; " + rule;
  const std::string fire = heat_level(most) == HeatLevel::pain   ? ""
                           : heat_level(most) == HeatLevel::burn ? " and char wood"
                                                                 : " and set cloth or wood on fire";
  return fmt::format("Caution: about {} can burn bare skin in {}{}; {}", brightness_text(most), rough_time(burn_time(most)), fire,
                     rule);
}

}  // namespace dishwright
