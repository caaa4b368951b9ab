// SPDX-License-Identifier: MIT
#include "scene/load.h"

#include <algorithm>

namespace dishwright {

const std::vector<Stuff>& all_stuffs() {
  constexpr std::string_view practice = "common practice, no source";
  constexpr std::string_view book = "[openstax_heat], from memory";
  static const std::vector<Stuff> stuffs = {
      {"water", 4186, 998, true, "[asae_x580]"}, {"cooking oil", 2000, 920, true, practice}, {"steel", 452, 7850, false, book},
      {"cast iron", 460, 7200, false, practice}, {"aluminium", 900, 2700, false, book},      {"copper", 387, 8960, false, book},
      {"glass", 840, 2500, false, book},         {"sand", 800, 1600, false, practice},       {"wood", 1700, 600, false, book},
  };
  return stuffs;
}

const Stuff* find_stuff(std::string_view name) {
  const auto& rows = all_stuffs();
  const auto row = std::find_if(rows.begin(), rows.end(), [&](const Stuff& one) { return one.name == name; });
  return row == rows.end() ? nullptr : &*row;
}

const std::vector<Skin>& all_skins() {
  constexpr std::string_view practice = "common practice, no source; measure yours";
  constexpr std::string_view coatings = "[coatings], seen in a restatement";
  static const std::vector<Skin> skins = {
      {"flat black paint", 0.96, 0.92, 0.975, 0.95, "[holman] and [coatings], seen in restatements"},
      {"soot", 0.95, 0.92, 0.98, 0.95, practice},
      {"white paint", 0.12, 0.12, 0.25, 0.90, "[holman] and [coatings], seen in restatements"},
      {"bare cast iron", 0.80, 0.70, 0.90, 0.80, practice},
      {"bare steel", 0.50, 0.35, 0.65, 0.25, practice},
      {"bare aluminium", 0.19, 0.10, 0.30, 0.05, coatings},
      {"dry straw", 0.60, 0.45, 0.80, 0.90, practice},
  };
  return skins;
}

const Skin* find_skin(std::string_view name) {
  const auto& rows = all_skins();
  const auto row = std::find_if(rows.begin(), rows.end(), [&](const Skin& one) { return one.name == name; });
  return row == rows.end() ? nullptr : &*row;
}

bool boils(const Load& load) { return load.stuff == "water"; }

double heat_capacity(const Load& load) {
  const Stuff *stuff = find_stuff(load.stuff), *vessel = find_stuff(load.vessel);
  return (stuff != nullptr ? load.mass * stuff->specific_heat : 0) +
         (vessel != nullptr ? load.vessel_mass * vessel->specific_heat : 0);
}

}  // namespace dishwright
