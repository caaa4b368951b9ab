// SPDX-License-Identifier: MIT
#include "wave/link.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "wave/settle.h"
#include "wave/sum.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

/// The first mirror's wave at each sample of the second, then heard at the microphone. The phase goes into complex weights.
Complex second_sum(const WaveSamples& second, const WaveSetup& setup, const std::vector<Complex>& arriving_there,
                   const Vector3& microphone) {
  const WaveTerms heard = heard_at(second, setup, microphone);
  Complex sum = 0;
  for (std::size_t j = 0; j < second.count(); ++j)
    sum += heard.amplitude[j] * arriving_there[j] * std::polar(1.0, heard.wave_number * heard.way[j]);
  return Complex(0, -heard.wave_number / (2 * pi)) * sum;
}

std::vector<Vector3> places_of(const WaveSamples& samples) {
  std::vector<Vector3> places;
  for (std::size_t j = 0; j < samples.count(); ++j) places.push_back(samples.place(j));
  return places;
}

}  // namespace

TwoDishLink two_dish_link(const Scene& scene, const WaveSetup& setup, const Vector3& speaker, int first_reflector,
                          const Vector3& microphone, int second_reflector) {
  check_waves(scene, setup);
  std::vector<MirrorPatch> first_patches, second_patches;
  for (MirrorPatch& patch : mirror_patches(scene)) {
    if (patch.reflector == first_reflector) first_patches.push_back(patch);
    if (patch.reflector == second_reflector) second_patches.push_back(std::move(patch));
  }
  const WaveSource source = WaveSource::from_point(speaker), other = WaveSource::from_point(microphone);
  // The second mirror, as it would be asked by a wave straight from the first one's vertex; the first, toward places of the
  // second.
  const Vector3 first_place = scene.reflectors[static_cast<std::size_t>(first_reflector)].pose.at;
  const WaveTask near_microphone{
      {WaveSource::from_point(first_place), WaveSource::from_far((first_place - microphone).normalized())}, {other}, {}, 0};
  const Refined second = settle(second_patches, setup, near_microphone, [&](const WaveSamples& samples) {
    const WaveTerms heard = heard_at(samples, setup, microphone);
    return std::vector<Complex>{exact_from(heard, (first_place - microphone).normalized())};
  });
  const std::vector<Vector3> there = places_of(second.samples), few = few_of(there);
  WaveTask between{{source}, {}, {}, there.size() * sizeof(Complex)};
  for (const Vector3& place : few) between.ends.push_back(WaveSource::from_point(place));
  const Refined first = settle(first_patches, setup, between, [&](const WaveSamples& samples) {
    const WaveTerms terms = arriving(samples, setup, source);
    std::vector<Complex> values;
    values.reserve(few.size());
    for (const Vector3& place : few) values.push_back(exact_at_place(terms, place));
    return values;
  });
  const WaveTerms sent = arriving(first.samples, setup, source);
  std::vector<Complex> wave = sums_at_places(sent, there, setup);
  // The wave comes from the first mirror: on which side of the second it arrives.
  for (std::size_t j = 0; j < wave.size(); ++j) {
    if (second.samples.normal(j).dot(first_place - there[j]) < 0) wave[j] = -wave[j];
  }
  const double straight = 1 / (microphone - speaker).norm();
  TwoDishLink link;
  link.gain = 20 * std::log10(std::abs(second_sum(second.samples, setup, wave, microphone)) / straight);
  link.first_gain = 20 * std::log10(std::abs(exact_at_place(sent, microphone)) / straight);
  link.convergence.points = first.convergence.points + second.convergence.points;
  link.convergence.change = std::max(first.convergence.change, second.convergence.change);
  link.convergence.reached = first.convergence.reached && second.convergence.reached;
  return link;
}

double free_space_loss(double distance, double wavelength) { return 20 * std::log10(4 * pi * distance / wavelength); }

double LinkBudget::received_power() const {
  return transmit_power + transmit_gain + receive_gain - free_space_loss(distance, wavelength) - other_losses;
}

double link_reach(const LinkBudget& budget) { return budget.distance * std::pow(10, budget.margin() / 20); }

}  // namespace dishwright
