// SPDX-License-Identifier: MIT
// What a target heats: the load, its vessel, its skin, and the air about it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dishwright {

/// What can be heated: a row of the table of stuffs.
struct Stuff {
  std::string_view name;
  double specific_heat = 0;  ///< [J/(kg K)]
  double density = 0;        ///< [kg/m³]
  bool liquid = false;       ///< it needs a vessel
  std::string_view source;
};
/// All of them, most common first.
const std::vector<Stuff>& all_stuffs();
/// The row of that name, or null.
const Stuff* find_stuff(std::string_view name);

/// How dark and how warm-looking a skin is: a row of the table of skins.
struct Skin {
  std::string_view name;
  double absorptance = 0;    ///< share of sunlight that it takes in [1]
  double low = 0, high = 0;  ///< range met in practice [1]
  double emittance = 0;      ///< heat radiation against that of a black body [1]
  std::string_view source;
};
const std::vector<Skin>& all_skins();
const Skin* find_skin(std::string_view name);

/// The load of one target.
struct Load {
  std::size_t target = 0;  ///< number of the target that is heated
  std::string stuff;       ///< row of all_stuffs()
  double mass = 0;         ///< of it [kg], > 0
  std::string vessel;      ///< row of all_stuffs(); empty where there is none
  double vessel_mass = 0;  ///< [kg]
  std::string surface;     ///< row of all_skins(); empty where absorptance and emittance are given
  double absorptance = 0.96, absorptance_low = 0.92, absorptance_high = 0.975;  ///< share of sunlight taken in [1]
  double emittance = 0.95;                                                      ///< of the skin, lid too [1]
  bool lid = true;                                                              ///< of a pot: false lets steam go before it boils
  double start = 293.15;                                                        ///< temperature at the start [K]
  double wanted = 373.15;                                                       ///< [K]
  std::optional<double> within;                                                 ///< the goal: wanted in that time [s]

  // The air about it.
  double air_temperature = 293.15;  ///< [K]
  double humidity = 0.5;            ///< relative [1]
  double pressure = 101325;         ///< [Pa]
  double wind = 2;                  ///< [m/s]
};

/// Water boils; other stuffs only get hotter.
bool boils(const Load& load);
/// Heat that one kelvin takes: stuff and vessel together [J/K].
double heat_capacity(const Load& load);

}  // namespace dishwright
