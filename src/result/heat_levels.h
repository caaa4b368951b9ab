// SPDX-License-Identifier: MIT
// Steps of irradiance at which light gets dangerous. Sources: docs/references.bib.
#pragma once

namespace dishwright {

inline constexpr double pain_level = 1580;   ///< the most that clothed workers may stand in for long [W/m²] [api521]
inline constexpr double burn_level = 4730;   ///< a few minutes of emergency work, clothed [W/m²] [api521]
inline constexpr double severe_level = 1e4;  ///< severe burns in seconds, normal clothing may ignite [W/m²] [hymes1983]
inline constexpr double ignition_level =
    2e4;  ///< lower bound of codes for wood to catch fire, no flame near [W/m²] [h2tools_flux]

}  // namespace dishwright
