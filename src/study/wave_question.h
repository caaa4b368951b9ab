// SPDX-License-Identifier: MIT
// A scene of sound or radio as the wave integral is asked about it.
#pragma once

#include <optional>

#include "scene/scene.h"
#include "wave/gain.h"
#include "wave/pattern.h"
#include "wave/radio.h"

namespace dishwright {

/// The level, if it is one.
std::optional<double> finite(double level);

/// Throws InputError, at its place in the project file, where the sums of this scene's sound or radio cannot be done: the mirrors
/// are too many wavelengths wide at the highest frequency, or the feed cannot be what it should. For before any work.
void check_wave_limits(const Scene& scene);

struct HeardLevels {
  WaveGain gain;
  Convergence convergence;
};

class WaveQuestion {
 public:
  /// Both must outlive this. The first of the scene's frequencies is set.
  WaveQuestion(const Scene& scene, const Watch* watch);

  void set_frequency(double frequency) { setup_ = setup_at(frequency); }
  const Scene& scene() const { return scene_; }
  const WaveSetup& setup() const { return setup_; }
  WaveSetup setup_at(double frequency) const;
  /// The setup, settled to a coarser `tolerance` of the strongest amplitude [1] and with less patience: waves from far aside
  /// settle slowly, since the lit side of a deep mirror changes within it.
  WaveSetup coarser(double tolerance) const;
  /// From here on all gains are settled to 3e-4 of the strongest amplitude (0.003 dB), soon or not at all: for hundreds of them.
  void hurry();
  /// Where the far wave comes from, or where it is wanted; `turned` more than the scene says [rad]. Unit.
  Vector3 toward(double turned = 0) const;
  /// The side of aim_direction, square to the frame's z. Unit.
  Vector3 side() const;
  /// What a microphone hears: the point of the scene, or the far wave; that, too, where the dish sends.
  WaveSource source() const;
  /// Sound: target number `index`, standing at `place`, with the far side at `toward`.
  HeardLevels levels(std::size_t index, const Vector3& place, const Vector3& toward) const;
  /// Gain of target number `index`, standing at `place`, with the far side at `toward`: of sound with the straight wave [dB], of
  /// radio [dBi]. Empty where nothing arrives.
  std::optional<double> gain(std::size_t index, const Vector3& place, const Vector3& toward) const;
  /// What a mirror's wire mesh lets through at the frequency set [1]; 0 where it has none.
  double mesh_leak(std::size_t reflector) const;
  /// n of the cosⁿ feed.
  double feed_power() const { return feed_power_; }
  Feed feed_at(const Vector3& place) const;
  RadioFigures radio_at(const Vector3& place, const Vector3& toward) const;
  /// The beam of a microphone or feed at `place`, in the plane of aim_direction. A speaker's is the microphone's, by reciprocity.
  Beam beam(const Vector3& place) const;
  PatternCut cut() const { return {Vector3::UnitZ(), side()}; }

 private:
  double aim_error() const { return scene_.radio ? scene_.radio->aim_error : scene_.sound->aim_error; }
  double aim_direction() const { return scene_.radio ? scene_.radio->aim_direction : scene_.sound->aim_direction; }

  const Scene& scene_;
  WaveSetup setup_;
  double feed_power_ = 0;
};

}  // namespace dishwright
