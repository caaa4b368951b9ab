// SPDX-License-Identifier: MIT
// A dish with a feed: gain, aperture efficiency and its factors.
#pragma once

#include "scene/feed_axis.h"
#include "wave/setup.h"

namespace dishwright {

/// Angle from the feed's axis to the rim [rad], the largest one.
double rim_angle_from(const Reflector& reflector, const Vector3& place);
/// n of a cosⁿ feed whose own level at the rim is `taper` [dB], <= 0, against its axis; the longer way to the rim is not counted.
/// The rim as seen from `place` (the focus). Throws InputError where the rim is 89° or more off the axis: no cosⁿ feed has a
/// level there.
double feed_power_for_taper(const Reflector& reflector, const Vector3& place, double taper);

/// All shares 0 … 1. aperture_efficiency = spillover · taper · phase · blockage · reflection, exactly.
struct RadioFigures {
  double gain_dbi = 0;             ///< toward the direction [dBi]
  double aperture_efficiency = 0;  ///< gain / (4π A/λ²), A the outlines of all mirrors, holes counted: π width²/4 of a round one
  double spillover = 0;            ///< share of the feed's power that the mirrors catch
  double taper = 0;  ///< (∫|u| dA)² / (A ∫|u|² dF), u the feed's amplitude on the mirror, dA and dF the mirror's area as seen
                     ///< from afar and from the feed (alike at the focus of a paraboloid); 1 where that is more
  /// |∫ u e^(i phase) dA|² / (∫|u| dA)² of what no target blocks, times what the bound of `taper` took off: feed out of focus,
  /// wrong curve, flaws.
  double phase = 0;
  double blockage = 0;    ///< (∫|u| dA of what no target blocks)² / (∫|u| dA)²
  double reflection = 0;  ///< the mirrors' reflectance
  /// Spillover before it is bounded by 1: each mirror for itself, those behind one another counted twice.
  double counted = 0;
  /// What the sum gives against the most that the mirrors' area allows of the power that they catch, where that is above 1: a
  /// mirror much smaller than the wave, for which the sum does not hold. Gain and shares are cut to what the area allows.
  double beyond = 1;
  /// The part of `phase` that the flaws of the mirrors take: phase / phase without them, 1 where they take nothing;
  /// radio_figures() leaves it 1.
  double surface = 1;
  Convergence convergence;
};
/// Sending from `feed` toward the far direction `toward` (unit); receiving is the same by reciprocity.
RadioFigures radio_figures(const Scene& scene, const WaveSetup& setup, const Feed& feed, const Vector3& toward);

/// Ruze's factor exp(−(4π ε/λ)²) [1] for a random surface: ε rms half-path error along the axis [m] [ruze1966]. Bumps short
/// against the dish; the halo of longer ones is left out.
double ruze_factor(double half_path_rms, double wavelength);
/// Ruze's factor with the halo that bumps of correlation length c (correlation exp(−r²/c²)) send into the beam of a dish `width`
/// across: exp(−δ²)[1 + (2c/D)² Σ δ^(2m)/(m·m!)], δ = 4π ε/λ [ruze1966]. Range: c <= D/20.
double ruze_factor_with_halo(double half_path_rms, double wavelength, double correlation, double width);
/// Largest rms half-path error [m] that costs no more than `loss_db` (> 0): λ/(4π) √(loss ln 10/10).
double ruze_limit(double loss_db, double wavelength);

/// Share of power that leaks through a square wire mesh, `pitch` between wires, `wire` their diameter [m], wave square to it: a
/// shunt reactance x = (pitch/λ) ln(pitch/(π wire)) of free space ([macfarlane1946], for thin parallel wires; a mesh with good
/// contact at the crossings is taken as that for either polarisation), leak 4x²/(1 + 4x²). Range: wire < pitch/6, pitch < λ/3.
/// 0 for thicker wires.
double mesh_leakage(double pitch, double wire, double wavelength);

}  // namespace dishwright
