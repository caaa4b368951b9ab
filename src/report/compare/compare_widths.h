// SPDX-License-Identifier: MIT
// How wide a target must be: the question that the chart of shares answers.
#pragma once

#include <optional>
#include <string>

#include "report/numbers/number_text.h"
#include "study/compare.h"

namespace dishwright {

/// The share of the mirror's light that the widths are told for [1].
inline constexpr double most_of_the_light = 0.9;

/// A disk, a rectangle or a pot (of which the base counts): only these have a share curve.
bool has_widths(const Contestant& one);
/// What must be so wide: "plate", "strip", "pot"; empty where the contestants have no widths or not all the same kind of them.
std::string widened(const Comparison& all);
/// Width of a target about the middle of its spot that surely catches most_of_the_light: where the share less 2 of its standard
/// errors reaches it, on a straight line between two points of the curve [m]; empty where it never does.
std::optional<Estimate> width_for_most(const Contestant& one);

/// "90 % of the mirror's light needs a plate (of a pot: a pot) this wide, centred on its spot: paraboloid 1 3/16 in, sphere 10
/// in; flat: no width will do." Rounded up to the tape's marks. Empty where a first target has no widths.
std::string width_words(const Comparison& all, Units units);

}  // namespace dishwright
