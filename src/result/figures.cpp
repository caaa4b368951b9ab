// SPDX-License-Identifier: MIT
#include "result/figures.h"

#include <algorithm>

namespace dishwright {

double brightest(const TraceFigures& figures) {
  double most = 0;
  for (const TargetFigures& target : figures.targets) {
    const std::optional<Estimate>& light = target.peak_irradiance ? target.peak_irradiance : target.mean_irradiance;
    if (light) most = std::max(most, light->value);
  }
  return most;
}

}  // namespace dishwright
