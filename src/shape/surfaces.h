// SPDX-License-Identifier: MIT
// Curves as heights over a plane.
#pragma once

#include <memory>

#include "shape/height_surface.h"
#include "shape/petal.h"
#include "shape/profile_curve.h"

namespace dishwright {

/// z = a (cosh(r/a) − 1).
class CatenarySurface : public HeightSurface {
 public:
  explicit CatenarySurface(double parameter) : a_(parameter) {}
  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override;

 private:
  double a_;
};

/// A dish of petals; its slope jumps at the seams.
class PetalSurface : public HeightSurface {
 public:
  explicit PetalSurface(const Petals& petals) : petals_(petals) {}
  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override;

 private:
  Petals petals_;
};

/// A curve turned about the z axis, or drawn out along y. Beyond its rim it goes on straight.
class ProfileSurface : public HeightSurface {
 public:
  ProfileSurface(std::shared_ptr<const ProfileCurve> curve, bool trough) : curve_(std::move(curve)), trough_(trough) {}
  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override;

 private:
  std::shared_ptr<const ProfileCurve> curve_;
  bool trough_;
};

}  // namespace dishwright
