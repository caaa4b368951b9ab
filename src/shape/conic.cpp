// SPDX-License-Identifier: MIT
#include "shape/conic.h"

#include <fmt/format.h>

#include <cmath>

#include "base/quantity.h"

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

Patches conic_patches(const Conic& conic, double hole_width, double width, double side) {
  // By the angle of its normal as far as the rim: d z/d r = r/(R − (1 − e²) z).
  const Curve curve = curve_of(hole_width / 2, width / 2, [conic](double r) {
    const double z = conic.height(r);
    return std::pair(z, r / (conic.apex_radius - conic.shape_factor * z));
  });
  return turned([curve, side](double u) {
    MirrorPoint p = curve(u);
    p.normal *= side;
    return p;
  });
}

std::vector<ShapeProblem> wrong_foci(double near_focus, double far_focus, const std::string& same_as,
                                     const std::string& instead) {
  if (far_focus > near_focus) return {};
  const bool equal = far_focus == near_focus;
  return {{"far_focus", equal ? "both foci are equally far" : "the far focus is nearer than the near one",
           fmt::format("near_focus is {}, far_focus {}{}", in_both(near_focus), in_both(far_focus), equal ? "; " + same_as : ""),
           equal ? instead : "change the two over"}};
}

}  // namespace dishwright
