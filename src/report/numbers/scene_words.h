// SPDX-License-Identifier: MIT
// What is in a scene, in words: the sun, each mirror, each target.
#pragma once

#include <string>

#include "report/numbers/number_text.h"
#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// The scene's title; where it has none, another name (its file's).
std::string scene_title(const Scene& scene, const std::string& otherwise);

/// "850 W/m² on a surface that faces it; disc half angle 4.65 mrad, darker toward its edge; the dish points 0.5 deg off, the sun
/// leans toward +x".
std::string sun_words(const Sun& sun);
/// "ball, 1 in wide, gives 800 lm; centre at x 0, y 0, z 24 in".
std::string lamp_words(const Lamp& lamp, Units units);
/// "800 lm", "60 W".
std::string lamp_power_words(const Lamp& lamp);
/// "paraboloid, 48 in wide, focal length 24 in; aluminised film, sends back 86 % of the light; slope error 4 mrad rms".
std::string reflector_words(const Reflector& reflector, Units units);
/// The same for waves: "paraboloid, 24 in wide, focal length 6 in; sends back 80 % of the power".
std::string wave_mirror_words(const Reflector& reflector, Units units);
/// One of the two, as the scene asks.
std::string mirror_words(const Scene& scene, const Reflector& reflector, Units units);
/// "+x (right)", or "30 deg from +x toward +y": the side of an angle from +x toward +y [rad].
std::string side_words(double direction);
/// "pot, 6 in wide, 5 in high, base centre at x 0, y 0, z 24 in".
std::string target_words(const Target& target, Units units);

/// "x 0, y 3.5, z 24 in": a place in the printed unit, to a ten-thousandth of the largest coordinate or finer.
std::string place_words(const Vector3& point, Units units);
/// "the dish" where there is one mirror of that name; "the mirrors" where there are several.
std::string mirrors_words(const Scene& scene);

/// "810 to 860 W for aluminised film", "780 to 890 W for these finishes", rounded outward to two digits; empty where no mirror
/// has a finish.
std::string power_range_words(const Scene& scene, const TargetFigures& target);

}  // namespace dishwright
