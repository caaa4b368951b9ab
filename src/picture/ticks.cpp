// SPDX-License-Identifier: MIT
#include "picture/ticks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace dishwright {

std::vector<Tick> round_ticks(double from, double to, int wanted) {
  std::vector<Tick> ticks;
  const double span = to - from;
  if (!(span > 0) || !std::isfinite(span) || wanted < 1) return ticks;
  // The step among 1, 2, 5 × 10ⁿ that comes nearest the wanted one on a ratio scale.
  const double wish = span / wanted;
  const int exponent = static_cast<int>(std::floor(std::log10(wish)));
  double step = 0, best = INFINITY;
  int decimals = 0;
  for (int power = exponent; power <= exponent + 1; ++power) {
    for (const double lead : {1.0, 2.0, 5.0}) {
      const double candidate = lead * std::pow(10, power);
      const double miss = std::fabs(std::log(candidate / wish));
      if (miss >= best) continue;
      best = miss, step = candidate, decimals = std::max(0, -power);
    }
  }
  const double slack = 1e-9 * span;
  for (double k = std::ceil((from - slack) / step); k * step <= to + slack; ++k) {
    const double value = k == 0 ? 0.0 : k * step;  // no "-0"
    ticks.push_back({value, fmt::format("{:.{}f}", value, decimals)});
  }
  return ticks;
}

std::vector<Tick> ratio_ticks(double from, double to) {
  std::vector<Tick> ticks;
  if (!(from > 0 && to > from) || !std::isfinite(to)) return ticks;
  constexpr double slack = 1e-9;
  for (int power = static_cast<int>(std::floor(std::log10(from))); std::pow(10, power) <= to * (1 + slack); ++power) {
    for (const double lead : {1.0, 2.0, 5.0}) {
      const double value = lead * std::pow(10, power);
      if (value >= from * (1 - slack) && value <= to * (1 + slack))
        ticks.push_back({value, fmt::format("{:.{}f}", value, std::max(0, -power))});
    }
  }
  return ticks;
}

}  // namespace dishwright
