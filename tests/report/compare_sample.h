// SPDX-License-Identifier: MIT
// Made-up comparisons with round numbers.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "figures_sample.h"
#include "study/compare.h"

namespace dishwright::sample {

/// Contestants by name and share caught; the error of each difference of shares is `error`.
inline Comparison comparison(const std::vector<std::pair<std::string, double>>& shares, double error, bool bent = true) {
  Comparison all;
  for (const auto& [name, share] : shares) {
    Contestant one{name, bent ? "rule of the " + name : "", kettle_scene(), std::nullopt, kettle_figures()};
    TargetFigures& kettle = one.figures.targets[0];
    kettle.intercept = Estimate{share, error, "1"};
    kettle.power = {800 * share, 800 * error, "W"};
    kettle.share_curve = ShareCurve{{0, 0.1, 0.2}, {0, share, 1}, {0, 0.01, 0}};
    all.contestants.push_back(std::move(one));
  }
  for (std::size_t a = 0; a < shares.size(); ++a) {
    for (std::size_t b = a + 1; b < shares.size(); ++b) {
      const double apart = shares[a].second - shares[b].second;
      all.differences.push_back({a, b, "power", {800 * apart, 800 * error, "W"}});
      all.differences.push_back({a, b, "intercept", {apart, error, "1"}});
    }
  }
  return all;
}

}  // namespace dishwright::sample
