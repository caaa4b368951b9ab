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

double student_quantile(double coverage, int freedom) {
  const boost::math::students_t distribution(freedom);
  return boost::math::quantile(distribution, 0.5 + coverage / 2);
}

}  // namespace dishwright
