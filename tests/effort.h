// SPDX-License-Identifier: MIT
// How much work a long statistic does: a quarter in the normal run, all of it with tests/run.sh --full (which sets
// DISHWRIGHT_FULL).
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace dishwright::testing {

/// Built with the sanitizers, which make everything ten to thirty times slower.
#if defined(__SANITIZE_ADDRESS__)
constexpr bool sanitized = true;
#else
constexpr bool sanitized = false;
#endif

inline bool full_run() { return std::getenv("DISHWRIGHT_FULL") != nullptr; }

/// Repeats of a statistic that wants `full` of them.
inline int repeats(int full) { return full_run() ? full : std::max(1, full / 4); }

/// How far the observed share of `runs` independent trials may lie from the expected one: `deviations` standard errors of the
/// binomial law, sqrt(p (1 − p) / n). 3.3 of them: one false alarm in a thousand.
inline double share_allowance(double expected, int runs, double deviations = 3.3) {
  return deviations * std::sqrt(expected * (1 - expected) / runs);
}

}  // namespace dishwright::testing
