// SPDX-License-Identifier: MIT
#include "wave/radio.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "wave/settle.h"
#include "wave/sum.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

/// The sums over the mirrors that the factors are made of.
struct FeedSums {
  double caught = 0;     // ∫ gain · solid angle / 4π
  double amplitude = 0;  // ∫ |u| dA
  double power = 0;      // ∫ |u|² over the area as the feed sees it
  double reflected_amplitude = 0;
};

FeedSums feed_sums(const WaveSamples& samples, const WaveSetup& setup, const Feed& feed, const Vector3& toward) {
  FeedSums sums;
  for (std::size_t j = 0; j < samples.count(); ++j) {
    const Vector3 to_feed = feed.place - samples.place(j);
    const double squared = to_feed.squaredNorm(), gain = feed.gain(-to_feed), u = std::sqrt(gain / squared);
    const double seen = std::abs(samples.normal(j).dot(to_feed)) / std::sqrt(squared) * samples.area[j];
    const auto reflector = static_cast<std::size_t>(samples.reflector[j]);
    const double root = reflector < setup.reflectance.size() ? std::sqrt(setup.reflectance[reflector]) : 1;
    const double from_afar = std::abs(samples.normal(j).dot(toward)) * samples.area[j];
    sums.power += u * u * seen;
    sums.amplitude += u * from_afar;
    sums.reflected_amplitude += root * u * from_afar;
  }
  sums.caught = sums.power / (4 * pi);
  return sums;
}

/// Middle and edges of a mirror in the frame: rim points of its own shape.
std::vector<Vector3> rim_points(const Reflector& reflector) {
  std::vector<Vector3> points;
  for (const MirrorPatch& own : shape_patches(reflector.shape)) {
    const MirrorPatch patch = placed(own, reflector.pose, 0);
    const int n = own.closed ? 64 : 8;
    for (int k = 0; k <= n; ++k) {
      const double v = static_cast<double>(k) / n;
      points.push_back(patch.at(1, v).place);
      if (own.closed) continue;
      points.push_back(patch.at(0, v).place);
      points.push_back(patch.at(v, 0).place);
      points.push_back(patch.at(v, 1).place);
    }
  }
  return points;
}

}  // namespace

Vector3 feed_axis(const Reflector& reflector, const Vector3& place) {
  const auto* offset = std::get_if<OffsetParaboloid>(&reflector.shape);
  if (offset == nullptr) return (reflector.pose.at - place).normalized();
  const auto edge = [&](double y) -> Vector3 {
    const Vector3 own(0, y, y * y / (4 * offset->focal_length));
    return (reflector.pose.turn * own + reflector.pose.at - place).normalized();
  };
  return (edge(offset->clearance) + edge(offset->clearance + offset->width)).normalized();
}

double rim_angle_from(const Reflector& reflector, const Vector3& place) {
  const Vector3 axis = feed_axis(reflector, place);
  double largest = 0;
  for (const Vector3& point : rim_points(reflector))
    largest = std::max(largest, std::acos(std::clamp((point - place).normalized().dot(axis), -1.0, 1.0)));
  return largest;
}

double feed_power_for_taper(const Reflector& reflector, const Vector3& place, double taper) {
  const double rim = rim_angle_from(reflector, place);
  constexpr double degree = pi / 180;
  if (rim > 89 * degree) {
    throw InputError(fmt::format("the feed sees the rim of {} {:.1f}° off its axis", reflector.name, rim / degree),
                     "a cosine feed sends nothing to 90° and beyond, so it has no level at this rim",
                     "use feed = { kind = \"cosine\", power = n }, or a longer focal length", "radio.feed");
  }
  return taper / (10 * std::log10(std::cos(rim)));
}

RadioFigures radio_figures(const Scene& scene, const WaveSetup& setup, const Feed& feed, const Vector3& toward) {
  check_waves(scene, setup);
  const std::vector<MirrorPatch> patches = mirror_patches(scene);
  const WaveSource source = WaveSource::from_point(feed.place);
  const auto witnesses = [&](const WaveSamples& samples) {
    const FeedSums sums = feed_sums(samples, setup, feed, toward);
    const double scale = setup.wavelength();
    return std::vector<Complex>{exact_toward(arriving(samples, setup, source, &feed), toward), sums.amplitude / scale,
                                sums.caught * sums.amplitude / scale};
  };
  WaveTask task{{source}, {WaveSource::from_far(toward)}, {}, 0};
  const Settled open = settle(patches, setup, task, witnesses);
  const FeedSums sums = feed_sums(open.samples, setup, feed, toward);
  const double unblocked = std::abs(exact_toward(arriving(open.samples, setup, source, &feed), toward));
  double field = unblocked;
  RadioFigures figures;
  figures.convergence = open.convergence;
  if (setup.targets_shade && !scene.targets.empty()) {
    task.blocked = blocked_by_targets(scene, toward);
    const Settled shaded = settle(patches, setup, task, witnesses);
    field = std::abs(exact_toward(arriving(shaded.samples, setup, source, &feed), toward));
    figures.convergence.change = std::max(open.convergence.change, shaded.convergence.change);
    figures.convergence.reached = open.convergence.reached && shaded.convergence.reached;
  }
  const double width = rim_width(scene.reflectors.front().shape), aperture = pi * width * width / 4;
  const double gain = field * field;
  const auto share = [](double part, double whole) { return whole > 0 ? part / whole : 0; };
  const double spread = setup.wavelength() * unblocked;  // |∫ u e^(i phase) √reflectance dA|
  figures.gain_dbi = 10 * std::log10(gain);
  figures.aperture_efficiency = gain * setup.wavelength() * setup.wavelength() / (4 * pi * aperture);
  figures.spillover = sums.caught;
  figures.taper = share(sums.amplitude * sums.amplitude, aperture * sums.power);
  figures.phase = share(spread * spread, sums.reflected_amplitude * sums.reflected_amplitude);
  figures.blockage = share(gain, unblocked * unblocked);
  figures.reflection = std::pow(share(sums.reflected_amplitude, sums.amplitude), 2);
  return figures;
}

double ruze_factor(double half_path_rms, double wavelength) {
  return std::exp(-std::pow(4 * pi * half_path_rms / wavelength, 2));
}

double ruze_factor_with_halo(double half_path_rms, double wavelength, double correlation, double width) {
  const double square = std::pow(4 * pi * half_path_rms / wavelength, 2);
  double sum = 0, term = 1;
  for (int m = 1; m <= 500 && (term > 1e-18 || m < square + 2); ++m) {
    term *= square / m;
    sum += term / m;
  }
  return std::exp(-square) * (1 + std::pow(2 * correlation / width, 2) * sum);
}

double ruze_limit(double loss_db, double wavelength) { return wavelength / (4 * pi) * std::sqrt(loss_db * std::log(10.0) / 10); }

double mesh_leakage(double pitch, double wire, double wavelength) {
  const double reactance = pitch / wavelength * std::max(0.0, std::log(pitch / (pi * wire))), square = 4 * reactance * reactance;
  return square / (1 + square);
}

}  // namespace dishwright
