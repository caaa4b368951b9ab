// SPDX-License-Identifier: MIT
// When water boils, and how much of it the air takes up.
#pragma once

namespace dishwright {

/// Pressure of the vapour above water [Pa], temperature in K, 274 … 385: Antoine's equation, constants from memory; the table of
/// [openstax_vapour] within 0.5 K from 70 to 101 kPa.
double vapour_pressure(double temperature);
/// Temperature at which that pressure [Pa] is reached, 30 … 130 kPa: where water boils under it [K].
double boiling_point(double pressure);
/// Heat that a kilogram of water takes to become steam [J/kg], temperature in K, 273 … 390: a straight line through 2.501 MJ/kg
/// at 0 °C and 2.257 MJ/kg at 100 °C, within 0.5 % between.
double heat_of_steam(double temperature);

}  // namespace dishwright
