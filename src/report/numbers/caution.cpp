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
#include "result/heat_levels.h"

namespace dishwright {

namespace {

constexpr double kilowatt = 1e3;
/// First irradiance [W/m²] of each level above mild.
constexpr std::array<double, 4> level_from = {pain_level, burn_level, severe_level, ignition_level};

/// "less than a second", "about 5 s", "about 2 minutes": no finer than the rule is.
std::string rough_time(double seconds) {
  if (seconds < 1) return "less than a second";
  if (seconds < 10) return fmt::format("about {:.0f} s", seconds);
  if (seconds < 57.5) return fmt::format("about {:.0f} s", 5 * std::round(seconds / 5));
  const double minutes = std::round(seconds / 60);
  return minutes == 1 ? "about 1 minute" : fmt::format("about {:.0f} minutes", minutes);
}

/// What this much light can do.
std::string effect(double irradiance) {
  if (irradiance <= 0) return "";
  const std::string burn = "Bare skin can take a second-degree burn in " + rough_time(burn_time(irradiance)) + ".";
  switch (heat_level(irradiance)) {
    case HeatLevel::mild: return "That is under 1.58 kW/m², but it still dazzles.";
    case HeatLevel::pain: return burn + " It hurts sooner. Industry lets clothed workers stay in 1.58 kW/m² at most.";
    case HeatLevel::burn: return burn + " Dry wood, paper and cloth can char; wood has caught fire at 4.3 kW/m² in one study.";
    case HeatLevel::severe: return burn + " Normal clothing may catch fire. So may dry wood, paper and leaves.";
    case HeatLevel::ignition: return burn + " Clothing, wood, paper and dry leaves can catch fire with no flame near.";
  }
  return "";
}

/// In few words, for the screen: "skin burns in about 5 s, cloth and wood catch fire".
std::string short_effect(double irradiance) {
  const double seconds = burn_time(irradiance);
  const std::string burn = "skin burns in " + (seconds < 1 ? std::string("under a second") : rough_time(seconds));
  switch (heat_level(irradiance)) {
    case HeatLevel::mild: return "it dazzles";
    case HeatLevel::pain: return burn;
    case HeatLevel::burn: return burn + ", wood and cloth char";
    case HeatLevel::severe: return burn + ", clothing may catch fire";
    case HeatLevel::ignition: return burn + ", cloth and wood catch fire";
  }
  return "";
}

constexpr double little_missed = 20;  // [W]

bool short_list_will_do(const TraceFigures& figures) {
  return figures.mirror_best && heat_level(danger(figures)) == HeatLevel::mild && missed_power(figures) <= little_missed;
}

std::string targets_words(const TraceFigures& figures) {
  return figures.targets.size() == 1 ? "the " + figures.targets.front().name : "the targets";
}

double lamp_light(const TraceFigures& figures) {
  return figures.aperture_power.unit == "W" ? brightest(figures) : 0;  // lumens tell nothing of heat
}

std::vector<std::string> lamp_list() {
  return {"Never look into the lit mirror from within the beam. Keep the beam off roads, paths and windows.",
          "Lamps get hot: keep film, paper and wood away from them, and let them cool before you touch them.",
          "Outdoors use only lamps, cords and outlets made for wet places, with ground-fault protection.",
          "By day the same mirror gathers the sun where the lamp stands, and can set it on fire. When the lamp is off, cover "
          "the mirror or store it face down."};
}

}  // namespace

HeatLevel heat_level(double irradiance) {
  const auto passed = std::upper_bound(level_from.begin(), level_from.end(), irradiance) - level_from.begin();
  return static_cast<HeatLevel>(passed);
}

double burn_time(double irradiance) { return std::pow(50.2 * kilowatt / irradiance, 1 / 0.7063); }

std::string kilowatts(double irradiance) {
  if (irradiance < 2 * kilowatt) return fmt::format("{:.2f}", irradiance / kilowatt);
  if (irradiance >= 9.95 * kilowatt) {  // two digits
    const double step = std::pow(10.0, std::floor(std::log10(irradiance)) - 1);
    return fmt::format("{:.0f}", std::round(irradiance / step) * step / kilowatt);
  }
  return fmt::format("{:.1f}", irradiance / kilowatt);
}
std::string brightness_text(double irradiance) { return kilowatts(irradiance) + " kW/m²"; }

double missed_power(const TraceFigures& figures) {
  // From the end: a target may have that name, and targets come first.
  const auto line =
      std::find_if(figures.ledger.rbegin(), figures.ledger.rend(), [](const LedgerLine& one) { return one.where == "missed"; });
  return line == figures.ledger.rend() ? 0 : line->power.value;
}

double danger(const TraceFigures& figures) {
  return std::max(brightest(figures), figures.mirror_best ? figures.mirror_best->irradiance.value : 0.0);
}

std::string danger_words(const TraceFigures& figures) {
  if (figures.caught_share) {
    const std::string dazzle = "A mirror shows the lamp at its full brightness, far away too.";
    if (heat_level(lamp_light(figures)) == HeatLevel::mild) return dazzle;
    return dazzle + " The brightest computed spot is about " + brightness_text(lamp_light(figures)) + ". " +
           effect(lamp_light(figures));
  }
  if (danger(figures) <= 0) return "As computed, no light comes off a mirror. A real one dazzles all the same.";
  return "Up to about " + brightness_text(danger(figures)) + ". " + effect(danger(figures));
}

std::vector<std::string> safety_list(const TraceFigures& figures) {
  if (figures.caught_share) return lamp_list();
  if (short_list_will_do(figures)) {
    return {"Never look in the mirror or at the bright spot: even a faint picture of the sun is as bright as the sun.",
            "Keep a cover on the mirror until you are ready. When done, cover it first, then move it.",
            "Store it face down indoors. Never leave it parked in the open."};
  }
  return {
      "Never look in the mirror or at the bright spot. A picture of the sun is as bright as the sun at any distance in the beam.",
      "Two people: one aims, one watches. Nobody else near; nobody in the beam.",
      "Keep the cover on until both are ready.",
      "Wear gloves, long sleeves and eye protection rated for this brightness.",
      "Work on bare ground, with water and a fire extinguisher in reach.",
      "Light that misses its target burns elsewhere: know where it goes, and keep that place clear.",
      "Expect hot food, steam and hot vessels. Never heat a sealed container.",
      "Sheet metal, film and glass have sharp edges: tape or roll them, and wear gloves. A dish is awkward to lift: two people.",
      "A dish catches wind like a sail: tie it down or weight it. Stop in wind over 15 mph (24 km/h), or when a crowd gathers.",
      "When done, cover it first, then move it.",
      "Store it face down indoors. Never leave it parked in the open or in a vehicle: the bright spot moves with the sun."};
}

std::string caution(const TraceFigures& figures, const std::string& list) {
  if (figures.caught_share) {
    return wrapped(danger_words(figures) + " Never look in from within the beam; by day the mirror gathers the sun: cover it. " +
                       list + " " + deferral,
                   "CAUTION: ", "  ");
  }
  const double most = danger(figures), here = brightest(figures), missed = missed_power(figures);
  std::string text = "this mirror dazzles.";
  if (most > 0) {
    const std::string here_words = here > 0 ? kilowatts(here) : "none";
    const std::string at = figures.mirror_best ? fmt::format(" (on {} {})", targets_words(figures), here_words) : "";
    text = fmt::format("up to {}{}: {}.", brightness_text(most), at, short_effect(most));
  }
  if (missed > little_missed) text += fmt::format(" {} W miss {} and go on.", rough_text(missed, 2), targets_words(figures));
  return wrapped(text + " Never look in; cover it until two are ready. " + list + " " + deferral, "CAUTION: ", "  ");
}

std::string caution_line(const TraceFigures& figures) {
  if (figures.caught_share) {
    return "Caution: a lit mirror dazzles like the lamp itself; by day it gathers the sun, so cover it when the lamp is off; " +
           deferral_clause;
  }
  const double most = danger(figures);
  const std::string rule = "never look at the bright spot; " + deferral_clause;
  if (short_list_will_do(figures)) return "Caution: light from a mirror can dazzle and burn; " + rule;
  if (heat_level(most) == HeatLevel::mild)
    return "Caution: light from a mirror can dazzle and burn, and be far brighter off the target; " + rule;
  const std::string fire = heat_level(most) == HeatLevel::pain   ? ""
                           : heat_level(most) == HeatLevel::burn ? " and char wood"
                                                                 : " and set cloth or wood on fire";
  return fmt::format("Caution: up to about {} can burn bare skin in {}{}; {}", brightness_text(most), rough_time(burn_time(most)),
                     fire, rule);
}

}  // namespace dishwright
