// SPDX-License-Identifier: MIT
// One plain sentence on who catches most, said only beyond the uncertainty.
#pragma once

#include <string>
#include <vector>

#include "study/compare.h"

namespace dishwright {

/// What contestants are ranked by [1]: the share of the mirror's light that the first target catches; under a lamp the share of
/// the lamp's light that a mirror brings there, for a lamp may shine past a mirror. 0 where there is none.
Estimate ranked_share(const Contestant& one);

/// Contestants by their ranked share, the most first; and how many at the top cannot be told
/// apart: their difference to the first is below 2 of its standard errors, or below a millionth (the random numbers have 24
/// bits).
struct Ranking {
  std::vector<std::size_t> order;
  std::size_t alike = 1;
};
Ranking rank_by_share(const Comparison& all);

/// How a contestant is called within a sentence: "the sphere"; a file by its name in quotes.
std::string called(const Contestant& one);
/// The same of a name; `rule` is empty where it is a file's.
std::string called(const std::string& name, const std::string& rule);

/// "The paraboloid catches the most: …", "Too close to call with 1 000 000 paths: …", or that no light arrives.
std::string verdict(const Comparison& all);

}  // namespace dishwright
