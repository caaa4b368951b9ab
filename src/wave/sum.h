// SPDX-License-Identifier: MIT
// The sum over the samples: plain in double for single answers, on vector lanes in float for maps and patterns.
#pragma once

#include <vector>

#include "wave/samples.h"

namespace dishwright {

/// Samples with the wave that arrives at each, times area: a = (amplitude)·(side the wave comes from, ±1)·√reflectance·area, and
/// the length of the way so far. The sums multiply by −ik/(2π).
struct WaveTerms {
  const WaveSamples* samples = nullptr;
  double wave_number = 0;         ///< k = 2π/λ [1/m]
  std::vector<double> amplitude;  ///< by sample
  std::vector<double> way;        ///< by sample [m]
};
/// A wave from a source; with `feed`, its amplitude is √gain/R (source: a point at the feed's place).
WaveTerms arriving(const WaveSamples& samples, const WaveSetup& setup, const WaveSource& source, const Feed* feed = nullptr);
/// Listening at `place`: a = cos/R·√reflectance·area without the side, which the direction of each incoming wave decides.
WaveTerms heard_at(const WaveSamples& samples, const WaveSetup& setup, const Vector3& place);

/// One term after the other in double: error about 1e-12 of the terms' sizes.
Complex exact_at_place(const WaveTerms& terms, const Vector3& place);
/// R·amplitude far away in a direction, phase about the origin.
Complex exact_toward(const WaveTerms& terms, const Vector3& toward);
/// Of heard_at(): a plane wave from a direction.
Complex exact_from(const WaveTerms& terms, const Vector3& from);

/// The same for many places or directions, in float on vector lanes, phases against a reference place within 60 wavelengths.
/// Error below 1e-5 of the sum of the terms' sizes. In parallel over the places; each one's sum runs in a fixed order.
std::vector<Complex> sums_at_places(const WaveTerms& terms, const std::vector<Vector3>& places, const WaveSetup& setup);
std::vector<Complex> sums_toward(const WaveTerms& terms, const std::vector<Vector3>& directions, const WaveSetup& setup);
std::vector<Complex> sums_from(const WaveTerms& terms, const std::vector<Vector3>& directions, const WaveSetup& setup);

}  // namespace dishwright
