// SPDX-License-Identifier: MIT
// A scene of sound or radio in, its figures out.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/stop.h"
#include "scene/scene.h"
#include "study/wave_distance.h"
#include "wave/gain.h"
#include "wave/pattern.h"
#include "wave/radio.h"

namespace dishwright {

/// What one target hears at one frequency. Levels are empty where nothing arrives. Sound: against the same wave without a mirror; sending, a
/// speaker at the first target far away in front of the dish, against the speaker alone. Radio: the feed at the target.
struct WaveAnswer {
  std::optional<double> gain;              ///< sound: mirror and straight wave [dB]; radio: toward the far side [dBi]
  std::optional<double> reflected_gain;    ///< sound: by the mirror alone [dB]
  std::optional<double> half_power_width;  ///< of the beam, in the plane of aim_direction [rad]; empty: wider than ±90°
  std::optional<double> side_lobe;         ///< highest lobe beyond the first nulls, against the beam's peak [dB]
  std::optional<RadioFigures> radio;       ///< shares of the aperture efficiency; radio only
};

/// What it costs to stand wrong: gain as it is minus gain then [dB], above 0 where it is lost. Empty where nothing arrives.
struct MissCost {
  std::string name;  ///< of the JSON: "aside_25mm"
  std::string what;  ///< "1 in aside"
  std::optional<double> loss;
};

/// The first target at one frequency.
struct WaveDetail {
  std::vector<MissCost> misses;
  std::optional<BestReceiverPlace> best;  ///< sound that does not come from the first target: where the gain is largest
};

struct WaveTarget {
  std::string name;
  std::vector<WaveAnswer> answers;  ///< by frequency
};

/// One line of the directivity chart: the first target's.
struct WavePattern {
  double frequency = 0;        ///< [Hz]
  std::vector<double> angles;  ///< from the frame's z toward aim_direction [rad]
  std::vector<double> levels;  ///< sound: by the mirror alone [dB]; radio [dBi]; −infinity in a null
};

/// How loud it is around the first target, for a wave from far away: against the wave alone [dB].
struct WaveMap {
  MapPlane plane;                 ///< through the target's centre, along its own x and y
  double frequency = 0;           ///< [Hz]
  std::vector<double> levels;     ///< by place; −infinity where nothing arrives
  double peak = 0;                ///< largest of them
  double peak_x = 0, peak_y = 0;  ///< where [m], own x, y
  double half_power_width = 0;    ///< diameter of the circle as large as the area within 3.01 dB of the peak [m]
  bool whole = false;             ///< that area does not touch the map's edge
};

struct WaveFigures {
  bool radio = false;
  double speed = 0;                 ///< of the wave [m/s]
  std::vector<double> frequencies;  ///< as asked [Hz]
  std::size_t shown = 0;            ///< number of the middle one: map and best place are its
  std::vector<WaveTarget> targets;
  std::vector<WaveDetail> details;        ///< by frequency
  std::vector<double> curve_frequencies;  ///< sound: steps of the gain curve [Hz]
  GainCurve curve;                        ///< sound: of the first target
  std::vector<WavePattern> patterns;      ///< lowest, middle and highest frequency
  WaveMap map;
  std::optional<VoiceFigures> voice;              ///< sound with a voice: at the frequency shown
  std::vector<std::optional<double>> link_gains;  ///< sound with facing: by frequency [dB]
  std::optional<LinkBudget> link;                 ///< radio with a link: at the frequency shown
  double feed_power = 0;                          ///< radio: n of the first target's cosⁿ feed
  std::vector<std::string> notes;                 ///< what the reader must know beside the figures
  Convergence convergence;                        ///< of the gains and the map, the worst of all
  Convergence beam_convergence;                   ///< of beams and patterns, the worst of all
};

/// Waves from the scene's sound or radio. Throws InputError where the scene has neither, for what check_waves() refuses, or where the memory does not
/// hold it; Interrupted when watch.stop is set. The same figures, bit for bit, on any number of threads.
WaveFigures wave_figures(const Scene& scene, int threads, Watch& watch);

}  // namespace dishwright
