// SPDX-License-Identifier: MIT
// The balance of a lump that is heated by light: one temperature, faces that lose heat to air and surroundings.
#pragma once

#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// How air flows past a face.
enum class FaceKind {
  side,    ///< of an upright cylinder: rise as along a plate of its height, wind across its diameter
  top,     ///< level, facing up
  bottom,  ///< level, facing down
  tube,    ///< a level cylinder
  ball
};

struct LossFace {
  FaceKind kind = FaceKind::side;
  double area = 0;    ///< [m²]
  double height = 0;  ///< that its free convection is by: height of a side, area over perimeter of a level face, diameter [m]
  double length = 0;  ///< that its wind is by: diameter, or way along the wind [m]
  bool wet = false;   ///< open water: it steams
};

/// The air about the lump.
struct Surroundings {
  double temperature = 293.15;  ///< of air and of all that radiates back [K]
  double pressure = 101325;     ///< [Pa]
  double humidity = 0.5;        ///< relative [1]
  double wind = 0;              ///< [m/s]
  double convection = 1;        ///< factor on all convection, for what its fits do not know [1]
};

struct Absorber {
  std::vector<LossFace> faces;
  double emittance = 1;  ///< of all of them [1]
  double capacity = 1;   ///< [J/K], > 0
};

/// Of a scene's load. A pot stands upright, base down, whatever the dish does; a plate is taken as level and loses on both faces;
/// a tube lies level, without ends.
Absorber absorber_of(const Target& target, const Load& load);
/// The same without what is in it, and closed: what boils dry or is left in the light by mistake.
Absorber empty_absorber(const Target& target, const Load& load);
Surroundings surroundings_of(const Load& load);

struct HeatLosses {
  double convection = 0, radiation = 0, steam = 0;  ///< [W]; negative where the air warms the lump
  double total() const { return convection + radiation + steam; }
};

/// What the lump loses at a temperature [K], 250 … 3000. Convection: free and wind by heat/convection.h, blended. Radiation:
/// εσ(T⁴ − T_air⁴), everything about it as warm as the air; a clear sky is colder, which is left out (some 5 W of a kettle).
/// Steam of open water: the analogy of heat and mass transfer ([incropera], Lewis number 0.85) with the same convection, rough to
/// a third, and too little near boiling.
HeatLosses heat_losses(const Absorber& absorber, const Surroundings& around, double temperature);

/// The temperature at which it loses just the power that it takes in [W, >= 0]: it gets no hotter [K].
double stagnation_temperature(const Absorber& absorber, const Surroundings& around, double absorbed);

}  // namespace dishwright
