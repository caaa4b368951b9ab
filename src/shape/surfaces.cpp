// SPDX-License-Identifier: MIT
#include "shape/surfaces.h"

#include <algorithm>
#include <cmath>

#include "shape/catenary.h"

namespace dishwright {

void CatenarySurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  for (int i = 0; i < n; ++i) {
    const double r = std::hypot(x[i], y[i]), per = r > 0 ? catenary_slope(a_, r) / r : 1 / a_;
    h[i] = catenary_height(a_, r);
    slope_x[i] = per * x[i], slope_y[i] = per * y[i];
  }
}

void PetalSurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  const double k = petal_coefficient(petals_);
  for (int i = 0; i < n; ++i) {
    const double azimuth = petal_azimuth(petals_, petal_at(petals_, x[i], y[i]));
    const double c = std::cos(azimuth), s = std::sin(azimuth), u = x[i] * c + y[i] * s;
    h[i] = k * u * u;
    slope_x[i] = 2 * k * u * c, slope_y[i] = 2 * k * u * s;
  }
}

void ProfileSurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  const double first = curve_->start(), last = curve_->rim();
  for (int i = 0; i < n; ++i) {
    const double place = trough_ ? x[i] : std::hypot(x[i], y[i]), on = std::clamp(place, first, last);
    const ProfileCurve::Span& span = curve_->span_at(on);
    const double slope = span.slope(on);
    h[i] = span.height(on) + slope * (place - on);
    const double per = place > 0 ? slope / place : 0;
    slope_x[i] = trough_ ? slope : per * x[i], slope_y[i] = trough_ ? 0 : per * y[i];
  }
}

}  // namespace dishwright
