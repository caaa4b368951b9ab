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
  /// The same number from all replicates but one, for each of them [unit]; empty where it is exact or they are not kept. Two
  /// estimates that share random numbers have an honest difference only through these.
  std::vector<double> without_one = {};
};

/// What `statistic(-1)` gives, with the jackknife error of `statistic(r)`, r = 0 … count − 1 (the replicate left out); no error
/// below two replicates.
Estimate jackknifed(const std::string& unit, int count, const std::function<double(int)>& statistic);

/// a − b [unit of both]. Where both keep the same number of leave-one-out values, the error is the jackknife's over the
/// replicates' own differences, so what both runs have in common (the same random numbers) drops out. Else the two errors are
/// taken as independent; an exact number brings none.
Estimate difference(const Estimate& a, const Estimate& b);

/// Standard error of a statistic by the delete-one jackknife over replicates: `without(r)` is the statistic computed from all
/// replicates but r. For a mean it equals the usual s/√n. [efron1981]. Needs count >= 2.
double jackknife_error(int count, const std::function<double(int)>& without);

/// Quantile of |t| for a two-sided interval of the given coverage (0 < coverage < 1) with `freedom` degrees of freedom:
/// interval = value ± quantile × std_error. Boost.Math's Student distribution.
double student_quantile(double coverage, int freedom);

}  // namespace dishwright
