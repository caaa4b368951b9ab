// SPDX-License-Identifier: MIT
// A scene of sound or radio in, its figures out.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "scene/scene.h"
#include "study/wave_answer.h"
#include "study/wave_distance.h"
#include "study/wave_help.h"
#include "wave/gain.h"

namespace dishwright {

/// What it costs to stand wrong: gain as it is minus gain then [dB], above 0 where it is lost. Empty where nothing arrives.
struct MissCost {
  std::string name;  ///< of the JSON: "aside_25mm"
  std::string what;  ///< "25 mm (0.98 in) aside"
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
  MapPlane plane;                 ///< through the target's centre
  double frequency = 0;           ///< [Hz]
  std::vector<double> levels;     ///< by place; −infinity where nothing arrives
  double peak = 0;                ///< largest of them
  double peak_x = 0, peak_y = 0;  ///< where [m], along the plane's across and up
  double half_power_width = 0;    ///< diameter of the circle as large as the area within 3.01 dB of the peak [m]
  bool whole = false;             ///< that area does not touch the map's edge
  bool turned = false;            ///< the axial map: its way across is not the target's own x, but toward the loudest place
  Convergence convergence;
};

struct WaveFigures {
  bool radio = false;
  bool sends = false;               ///< sound from the first target: its gain is that of what goes out, far away
  double speed = 0;                 ///< of the wave [m/s]
  std::vector<double> frequencies;  ///< as asked [Hz]
  std::size_t shown = 0;            ///< number of the middle one: map and best place are its
  std::vector<WaveTarget> targets;
  std::vector<WaveDetail> details;                ///< by frequency
  std::vector<double> curve_frequencies;          ///< sound: steps of the gain curve [Hz]
  GainCurve curve;                                ///< sound: of the first target
  WaveHelp help;                                  ///< sound: what that curve says of the pitches
  std::vector<WavePattern> patterns;              ///< lowest, middle and highest frequency
  std::optional<WaveMap> map;                     ///< along the target's own x and y
  std::optional<WaveMap> axial_map;               ///< along its own x and z
  std::optional<VoiceFigures> voice;              ///< sound with a voice: at the frequency shown
  std::vector<std::optional<double>> link_gains;  ///< sound with facing: by frequency [dB]
  std::optional<LinkBudget> link;                 ///< radio with a link: at the frequency shown
  std::vector<double> mesh_leaks;  ///< radio with a wire mesh on the first mirror: share let through, by frequency [1]
  double surface_rms = 0;          ///< half-path error of the first mirror's flaws along its axis, rms [m]
  double feed_power = 0;           ///< radio: n of the first target's cosⁿ feed
  std::vector<std::string> notes;  ///< what the reader must know beside the figures
  Convergence convergence;         ///< of the gains, the worst of all
  Convergence beam_convergence;    ///< of beams and patterns, the worst of all
};

/// Maps take most of the time, and only pictures show them. `rough`: maps of few places for a picture that follows a hand, without
/// patterns, gain curve and what it tells, and without details; what a map says of its spot is rough then, too.
enum class WaveMaps { none, rough, made };

/// Waves from the scene's sound or radio. Throws InputError where the scene has neither, for what check_waves() refuses, or where
/// the memory does not hold it; Interrupted when watch.stop is set. The same figures, bit for bit, on any number of threads.
WaveFigures wave_figures(const Scene& scene, WaveMaps maps, int threads, Watch& watch);

}  // namespace dishwright
