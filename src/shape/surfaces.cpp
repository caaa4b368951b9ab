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
  for (int i = 0; i < n; ++i) {
    const Vector3 normal = petal_normal(petals_, x[i], y[i]);
    h[i] = petal_height(petals_, x[i], y[i]);
    slope_x[i] = -normal.x() / normal.z(), slope_y[i] = -normal.y() / normal.z();
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
