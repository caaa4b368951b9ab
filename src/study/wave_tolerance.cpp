// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "base/threads.h"
#include "scene/mirror_surface.h"
#include "study/deviation.h"
#include "study/tolerance.h"
#include "study/wave_answer.h"

namespace dishwright {

namespace {

constexpr int steps_outward = 24;
constexpr double nothing = -300;                            // [dB] where nothing arrives
constexpr double widest_aim = 60 * std::numbers::pi / 180;  // [rad]
constexpr double widest_focal_share = 0.4;                  // of the focal length
constexpr double own_waves = 6;                             // periods across the width, where the file has no waves

/// The scene at its highest frequency, its feed kept as it is.
Scene at_one_frequency(Scene scene, const Watch& watch) {
  auto& frequencies = scene.radio ? scene.radio->frequencies : scene.sound->frequencies;
  frequencies = {*std::max_element(frequencies.begin(), frequencies.end())};
  (scene.radio ? scene.radio->listed : scene.sound->listed) = false;
  if (scene.radio) scene.radio->feed_power = WaveQuestion(scene, &watch).feed_power();
  return scene;
}

/// Without flaws, aimed true, the target at the mirror's focus; sound from a place has its own focus, so there the target stays.
Scene true_dish(Scene scene, std::size_t target) {
  for (Reflector& mirror : scene.reflectors) mirror.flaws = {};
  (scene.radio ? scene.radio->aim_error : scene.sound->aim_error) = 0;
  const Reflector& mirror = scene.reflectors.front();
  const std::optional<Vector3> focus = own_focus(mirror.shape);
  const bool far = scene.radio || scene.sound->from != Sound::From::place;
  if (focus && far) scene.targets[target].pose.at = mirror.pose.at + mirror.pose.turn * *focus;
  return scene;
}

class WaveSearch {
 public:
  WaveSearch(const Scene& scene, std::size_t target, double loss, Watch& watch) : target_(target), watch_(watch) {
    out_.scene = at_one_frequency(scene, watch), out_.target = target, out_.wanted = loss;
    WaveQuestion question(out_.scene, &watch);
    question.hurry();
    WaveTolerance waves;
    waves.frequency = question.setup().frequency, waves.speed = question.setup().speed;
    waves.convergence.reached = true;
    now_ = wave_answer(question, target, waves.convergence, beams_);
    waves.gain = now_.gain;
    waves.true_gain = gain(true_dish(out_.scene, target));
    out_.waves = waves;
  }

  Tolerance run() {
    if (!now_.gain) return out_;
    find_bumps();
    find_waviness();
    if (out_.scene.radio || out_.scene.sound->from != Sound::From::place) find_aim();
    find_offsets();
    find_focal_length();
    return out_;
  }

 private:
  std::optional<double> gain(const Scene& scene) const {
    if (watch_.stop) throw Interrupted();
    WaveQuestion question(scene, &watch_);
    question.hurry();
    return question.gain(target_, scene.targets[target_].pose.at, question.toward());
  }

  void add(const char* key, const char* side, const char* unit, double end, const FigureAt& figure_at) {
    ToleranceLimit limit = limit_outward(key, side, end, steps_outward, *now_.gain - out_.wanted, figure_at);
    if (limit.limit) limit.limit->unit = unit, limit.limit->std_error.reset();
    out_.limits.push_back(std::move(limit));
  }
  void add_scenes(const char* key, const char* side, const char* unit, double end,
                  const std::function<std::optional<Scene>(double)>& make) {
    add(key, side, unit, end, [&](double at) -> std::optional<LimitPoint> {
      const auto scene = make(at);
      if (!scene) return std::nullopt;
      return LimitPoint{at, gain(*scene).value_or(nothing), 0};
    });
  }

  double wavelength() const { return out_.waves->wavelength(); }
  double rim() const { return rim_width(out_.scene.reflectors.front().shape); }
  /// How far a shift along the axis is looked at [m]: what matters is how it differs between the middle and the rim.
  double longest_shift() const {
    const double away = distance_to_target(out_.scene, target_);
    return std::min(0.6 * away, 4 * wavelength() * std::max(1.0, std::pow(2 * away / rim(), 2)));
  }

  /// Gain [dB] where the mirror's wave alone has `share` of its power left. Sound: the straight wave stays as it is, and from |1
  /// + a| and |a| follows |1 + s a|.
  double weakened_gain(double share) const {
    if (out_.scene.radio) return *now_.gain + 10 * std::log10(share);
    if (!now_.reflected_gain) return *now_.gain;
    const double both = std::pow(10, *now_.gain / 10), mirror = std::pow(10, *now_.reflected_gain / 10), s = std::sqrt(share);
    const double power = 1 + s * (both - 1 - mirror) + share * mirror;
    return power > 0 ? std::max(nothing, 10 * std::log10(power)) : nothing;
  }

  void find_bumps() {
    add("surface_rms", "", "m", wavelength() / 2, [&](double at) {
      return LimitPoint{at, weakened_gain(ruze_factor(at, wavelength())), 0};
    });
  }

  void find_waviness() {
    Reflector& mirror = out_.scene.reflectors.front();
    if (flawed_surface(mirror) == nullptr) return;
    const Waviness own = mirror.flaws.waviness.value_or(Waviness{0, rim() / own_waves, 0});
    add_scenes("waviness", "", "m", 2 * wavelength(), [&](double at) {
      Scene made = out_.scene;
      made.reflectors.front().flaws.waviness = own;
      made.reflectors.front().flaws.waviness->amplitude = at;
      if (at == 0) made.reflectors.front().flaws.waviness.reset();
      return sensible(made);
    });
  }

  void find_aim() {
    add_scenes("aim_error", "", "rad", std::min(widest_aim, 6 * wavelength() / rim()), [&](double at) {
      Scene made = out_.scene;
      (made.radio ? made.radio->aim_error : made.sound->aim_error) = at;
      return std::optional(made);
    });
  }

  void find_offsets() {
    const double across = std::min(rim() / 3, longest_shift());
    for (const OffsetSide& side : offset_sides()) {
      add_scenes(side.key, side.name, "m", side.way.z() != 0 ? longest_shift() : across,
                 [&](double at) { return sensible(shifted(out_.scene, target_, at * side.way)); });
    }
  }

  void find_focal_length() {
    if (ReflectorShape shape = out_.scene.reflectors.front().shape; !scale_focal_length(shape, 1)) return;
    const double end = std::min(widest_focal_share, longest_shift() / distance_to_target(out_.scene, target_));
    for (const double way : {1.0, -1.0}) {
      add_scenes("focal_length_error", way > 0 ? "longer" : "shorter", "1", end, [&](double at) {
        Scene made = out_.scene;
        scale_focal_length(made.reflectors.front().shape, 1 + way * at);
        return sensible(made);
      });
    }
  }

  Tolerance out_;
  std::size_t target_;
  WaveAnswer now_;
  Convergence beams_;
  Watch& watch_;
};

}  // namespace

Tolerance find_wave_tolerance(const Scene& scene, std::size_t target, double loss, int threads, Watch& watch) {
  Tolerance out;
  with_places(scene, [&] { on_threads(threads, [&] { out = WaveSearch(scene, target, loss, watch).run(); }); });
  return out;
}

}  // namespace dishwright
