// SPDX-License-Identifier: MIT
// Tolerances in the words of the shop.
#pragma once

#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "study/tolerance.h"

namespace dishwright {

/// A side of a shift as seen from the sun: "+x" is "to the right", "+y" is "up"; "toward the mirror" stays.
std::string way_words(const std::string& side);
/// How long the sun takes for an angle at its fastest, 15 deg an hour, rounded down: "17 min", below 2 min "72 s".
std::string sun_time(double radians);
/// Depth of the rim with the focal length multiplied [m]; 0 where the shape has none that a rule could measure.
double depth_of(ReflectorShape shape, double factor);
/// "surface slope error", "random bumps", "aim error", "target toward the mirror", "target to the right", …
std::string limit_name(const ToleranceLimit& limit);
/// The limit as a number: "12.3 ± 0.1 mrad rms", "1.25 ± 0.01 in", "14 petals"; of waves lengths also in wavelengths: "0.2674 in
/// rms (0.038 wavelengths)"; "none up to 20 deg"; "not reachable: best is 71 % at …".
std::string limit_text(const Tolerance& all, const ToleranceLimit& limit, Units units);
/// What it means with a straightedge, a tape or a watch in hand, one sentence; empty where there is no more to say.
std::string limit_in_shop_words(const Tolerance& all, const ToleranceLimit& limit, Units units);
/// A sentence a limit, for the JSON: name, number, shop words.
std::vector<std::string> tolerance_sentences(const Tolerance& all, Units units);
/// Whether the values in the file deliver the wanted share, or the gain of the true dish but for the loss; says so where a share
/// is too close to call.
std::string tolerance_verdict(const Tolerance& all);
/// Unit of a limit: "rad", "m", "1".
std::string unit_of(const std::string& key);
/// "90 %"; of waves "1 dB".
std::string wanted_text(const Tolerance& all);
/// The question that the limits answer, one sentence.
std::string tolerance_question(const Tolerance& all, Units units);

}  // namespace dishwright
