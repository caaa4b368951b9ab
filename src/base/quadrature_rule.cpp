// SPDX-License-Identifier: MIT
#include "base/quadrature_rule.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

constexpr int longest = 16;

// Roots of the Legendre polynomial by Newton's steps from Tricomi's guess; Abramowitz & Stegun 25.4.29 for the weights.
Rule one_panel(int n) {
  Rule rule;
  for (int k = 0; k < n; ++k) {
    double x = std::cos(std::numbers::pi * (k + 0.75) / (n + 0.5)), slope = 1;
    for (int step = 0; step < 6; ++step) {
      double before = 1, now = x;
      for (int j = 2; j <= n; ++j) {
        const double next = ((2 * j - 1) * x * now - (j - 1) * before) / j;
        before = now, now = next;
      }
      slope = n * (x * now - before) / (x * x - 1);
      x -= now / slope;
    }
    rule.at.push_back((1 - x) / 2);
    rule.weight.push_back(1 / ((1 - x * x) * slope * slope));
  }
  return rule;
}

/// The rules of 1 … longest points, made once.
const Rule& short_rule(int n) {
  static const std::array<Rule, longest> rules = [] {
    std::array<Rule, longest> made;
    for (int k = 0; k < longest; ++k) made[static_cast<std::size_t>(k)] = one_panel(k + 1);
    return made;
  }();
  return rules[static_cast<std::size_t>(n - 1)];
}

}  // namespace

Rule even_rule(int n) {
  Rule rule;
  for (int k = 0; k < n; ++k) rule.at.push_back((k + 0.5) / n);
  rule.weight.assign(rule.at.size(), 1.0 / n);
  return rule;
}

Rule gauss_rule(int n) {
  n = std::max(n, 1);
  const int panels = (n + longest - 1) / longest;
  const Rule& one = short_rule((n + panels - 1) / panels);
  if (panels == 1) return one;
  Rule rule;
  for (int p = 0; p < panels; ++p) {
    for (std::size_t i = 0; i < one.at.size(); ++i) {
      rule.at.push_back((p + one.at[i]) / panels);
      rule.weight.push_back(one.weight[i] / panels);
    }
  }
  return rule;
}

}  // namespace dishwright
