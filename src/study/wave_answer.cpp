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

std::optional<Estimate> wave_figure(const WaveAnswer& answer, Figure figure) {
  const auto exact = [](const std::optional<double>& value, const char* unit) -> std::optional<Estimate> {
    if (!value || !finite(*value)) return std::nullopt;
    return Estimate{*value, std::nullopt, unit};
  };
  const auto share = [&](double RadioFigures::*part) {
    return answer.radio ? exact((*answer.radio).*part, "1") : std::optional<Estimate>();
  };
  switch (figure) {
    case Figure::gain: return exact(answer.gain, answer.radio ? "dBi" : "dB");
    case Figure::reflected_gain: return exact(answer.reflected_gain, "dB");
    case Figure::aperture_efficiency: return share(&RadioFigures::aperture_efficiency);
    case Figure::spillover: return share(&RadioFigures::spillover);
    case Figure::taper: return share(&RadioFigures::taper);
    case Figure::phase: return share(&RadioFigures::phase);
    case Figure::surface: return share(&RadioFigures::surface);
    case Figure::blockage: return share(&RadioFigures::blockage);
    case Figure::reflection: return share(&RadioFigures::reflection);
    case Figure::half_power_width: return exact(answer.half_power_width, "rad");
    case Figure::side_lobe: return exact(answer.side_lobe, "dB");
    case Figure::power:
    case Figure::direct_power:
    case Figure::total_power:
    case Figure::intercept:
    case Figure::peak_irradiance:
    case Figure::peak_concentration:
    case Figure::mean_irradiance:
    case Figure::evenness:
    case Figure::spot_width_50:
    case Figure::spot_width_90:
    case Figure::spot_rms_radius: break;
  }
  return std::nullopt;
}

void keep_worst(Convergence& worst, const Convergence& other) {
  worst.points = std::max(worst.points, other.points);
  worst.change = std::max(worst.change, other.change);
  worst.reached = worst.reached && other.reached;
}

}  // namespace dishwright
