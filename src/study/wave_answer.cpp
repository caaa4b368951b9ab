// SPDX-License-Identifier: MIT
#include "study/wave_answer.h"

#include <algorithm>

namespace dishwright {

namespace {

/// What the flaws of the mirrors leave of the phase factor; 1 for true mirrors.
double surface_factor(const WaveQuestion& question, const Vector3& place, double phase) {
  Scene truth = question.scene();
  bool flawed = false;
  for (Reflector& mirror : truth.reflectors) flawed = flawed || mirror.flaws.any(), mirror.flaws = {};
  if (!flawed) return 1;
  WaveQuestion without(truth, question.setup().watch);
  without.set_frequency(question.setup().frequency);
  const double true_phase = without.radio_at(place, question.toward()).phase;
  return true_phase > 0 ? std::min(1.0, phase / true_phase) : 1;
}

}  // namespace

WaveAnswer wave_answer(const WaveQuestion& question, std::size_t target, Convergence& worst, Convergence& worst_beam) {
  const Vector3& place = question.scene().targets[target].pose.at;
  WaveAnswer answer;
  if (question.scene().radio) {
    answer.radio = question.radio_at(place, question.toward());
    keep_worst(worst, answer.radio->convergence);
    answer.radio->surface = surface_factor(question, place, answer.radio->phase);
    answer.gain = finite(answer.radio->gain_dbi);
  } else {
    const HeardLevels levels = question.levels(target, place, question.toward());
    keep_worst(worst, levels.convergence);
    answer.gain = finite(levels.gain.gain), answer.reflected_gain = finite(levels.gain.reflected_gain);
  }
  const Beam beam = question.beam(place);
  keep_worst(worst_beam, beam.convergence);
  if (beam.peak > 0) answer.half_power_width = beam.half_power_width, answer.side_lobe = beam.side_lobe;
  return answer;
}

const std::vector<std::string>& wave_figure_names(bool radio) {
  static const std::vector<std::string> of_sound = {"gain", "reflected_gain", "half_power_width", "side_lobe"};
  static const std::vector<std::string> of_radio = {
      "gain",     "aperture_efficiency", "spillover",        "taper",    "phase", "surface",
      "blockage", "reflection",          "half_power_width", "side_lobe"};
  return radio ? of_radio : of_sound;
}

std::optional<Estimate> figure_of(const WaveAnswer& answer, const std::string& name) {
  const auto exact = [](const std::optional<double>& value, const char* unit) -> std::optional<Estimate> {
    if (!value || !finite(*value)) return std::nullopt;
    return Estimate{*value, std::nullopt, unit};
  };
  if (name == "gain") return exact(answer.gain, answer.radio ? "dBi" : "dB");
  if (name == "reflected_gain") return exact(answer.reflected_gain, "dB");
  if (name == "half_power_width") return exact(answer.half_power_width, "rad");
  if (name == "side_lobe") return exact(answer.side_lobe, "dB");
  if (!answer.radio) return std::nullopt;
  if (name == "aperture_efficiency") return exact(answer.radio->aperture_efficiency, "1");
  if (name == "spillover") return exact(answer.radio->spillover, "1");
  if (name == "taper") return exact(answer.radio->taper, "1");
  if (name == "phase") return exact(answer.radio->phase, "1");
  if (name == "surface") return exact(answer.radio->surface, "1");
  if (name == "blockage") return exact(answer.radio->blockage, "1");
  if (name == "reflection") return exact(answer.radio->reflection, "1");
  return std::nullopt;
}

void keep_worst(Convergence& worst, const Convergence& other) {
  worst.points = std::max(worst.points, other.points);
  worst.change = std::max(worst.change, other.change);
  worst.reached = worst.reached && other.reached;
}

}  // namespace dishwright
