// SPDX-License-Identifier: MIT
#include "shape/conic.h"

namespace dishwright {

Conic ellipsoid_conic(double near_focus, double far_focus) {
  const double sum = far_focus + near_focus;  // 2a; b² = near · far, 1 − e² = b²/a², R = b²/a
  return {(far_focus - near_focus) / sum, 2 * near_focus * far_focus / sum, 4 * near_focus * far_focus / (sum * sum)};
}

Conic hyperboloid_conic(double near_focus, double far_focus) {
  const double difference = far_focus - near_focus;  // 2a; b² = near · far, e² − 1 = b²/a², R = b²/a
  return {(far_focus + near_focus) / difference, 2 * near_focus * far_focus / difference,
          -4 * near_focus * far_focus / (difference * difference)};
}

double ellipsoid_widest(double near_focus, double far_focus) { return 2 * std::sqrt(near_focus * far_focus); }

}  // namespace dishwright
