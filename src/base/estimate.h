// SPDX-License-Identifier: MIT
// A number with its uncertainty, and how the uncertainty comes from independent replicates.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace dishwright {

/// A number with unit and, where it was sampled, its standard error (68 % of repeats with other seeds fall within ± one).
struct Estimate {
  double value = 0;                 ///< [unit]
  std::optional<double> std_error;  ///< [unit]; empty where the value is exact
  std::string unit = "1";           ///< SI: "W", "W/m2", "m", "rad"; a pure number is "1"
};

/// Standard error of a statistic by the delete-one jackknife over replicates: `without(r)` is the statistic computed from all
/// replicates but r. For a mean it equals the usual s/√n. Efron & Stein, Ann. Statist. 9 (1981) 586. Needs count >= 2.
double jackknife_error(int count, const std::function<double(int)>& without);

/// Quantile of |t| for a two-sided interval of the given coverage (0 < coverage < 1) with `freedom` degrees of freedom:
/// interval = value ± quantile × std_error. Boost.Math's Student distribution.
double student_quantile(double coverage, int freedom);

}  // namespace dishwright
