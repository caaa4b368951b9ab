// SPDX-License-Identifier: MIT
// What a wave computation is asked: the wave, where it comes from, how exact the answer must be.
//
// The integral (docs/decisions/0014-waves.md): every lit point Q of a mirror sends to P the wave
//   −ik e^(ikR)/(2πR) · cos(angle between the mirror's normal at Q and the way from Q to P) · (wave that arrives at Q) dS, R = |P
//   − Q|,
// time runs as e^(−iωt). Sound: a rigid mirror. Radio: a conducting mirror, one scalar field, polarisation left out.
#pragma once

#include <complex>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "scene/scene.h"

namespace dishwright {

using Complex = std::complex<double>;

/// A feed or speaker whose power falls off from its axis: power per solid angle ∝ cosⁿ of the angle to the axis, nothing behind
/// [balanis, sec. 15.4]. Gain along the axis 2 (n + 1).
struct Feed {
  Vector3 place = Vector3::Zero();   ///< [m]
  Vector3 axis = -Vector3::UnitZ();  ///< unit, the way it looks
  double power = 0;                  ///< n >= 0
  /// Gain of the feed itself toward a direction (any length) [1]: 2 (n + 1) cosⁿ; 0 behind.
  double gain(const Vector3& toward) const;
};

/// Where the wave comes from. A far one has the amplitude 1 everywhere and the phase 0 at the frame's origin; a near one has the
/// amplitude 1/R.
struct WaveSource {
  enum class Kind {
    far,   ///< plane wave
    point  ///< same to all sides: a bird, a speaker
  };
  Kind kind = Kind::far;
  Vector3 direction = Vector3::UnitZ();  ///< far: unit, toward the source
  Vector3 place = Vector3::Zero();       ///< point [m]
  static WaveSource from_far(const Vector3& toward_source) { return {Kind::far, toward_source.normalized(), Vector3::Zero()}; }
  static WaveSource from_point(const Vector3& where) { return {Kind::point, Vector3::UnitZ(), where}; }
};

struct WaveSetup {
  double frequency = 0;  ///< [Hz], > 0
  double speed = 0;      ///< of the wave [m/s], > 0: sound_speed() or light_speed
  std::vector<double>
      reflectance;             ///< share of power that reflector k reflects, 0 … 1; its root acts on amplitudes. Empty: all 1
  bool targets_shade = false;  ///< radio: targets with `shades` stop the wave on its way between the far side and the mirror
  double tolerance = 1e-4;     ///< the sum is refined until no probe changes by more than this share of the strongest [1]
  double patience = 12;        ///< refining stops at so many times the first places on the mirror, or at `always` if that is more
  double always = 240'000;     ///< places that refining may take however few the first are
  std::size_t memory =
      500'000'000;  ///< most that samples and results may take [bytes]; beyond it: InputError with the number and what to change
  int threads = 0;  ///< 0: as many as parallel loops use here. Figures are the same, bit for bit, on any number
  std::string frequency_key;     ///< key of the project file that the frequency comes from; for errors
  const Watch* watch = nullptr;  ///< when its `stop` is set, work ends and throws Interrupted
  double wavelength() const { return speed / frequency; }
};

/// How well the sum over the mirror has settled.
struct Convergence {
  std::size_t points = 0;  ///< places on the mirrors that the answer uses
  double change = 0;  ///< largest change at a probe when the points were last refined, as a share of the strongest amplitude [1]
  bool reached = false;  ///< change <= tolerance; false: the figures are good to `change` only, and the page must say so
};

/// Throws InputError (exit 2) for what no wave sum can answer: frequency or speed not > 0 or not finite, no mirror, a mirror with
/// slope_error (rays
/// only: it has no phase; use a flaw of the shape), reflectance outside 0 … 1.
void check_waves(const Scene& scene, const WaveSetup& setup);
/// What the reader must know beside the figures: a mirror under λ/4 across, mirrors under a wavelength (edges left out), a coarse
/// answer, several mirrors (the wave is reflected once). Plain sentences; empty when nothing is to be said.
std::vector<std::string> wave_notes(const Scene& scene, const WaveSetup& setup);

}  // namespace dishwright
