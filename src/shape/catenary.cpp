// SPDX-License-Identifier: MIT
#include "shape/catenary.h"

#include <cmath>

namespace dishwright {

double catenary_parameter(double width, double depth) {
  // With t = width/(2a): depth/(width/2) = (cosh t − 1)/t = 2 sinh²(t/2)/t, which rises from 0 without bound. Newton from the
  // left of the root would overshoot once, then comes down from the right, since the function is convex.
  const double wanted = depth / (width / 2);
  double t = wanted < 1 ? 2 * wanted : std::log(2 * wanted) + 2;
  constexpr int most_steps = 100;
  for (int step = 0; step < most_steps; ++step) {
    const double half = std::sinh(t / 2);
    const double miss = 2 * half * half / t - wanted;
    const double slope = (std::sinh(t) - 2 * half * half / t) / t;
    const double next = t - miss / slope;
    if (!(std::abs(next - t) > 1e-16 * t)) break;
    t = next;
  }
  return width / (2 * t);
}

double catenary_height(double a, double r) {
  const double half = std::sinh(r / (2 * a));
  return 2 * a * half * half;
}

double catenary_slope(double a, double r) { return std::sinh(r / a); }

Heights Catenary::heights() const {
  return heights_from([a = catenary_parameter(width, depth)](double x, double y) {
    const double r = std::hypot(x, y), per = r > 0 ? catenary_slope(a, r) / r : 1 / a;
    return HeightAt{catenary_height(a, r), per * x, per * y};
  });
}

Patches Catenary::patches() const {
  const double a = catenary_parameter(width, depth);
  return turned(
      curve_of(hole_width / 2, width / 2, [a](double r) { return std::pair(catenary_height(a, r), catenary_slope(a, r)); }));
}

}  // namespace dishwright
