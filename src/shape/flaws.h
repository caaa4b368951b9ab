// SPDX-License-Identifier: MIT
// What goes wrong with the shape of a hand-built mirror, as heights that are added to it. Light bends because the slope changes.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "shape/height_surface.h"
#include "shape/quadric.h"
#include "shape/random_heights.h"

namespace dishwright {

/// Ripples: height = amplitude · cos(2π d/period), d = distance from the vertex along `direction`; a crest at the vertex.
struct Waviness {
  double amplitude = 0;  ///< half the height from trough to crest [m]
  double period = 0;     ///< from crest to crest [m]
  double direction = 0;  ///< of the wave, across its crests: 0 = along x, π/2 = along y [rad]
};

/// Skin that hangs through between ribs: height = −depth (r/R)² sin²(ribs φ/2); a rib at φ = 0.
struct Scallop {
  int ribs = 0;      ///< >= 2
  double depth = 0;  ///< at the rim, half way between two ribs [m]
};

/// A round dent away from the sun: height = −depth cos²(π ρ/width) for ρ < width/2 about its middle.
struct Dent {
  double x = 0, y = 0;  ///< its middle [m]
  double width = 0;     ///< where it ends [m]
  double depth = 0;     ///< in its middle [m]; < 0: a bump
};

/// Flaws of one mirror, in its own frame. None is there by default.
struct Flaws {
  double sag_x = 0, sag_y = 0;  ///< the focal length along x is f (1 + sag_x), along y f (1 + sag_y); paraboloids only [1]
  double rim_sag_x = 0, rim_sag_y = 0;  ///< the rim hangs by this at both ends of the outline along x, along y: height
      ///< = −rim_sag_x (x/a)² − rim_sag_y (y/b)², x, y from the outline's middle, a, b its
      ///< half widths. Both alike: a paraboloid of focal length f and rim depth D becomes one of
      ///< f D/(D − rim_sag) [m]
  double twist = 0;  ///< saddle: height = twist · x y/R, x, y from the outline's middle, R the rim's radius [rad]
  std::optional<Waviness> waviness;
  std::optional<Scallop> scallop;
  std::vector<Dent> dents;
  std::optional<Roughness> roughness;
  bool any() const {
    return sag_x != 0 || sag_y != 0 || rim_sag_x != 0 || rim_sag_y != 0 || twist != 0 || waviness || scallop || !dents.empty() ||
           roughness;
  }
};

/// z of a quadric bowl or trough (e = 0) over its x, y.
class QuadricSurface : public HeightSurface {
 public:
  explicit QuadricSurface(const Quadric<double>& quadric) : quadric_(quadric) {}
  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override;

 private:
  Quadric<double> quadric_;
};

/// A surface with the heights of its flaws added (all but the sag, which the surface itself must have).
class FlawedSurface : public HeightSurface {
 public:
  FlawedSurface(std::shared_ptr<const HeightSurface> base, Flaws flaws, const PlanOutline& plan);
  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override;

 private:
  void add_bumps(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const;

  std::shared_ptr<const HeightSurface> base_;
  Flaws flaws_;
  double rim_;                  ///< the rim's radius, or half the width of what is not round [m]
  double half_y_;               ///< half of the outline along y [m]
  double x_middle_, y_middle_;  ///< of the outline [m]
  HeightGrid bumps_;            ///< of the roughness, as half-paths
};

}  // namespace dishwright
