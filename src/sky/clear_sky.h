// SPDX-License-Identifier: MIT
// Direct sunlight under a clear sky, on a surface that faces the sun.
#pragma once

#include "sky/sun_place.h"

namespace dishwright {

inline constexpr double solar_constant = 1360.8;  ///< outside of the air at 1 au [W/m²], ±0.5 [kopp2011]
inline constexpr double usual_turbidity = 3;      ///< Linke turbidity of clear air over land, common practice

/// Air that the light crosses, as a multiple of that overhead at the same place: [kasten1989], eq. 3, 0.5 % of its table. Empty
/// sky below the horizon is no place for it: elevation as seen [rad], from 0 up.
double air_mass(double apparent_elevation);

/// Beam by [ineichen2002], whose `outside` is the beam outside of the air [W/m²], `mass` the air mass times pressure over
/// 101 325 Pa, altitude in m, zenith as seen [rad]. Turbidity after Linke: 2 very clear and cold, 3 clear, 5 hazy or humid.
double ineichen_beam(double outside, double zenith, double mass, double turbidity, double altitude);

/// Beam by [meinel1976] with the altitude term of [laue1970] (altitude in m, to about 3000): an outside beam of 1353 W/m², no
/// turbidity. The other model, for comparison.
double laue_beam(double mass, double altitude);

/// Direct beam of a clear sky on a surface that faces the sun [W/m²], by ineichen_beam() with the sun's true distance; 0 where
/// the sun's centre is below the horizon. Clear days of one turbidity scatter by some 5 %; a wrong turbidity costs more.
double clear_beam(const SunPlace& sun, const Site& site, const OpenAir& air, double turbidity);

}  // namespace dishwright
