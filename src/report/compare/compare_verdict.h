// SPDX-License-Identifier: MIT
// One plain sentence on who catches most, said only beyond the uncertainty and beyond what anybody would notice.
#pragma once

#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "study/compare.h"

namespace dishwright {

/// Shares that differ by less are a tie, however surely they differ [1].
inline constexpr double least_share_apart = 0.01;
/// The same of spot sizes, peaks and watts, as a part of the larger one [1].
inline constexpr double least_part_apart = 0.05;

/// What contestants are ranked by [1]: the share of the mirror's light that the first target catches; under a lamp the share of
/// the lamp's light that a mirror brings there, for a lamp may shine past a mirror. 0 where there is none.
Estimate ranked_share(const Contestant& one);

/// Contestants by their ranked share, the most first; and how many of them tie with the first: their difference to it is below
/// least_share_apart or below 2 of its standard errors. Those that tie stand in front, in the order of the shares that they had.
struct Ranking {
  std::vector<std::size_t> order;
  std::size_t alike = 1;
};
Ranking rank_by_share(const Comparison& all);

/// How a contestant is called within a sentence: "the sphere"; a file by its name in quotes.
std::string called(const Contestant& one);
/// The same of a name; `rule` is empty where it is a file's.
std::string called(const std::string& name, const std::string& rule);

/// "The paraboloid catches the most: …", "The paraboloid and the catenary catch the same …", "Too close to call with 1 000 000
/// paths: …" where chance hides more than the floor, or that no light arrives. Those that tie are never ranked.
std::string verdict(const Comparison& all);

/// What tells the first few apart where they tie: size of the spot (where all have one) and peak, each beyond least_part_apart
/// and beyond 2 standard errors. Empty where nothing ties or no light arrives.
std::string tie_words(const Comparison& all, Units units);

/// Who brings the most power, where that is not said by who catches the largest share (a square opening takes in more light than
/// a round one); empty elsewhere and under a lamp.
std::string power_words(const Comparison& all, Units units);

}  // namespace dishwright
