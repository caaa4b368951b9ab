// SPDX-License-Identifier: MIT
// How bright the sun's disc is from centre to edge, and around it.
#pragma once

#include <vector>

namespace dishwright {

enum class DiscProfile { uniform, limb_darkened, aureole };

/// Draws the angle between the sun's centre and a ray, so that rays carry equal power through a surface that faces the centre
/// (density ∝ radiance · cos θ · sin θ).
///
/// uniform: constant radiance within half_angle.
/// limb_darkened: 0.3 + 0.93 µ − 0.23 µ², µ = √(1 − (sin θ/sin half_angle)²) at 550 nm [allen2000].
/// aureole: disc cos(0.326 θ)/cos(0.308 θ) and aureole e^κ θ^γ from 4.65 to 43.6 mrad, θ in mrad, κ = 0.9 ln(13.5 χ) χ^−0.3,
///   γ = 2.2 ln(0.52 χ) χ^0.43 − 0.1 [buie2003]. χ is solved so that the
///   realised share of power outside the disc is `aureole_share`. Angles scale with half_angle / 4.65 mrad (by their sines).
class DiscSampler {
 public:
  /// half_angle [rad], 0 … π/2 (0 = a point), with an aureole 0 … 0.1; aureole_share in [0, 0.8]. Else std::invalid_argument.
  /// `draws` false: quick to make, for radiance and angles only; sin_angles() then must not be called.
  DiscSampler(DiscProfile profile, double half_angle, double aureole_share, bool draws = true);

  /// sin θ for each u in [0, 1); arrays of length n. Monotone in u to that accuracy: 1e-6 of half_angle, in the aureole 1e-6 of
  /// the angle.
  void sin_angles(const float* u, float* sin_angle, int n) const;
  /// The same in double by solving the distribution, accuracy 1e-12 of half_angle; slow.
  double sin_angle(double u) const;
  /// Radiance relative to the disc's centre at angle θ [rad].
  double relative_radiance(double angle) const;
  /// Largest angle that carries light [rad].
  double largest_angle() const;

 private:
  void fill_tables();
  double disc_power_within(double area) const;  // share of the disc's power within (sin θ/sin half_angle)² = area
  double disc_area_of(double share) const;      // its inverse
  double aureole_scaled(double share) const;    // sine in mrad of a 4.65 mrad sun, at a share of the aureole's power
  DiscProfile profile_;
  double half_angle_;
  double aureole_share_;
  double aureole_power_ = 0;          // exponent γ
  double aureole_level_ = 0;          // e^κ, relative to the disc's centre, θ in mrad
  double disc_total_ = 1;             // ∫ radiance d(area) over the disc
  std::vector<float> disc_table_;     // (sin θ/sin half_angle)² / u at √(1−u) = i/1024: smooth at centre and edge
  std::vector<float> aureole_table_;  // sin θ at aureole share i/4096
};

}  // namespace dishwright
