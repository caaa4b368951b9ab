// SPDX-License-Identifier: MIT
#include "study/wave_question.h"

#include <algorithm>
#include <cmath>

#include "base/error.h"
#include "wave/air.h"
#include "wave/settle.h"

namespace dishwright {

std::optional<double> finite(double level) { return std::isfinite(level) ? std::optional(level) : std::nullopt; }

namespace {

/// n by the feed's level at the rim as the mirror's own focus sees it; where there is no focus, as the target does.
double power_of_feed(const Scene& scene) {
  if (scene.radio->feed_power) return *scene.radio->feed_power;
  const Reflector& mirror = scene.reflectors.front();
  const std::optional<Vector3> own = own_focus(mirror.shape);
  const Vector3 focus = own ? Vector3(mirror.pose.at + mirror.pose.turn * *own) : scene.targets.front().pose.at;
  return feed_power_for_taper(mirror, focus, scene.radio->edge_taper);
}

double leak_of(const Reflector& mirror, double wavelength) {
  return mirror.wire_mesh ? mesh_leakage(mirror.wire_mesh->pitch, mirror.wire_mesh->wire, wavelength) : 0;
}

}  // namespace

double WaveQuestion::mesh_leak(std::size_t reflector) const { return leak_of(scene_.reflectors[reflector], setup_.wavelength()); }

void check_wave_limits(const Scene& scene) {
  with_places(scene, [&] {
    const auto& frequencies = scene.radio ? scene.radio->frequencies : scene.sound->frequencies;
    const WaveQuestion question(scene, nullptr);
    WaveTask task{{WaveSource::from_far(question.toward())}, {}, {}, 0};
    if (!scene.radio) task.sources = {question.source()};
    for (const Target& target : scene.targets) task.ends.push_back(WaveSource::from_point(target.pose.at));
    first_points(mirror_patches(scene), question.setup_at(*std::max_element(frequencies.begin(), frequencies.end())), task);
  });
}

WaveQuestion::WaveQuestion(const Scene& scene, const Watch* watch) : scene_(scene) {
  setup_.frequency_key = scene.radio ? "radio.frequency" : "sound.frequency";
  setup_.watch = watch;
  if (scene.radio) {
    setup_.frequency = scene.radio->frequencies.front();
    setup_.speed = light_speed;
    setup_.targets_shade = true;
    feed_power_ = power_of_feed(scene);
  } else {
    setup_.frequency = scene.sound->frequencies.front();
    setup_.speed = scene.sound->speed.value_or(sound_speed(scene.sound->air.temperature));
  }
  set_frequency(setup_.frequency);
}

WaveSetup WaveQuestion::setup_at(double frequency) const {
  WaveSetup setup = setup_;
  setup.frequency = frequency;
  setup.reflectance.clear();
  for (const Reflector& mirror : scene_.reflectors)
    setup.reflectance.push_back(mirror.wave_reflectance * (1 - leak_of(mirror, setup.wavelength())));
  return setup;
}

WaveSetup WaveQuestion::coarser(double tolerance) const {
  WaveSetup setup = setup_;
  setup.tolerance = tolerance;
  setup.patience = 6.5, setup.always = 40'000;
  return setup;
}

void WaveQuestion::hurry() { setup_.tolerance = 3e-4, setup_.patience = 6.5, setup_.always = 20'000; }

Vector3 WaveQuestion::toward(double turned) const { return far_direction(aim_error() + turned, aim_direction()); }

Vector3 WaveQuestion::side() const { return {std::cos(aim_direction()), std::sin(aim_direction()), 0}; }

WaveSource WaveQuestion::source() const {
  const bool from_place = scene_.sound && scene_.sound->from == Sound::From::place;
  return from_place ? WaveSource::from_point(scene_.sound->place) : WaveSource::from_far(toward());
}

HeardLevels WaveQuestion::levels(std::size_t index, const Vector3& place, const Vector3& toward) const {
  if (scene_.sound->from == Sound::From::target && index == 0) {
    const Pattern sent = sending_pattern(scene_, setup_, place, {toward, side()}, {0});
    return {wave_gain(sent.reflected.front(), sent.direct.front()), sent.convergence};
  }
  WaveSource source = WaveSource::from_far(toward);
  if (scene_.sound->from == Sound::From::place) source = WaveSource::from_point(scene_.sound->place);
  if (scene_.sound->from == Sound::From::target) source = WaveSource::from_point(scene_.targets.front().pose.at);
  const WaveField field = wave_field(scene_, setup_, source, {place});
  return {wave_gain(field.reflected.front(), field.direct.front()), field.convergence};
}

std::optional<double> WaveQuestion::gain(std::size_t index, const Vector3& place, const Vector3& toward) const {
  return finite(scene_.radio ? radio_at(place, toward).gain_dbi : levels(index, place, toward).gain.gain);
}

Feed WaveQuestion::feed_at(const Vector3& place) const {
  return {place, feed_axis(scene_.reflectors.front(), place), feed_power_};
}

RadioFigures WaveQuestion::radio_at(const Vector3& place, const Vector3& toward) const {
  return radio_figures(scene_, setup_, feed_at(place), toward);
}

Beam WaveQuestion::beam(const Vector3& place) const {
  const WaveSetup setup = coarser(3e-3);
  return scene_.radio ? sending_beam(scene_, setup, feed_at(place), cut()) : listening_beam(scene_, setup, place, cut());
}

}  // namespace dishwright
