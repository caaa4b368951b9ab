// SPDX-License-Identifier: MIT
#include "base/estimate.h"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace dishwright {

double jackknife_error(int count, const std::function<double(int)>& without) {
  std::vector<double> left(static_cast<std::size_t>(count));
  double mean = 0;
  for (int r = 0; r < count; ++r) {
    left[static_cast<std::size_t>(r)] = without(r);
    mean += left[static_cast<std::size_t>(r)] / count;
  }
  double sum = 0;
  for (const double value : left) sum += (value - mean) * (value - mean);
  return std::sqrt(sum * (count - 1) / count);
}

Estimate jackknifed(const std::string& unit, int count, const std::function<double(int)>& statistic) {
  Estimate out{statistic(-1), std::nullopt, unit};
  if (count < 2) return out;
  out.without_one.reserve(static_cast<std::size_t>(count));
  for (int r = 0; r < count; ++r) out.without_one.push_back(statistic(r));
  out.std_error = jackknife_error(count, [&](int r) { return out.without_one[static_cast<std::size_t>(r)]; });
  return out;
}

Estimate difference(const Estimate& a, const Estimate& b) {
  Estimate out{a.value - b.value, std::nullopt, a.unit};
  if (!a.without_one.empty() && a.without_one.size() == b.without_one.size()) {
    return jackknifed(a.unit, static_cast<int>(a.without_one.size()), [&](int r) {
      const std::size_t left_out = static_cast<std::size_t>(r);
      return r < 0 ? a.value - b.value : a.without_one[left_out] - b.without_one[left_out];
    });
  }
  if (a.std_error || b.std_error) out.std_error = std::hypot(a.std_error.value_or(0), b.std_error.value_or(0));
  return out;
}

double student_quantile(double coverage, int freedom) {
  const boost::math::students_t distribution(freedom);
  return boost::math::quantile(distribution, 0.5 + coverage / 2);
}

}  // namespace dishwright
