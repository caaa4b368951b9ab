// SPDX-License-Identifier: MIT
#include "study/wave_figures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "base/threads.h"
#include "scene/check_waves.h"
#include "scene/mirror_surface.h"
#include "study/wave_map.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

constexpr double one_miss = 0.025, degree = std::numbers::pi / 180;  // [m], [rad]

/// Gain of the first target [dB], moved from its place, with the far side turned.
std::optional<double> gain_of(const WaveQuestion& question, const Vector3& moved, double turned) {
  const Vector3 place = question.scene().targets.front().pose.at + moved;
  return question.gain(0, place, question.toward(turned));
}

std::vector<MissCost> misses_at(const WaveQuestion& question, const std::optional<double>& gain) {
  struct Miss {
    std::string name, what;
    double aside, along, turned;
  };
  const bool radio = question.scene().radio.has_value();
  const double eighth = question.setup().wavelength() / 8;
  std::vector<Miss> misses = {{"aside_25mm", "25 mm (0.98 in) aside", one_miss, 0, 0},
                              {"along_25mm", "25 mm (0.98 in) farther out", 0, one_miss, 0}};
  if (radio) {
    misses.push_back({"aside_eighth_wavelength", "1/8 wavelength aside", eighth, 0, 0});
    misses.push_back({"along_eighth_wavelength", "1/8 wavelength farther out", 0, eighth, 0});
    misses.push_back({"aim_1deg", "aimed 1 deg off", 0, 0, degree});
  }
  const bool far = radio || question.scene().sound->from != Sound::From::place;
  if (far) misses.push_back({"aim_5deg", "aimed 5 deg off", 0, 0, 5 * degree});
  const Pose& pose = question.scene().targets.front().pose;
  std::vector<MissCost> costs;
  for (const Miss& miss : misses) {
    const std::optional<double> then = gain_of(question, pose.turn * Vector3(miss.aside, 0, miss.along), miss.turned);
    costs.push_back({miss.name, miss.what, gain && then ? std::optional(*gain - *then) : std::nullopt});
  }
  return costs;
}

WaveDetail detail_at(const WaveQuestion& question, const std::optional<double>& gain) {
  WaveDetail detail;
  detail.misses = misses_at(question, gain);
  const auto& sound = question.scene().sound;
  if (!sound || sound->from == Sound::From::target) return detail;
  WaveSetup setup = question.coarser(1e-3);
  setup.watch = question.setup().watch;
  if (const SearchBox box = map_box(question); box.half > 1e-6)
    detail.best = best_receiver_place(question.scene(), setup, question.source(), box, true);
  if (detail.best && !finite(detail.best->gain.gain)) detail.best.reset();
  return detail;
}

/// Microphones so near a mirror that the part of the kernel that is left out, 1/(k R) of the rest, counts.
void add_near_notes(const WaveQuestion& question, double lowest, WaveFigures& figures) {
  const Scene& scene = question.scene();
  if (scene.radio) return;
  const double wavelength = figures.speed / lowest;
  const bool sends = scene.sound->from == Sound::From::target;
  for (std::size_t k = sends ? 1 : 0; k < scene.targets.size(); ++k) {
    const double apart = distance_to_mirrors(scene, scene.targets[k].pose.at) / wavelength;
    if (apart > 1 / (2 * std::numbers::pi) || rim_width(scene.reflectors.front().shape) < wavelength / 2) continue;
    figures.notes.push_back(fmt::format(
        "At {:.4g} Hz the {} stands {:.2g} wavelengths from a mirror. So near, the part of the wave that is left out counts as "
        "much as the rest: what the mirror sends is told too small.",
        lowest, scene.targets[k].name, apart));
  }
}

/// Radio figures that had to be bounded: mirrors behind one another, as a feed sees them, count as if each stood alone; and one
/// much smaller than the wave gathers more, by the sum, than its area can.
void add_bound_notes(WaveFigures& figures) {
  constexpr double rounding = 1.002;
  for (const WaveTarget& target : figures.targets) {
    double counted = 0, beyond = 0;
    for (const WaveAnswer& answer : target.answers) {
      if (!answer.radio) return;
      counted = std::max(counted, answer.radio->counted), beyond = std::max(beyond, answer.radio->beyond);
    }
    if (counted > rounding)
      figures.notes.push_back(
          fmt::format("The mirrors would catch {:.0f} % of what the feed at the {} sends: as it sees them, parts stand behind "
                      "others, and that shadow is left out. The gain is told too high.",
                      100 * counted, target.name));
    if (beyond > rounding)
      figures.notes.push_back(
          fmt::format("By way of the {} the sum gives {:.0f} % of the most that the mirror's area allows: it does not hold for a "
                      "mirror so small beside the wave. The gain is cut to what the area allows.",
                      target.name, 100 * beyond));
  }
}

void add_notes(const WaveQuestion& question, WaveFigures& figures) {
  // The longest wave is the one that a mirror is too small for.
  const double lowest = *std::min_element(figures.frequencies.begin(), figures.frequencies.end());
  const std::string at = figures.frequencies.size() > 1 ? "At the lowest frequency: " : "";
  add_near_notes(question, lowest, figures);
  add_bound_notes(figures);
  for (const std::string& note : wave_notes(question.scene(), question.setup_at(lowest))) {
    const bool of_size = note.find("wavelengths across") != std::string::npos;
    figures.notes.push_back((of_size ? at : "") + note);
  }
  const auto unsettled = [&](const char* what, const Convergence& convergence) {
    if (convergence.reached) return;
    figures.notes.push_back(
        fmt::format("The sum over the mirror did not settle for {}: good to about {:.1g} of the strongest amplitude.", what,
                    convergence.change));
  };
  if (figures.voice && figures.voice->rough_air)
    figures.notes.emplace_back(
        "What the air swallows is known from 50 Hz to 10 kHz, -20 to 50 °C and 10 % humidity up; outside of that it is a guess.");
  unsettled("the gains", figures.convergence);
  unsettled("the beam far from its axis", figures.beam_convergence);
}

/// Lowest, middle and highest, each once.
std::vector<double> drawn_frequencies(const WaveFigures& figures) {
  std::vector<double> all = figures.frequencies;
  std::sort(all.begin(), all.end());
  std::vector<double> drawn = {all.front(), figures.frequencies[figures.shown], all.back()};
  drawn.erase(std::unique(drawn.begin(), drawn.end()), drawn.end());
  return drawn;
}

void add_curve(const WaveQuestion& question, WaveFigures& figures) {
  const auto [lowest, highest] = std::minmax_element(figures.frequencies.begin(), figures.frequencies.end());
  constexpr double deep = 100, high = 20e3;
  constexpr int steps = 240;
  figures.curve_frequencies = frequency_steps(std::min(deep, *lowest), std::max(high, *highest), steps);
  WaveSetup setup = question.coarser(1e-3);
  setup.always = 20'000;  // 240 sums, for a chart
  const auto curve_at = [&](const std::vector<double>& frequencies) {
    return gain_curve(question.scene(), setup, question.source(), question.scene().targets.front().pose.at, frequencies);
  };
  figures.curve = curve_at(figures.curve_frequencies);
  figures.help = wave_help(figures.curve_frequencies, figures.curve.gains,
                           [&](double frequency) { return curve_at({frequency}).gains.front().gain; });
}

WaveFigures compute(const Scene& scene, WaveMaps maps, Watch& watch) {
  const bool whole = maps != WaveMaps::rough;
  WaveFigures figures;
  figures.radio = scene.radio.has_value();
  figures.sends = scene.sound && scene.sound->from == Sound::From::target;
  figures.frequencies = figures.radio ? scene.radio->frequencies : scene.sound->frequencies;
  figures.convergence.reached = figures.beam_convergence.reached = true;
  WaveQuestion question(scene, &watch);
  figures.speed = question.setup().speed;
  figures.feed_power = question.feed_power();
  figures.surface_rms = half_path_rms(scene.reflectors.front());
  for (const Target& target : scene.targets) figures.targets.push_back({target.name, {}});
  for (const double frequency : figures.frequencies) {
    question.set_frequency(frequency);
    for (std::size_t k = 0; k < scene.targets.size(); ++k)
      figures.targets[k].answers.push_back(wave_answer(question, k, figures.convergence, figures.beam_convergence));
    figures.details.push_back(whole ? detail_at(question, figures.targets.front().answers.back().gain) : WaveDetail{});
    if (scene.reflectors.front().wire_mesh) figures.mesh_leaks.push_back(question.mesh_leak(0));
    if (scene.sound && scene.sound->facing) figures.link_gains.push_back(facing_gain(question, figures.convergence));
    if (watch.stopped()) throw Interrupted();
  }
  // The middle one by size.
  std::vector<double> sorted = figures.frequencies;
  std::sort(sorted.begin(), sorted.end());
  const auto middle = std::find(figures.frequencies.begin(), figures.frequencies.end(), sorted[sorted.size() / 2]);
  figures.shown = static_cast<std::size_t>(middle - figures.frequencies.begin());
  if (!figures.radio && whole) add_curve(question, figures);
  if (whole) figures.patterns = wave_patterns(question, drawn_frequencies(figures), figures.beam_convergence);
  question.set_frequency(figures.frequencies[figures.shown]);
  if (maps != WaveMaps::none) {
    figures.map = wave_map(question, MapCut::focal, std::nullopt, maps);
    const auto& best = figures.details[figures.shown].best;
    figures.axial_map = wave_map(question, MapCut::axial, best ? std::optional(best->place) : std::nullopt, maps);
  }
  const double shown = figures.frequencies[figures.shown];
  const std::optional<double>& gain = figures.targets.front().answers[figures.shown].gain;
  if (scene.sound) figures.voice = voice_figures(question, gain, figures.convergence);
  if (scene.radio) figures.link = link_budget(*scene.radio, shown, gain);
  add_notes(question, figures);
  return figures;
}

}  // namespace

WaveFigures wave_figures(const Scene& scene, WaveMaps maps, int threads, Watch& watch) {
  if (!scene.is_wave()) throw InputError("the scene has no sound and no radio", "", "add a table [sound] or [radio]");
  WaveFigures figures;
  with_places(scene, [&] { on_threads(threads, [&] { figures = compute(scene, maps, watch); }); });
  return figures;
}

}  // namespace dishwright
