// SPDX-License-Identifier: MIT
#include "wave/radio.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "scene/mirror_surface.h"
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

/// Of one mirror's outline, seen along its own axis, its hole counted [m²]: of a round dish π width²/4, of a rectangle width ·
/// length; more where the surface itself has more, as tiles that stand out over the rim, or is a mesh.
double outline_area(const Reflector& mirror) {
  constexpr double rounding = 1e-6;
  const std::vector<MirrorPatch> patches = shape_patches(mirror.shape);
  const int steps = patches.size() > 16 ? 1 : 16;
  double seen = 0;
  for (const MirrorPatch& patch : patches) {
    const int n = patch.triangle ? 1 : steps;
    for (int k = 0; k < n * n; ++k) {
      const int row = k / n, column = k % n;
      const MirrorPoint point = patch.at((row + 0.5) / n, (column + 0.5) / n);
      seen += std::abs(point.normal.z()) * point.area / (n * n);
    }
  }
  if (in_flat_pieces(mirror.shape) && patches.front().triangle) return seen;
  const PlanOutline plan = plan_of(mirror.shape);
  const double wide = plan.high_x() - plan.low_x(),
               outline = plan.round ? pi * wide * wide / 4 : wide * (plan.high_y() - plan.low_y());
  return seen > outline * (1 + rounding) ? seen : outline;
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

double rim_angle_from(const Reflector& reflector, const Vector3& place) {
  const Vector3 axis = feed_axis(reflector, place);
  double largest = 0;
  for (const Vector3& point : rim_points(reflector)) {
    const Vector3 way = point - place;
    largest = std::max(largest, std::atan2(way.cross(axis).norm(), way.dot(axis)));  // acos would lose a narrow angle in rounding
  }
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
  // cos of a very narrow rim is 1 to rounding; its logarithm is not 0.
  return taper / (5 / std::log(10.0) * std::log1p(-std::pow(std::sin(rim), 2)));
}

namespace {

/// The sums of one answer: of the whole mirror, and of what no target blocks.
struct FeedAnswer {
  FeedSums whole, free;
  double field = 0;  // R·amplitude far away, of the free part
};

/// The figures from their sums, each bounded as radio.h says.
void set_shares(RadioFigures& figures, const FeedAnswer& answer, double aperture, double wavelength) {
  const auto share = [](double part, double whole) { return whole > 0 ? part / whole : 0; };
  const FeedSums &whole = answer.whole, &free = answer.free;
  const double even = share(whole.amplitude * whole.amplitude, aperture * std::min(whole.power, 4 * pi));
  const double spread = wavelength * answer.field;  // |∫ u e^(i phase) √reflectance dA| of the free part
  const double in_step = share(spread * spread, free.reflected_amplitude * free.reflected_amplitude) * std::max(1.0, even);
  figures.beyond = std::max(1.0, in_step);
  const double gain = answer.field * answer.field / figures.beyond;
  figures.gain_dbi = 10 * std::log10(gain);
  figures.aperture_efficiency = gain * wavelength * wavelength / (4 * pi * aperture);
  figures.counted = whole.caught;
  figures.spillover = std::min(1.0, whole.caught);
  figures.taper = std::min(1.0, even);
  figures.phase = std::min(1.0, in_step);
  figures.blockage = std::min(1.0, std::pow(share(free.reflected_amplitude, whole.reflected_amplitude), 2));
  figures.reflection = std::min(1.0, std::pow(share(whole.reflected_amplitude, whole.amplitude), 2));
}

}  // namespace

RadioFigures radio_figures(const Scene& scene, const WaveSetup& setup, const Feed& feed, const Vector3& toward) {
  check_waves(scene, setup);
  const std::vector<MirrorPatch> patches = mirror_patches(scene);
  const WaveSource source = WaveSource::from_point(feed.place);
  const auto field_of = [&](const WaveSamples& samples) { return exact_toward(arriving(samples, setup, source, &feed), toward); };
  const auto probes = [&](const WaveSamples& samples) {
    const FeedSums sums = feed_sums(samples, setup, feed, toward);
    const double scale = setup.wavelength();
    return std::vector<Complex>{field_of(samples), sums.amplitude / scale, sums.caught * sums.amplitude / scale};
  };
  // Without anything in the way.
  WaveTask task{{source}, {WaveSource::from_far(toward)}, {}, 0};
  const Refined open = settle(patches, setup, task, probes);
  RadioFigures figures;
  figures.convergence = open.convergence;
  FeedAnswer answer;
  answer.whole = answer.free = feed_sums(open.samples, setup, feed, toward);
  const bool shaded = setup.targets_shade && std::any_of(scene.targets.begin(), scene.targets.end(), [](const Target& target) {
                        return target.shades && !is_point(target.shape);
                      });
  if (shaded) {
    // Once more with the targets' shadows on the mirror.
    task.blocked = blocked_by_targets(scene, toward);
    const Refined free = settle(patches, setup, task, probes);
    answer.free = feed_sums(free.samples, setup, feed, toward);
    answer.field = std::abs(field_of(free.samples));
    figures.convergence.change = std::max(open.convergence.change, free.convergence.change);
    figures.convergence.reached = open.convergence.reached && free.convergence.reached;
  } else {
    answer.field = std::abs(field_of(open.samples));
  }
  // Shares of the aperture.
  double aperture = 0;
  for (const Reflector& mirror : scene.reflectors) aperture += outline_area(mirror);
  set_shares(figures, answer, aperture, setup.wavelength());
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
