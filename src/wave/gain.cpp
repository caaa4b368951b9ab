// SPDX-License-Identifier: MIT
#include "wave/gain.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "wave/settle.h"
#include "wave/sum.h"

namespace dishwright {

namespace {

Complex direct_wave(const WaveSetup& setup, const WaveSource& source, const Vector3& place) {
  const double way = way_to(source, place), turns = way / setup.wavelength();
  const double amplitude = source.kind == WaveSource::Kind::far ? 1 : 1 / way;
  return std::polar(amplitude, 2 * std::numbers::pi * (turns - std::round(turns)));
}

std::vector<WaveSource> as_ends(const std::vector<Vector3>& places) {
  std::vector<WaveSource> ends;
  ends.reserve(places.size());
  for (const Vector3& place : places) ends.push_back(WaveSource::from_point(place));
  return ends;
}

double decibels(double amplitude) { return 20 * std::log10(amplitude); }

WaveTask task_for(const Scene& scene, const WaveSetup& setup, const WaveSource& source, const std::vector<Vector3>& few) {
  WaveTask task{{source}, as_ends(few), {}, 0};
  if (setup.targets_shade && source.kind == WaveSource::Kind::far) task.blocked = blocked_by_targets(scene, source.direction);
  return task;
}

Refined settled_at(const Scene& scene, const std::vector<MirrorPatch>& patches, const WaveSetup& setup, const WaveSource& source,
                   const std::vector<Vector3>& places) {
  const std::vector<Vector3> few = few_of(places);
  WaveTask task = task_for(scene, setup, source, few);
  task.result_bytes = places.size() * 3 * sizeof(Complex);
  return settle(patches, setup, task, [&](const WaveSamples& samples) {
    const WaveTerms terms = arriving(samples, setup, source);
    std::vector<Complex> values;
    values.reserve(few.size());
    for (const Vector3& place : few) values.push_back(exact_at_place(terms, place));
    return values;
  });
}

}  // namespace

WaveField wave_field(const Scene& scene, const WaveSetup& setup, const WaveSource& source, const std::vector<Vector3>& places) {
  check_waves(scene, setup);
  const Refined settled = settled_at(scene, mirror_patches(scene), setup, source, places);
  const WaveTerms terms = arriving(settled.samples, setup, source);
  WaveField field{{}, {}, settled.convergence};
  if (places.size() < 8) {
    for (const Vector3& place : places) field.reflected.push_back(exact_at_place(terms, place));
  } else {
    field.reflected = sums_at_places(terms, places, setup);
  }
  for (const Vector3& place : places) field.direct.push_back(direct_wave(setup, source, place));
  return field;
}

WaveGain wave_gain(Complex reflected, Complex direct) {
  return {decibels(std::abs(reflected) / std::abs(direct)), decibels(std::abs(reflected + direct) / std::abs(direct))};
}

std::vector<Vector3> MapPlane::places() const {
  constexpr double most = 4e6;
  if (static_cast<double>(columns) * rows > most) {
    throw InputError(fmt::format("a map of {} × {} places", columns, rows),
                     fmt::format("at most {:g} places fit the memory", most), "take fewer columns and rows");
  }
  std::vector<Vector3> all;
  all.reserve(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      all.push_back(middle + half_width * ((2 * column + 1.0) / columns - 1) * across +
                    half_height * ((2 * row + 1.0) / rows - 1) * up);
    }
  }
  return all;
}

std::vector<Vector3> line_places(const Vector3& middle, const Vector3& along, double half, int count) {
  std::vector<Vector3> all;
  all.reserve(static_cast<std::size_t>(count));
  for (int k = 0; k < count; ++k) all.push_back(middle + half * (count > 1 ? 2.0 * k / (count - 1) - 1 : 0) * along);
  return all;
}

GainCurve gain_curve(const Scene& scene, WaveSetup setup, const WaveSource& source, const Vector3& place,
                     const std::vector<double>& frequencies) {
  GainCurve curve;
  curve.convergence.reached = true;
  const std::vector<MirrorPatch> patches = mirror_patches(scene);
  curve.gains.reserve(frequencies.size());
  for (const double frequency : frequencies) {
    setup.frequency = frequency;
    check_waves(scene, setup);
    const Refined settled = settled_at(scene, patches, setup, source, {place});
    const Complex reflected = exact_at_place(arriving(settled.samples, setup, source), place);
    curve.gains.push_back(wave_gain(reflected, direct_wave(setup, source, place)));
    Convergence& worst = curve.convergence;
    worst.points = std::max(worst.points, settled.convergence.points);
    worst.change = std::max(worst.change, settled.convergence.change);
    worst.reached = worst.reached && settled.convergence.reached;
  }
  // The first crossing of 0 dB from below.
  for (std::size_t k = 1; k < frequencies.size() && !curve.stops_helping; ++k) {
    const double below = curve.gains[k - 1].reflected_gain, above = curve.gains[k].reflected_gain;
    if (!(below < 0 && above >= 0)) continue;
    const double share = std::isfinite(below) ? -below / (above - below) : 1;
    curve.stops_helping = frequencies[k - 1] * std::pow(frequencies[k] / frequencies[k - 1], share);
  }
  return curve;
}

std::vector<double> frequency_steps(double from, double to, int count) {
  std::vector<double> all;
  all.reserve(static_cast<std::size_t>(count));
  for (int k = 0; k < count; ++k)
    all.push_back(count > 1 ? from * std::pow(to / from, static_cast<double>(k) / (count - 1)) : from);
  return all;
}

BestReceiverPlace best_receiver_place(const Scene& scene, const WaveSetup& setup, const WaveSource& source, const Vector3& start,
                                      double reach, bool with_direct) {
  check_waves(scene, setup);
  // Samples good for the whole ball; then a grid of places, and ever finer grids about the best.
  std::vector<Vector3> outer = {start};
  for (int axis = 0; axis < 3; ++axis) {
    for (const double sign : {-1.0, 1.0}) outer.push_back(start + sign * reach * Vector3::Unit(axis));
  }
  const Refined settled = settled_at(scene, mirror_patches(scene), setup, source, outer);
  const WaveTerms terms = arriving(settled.samples, setup, source);
  const auto strength = [&](const std::vector<Vector3>& places) {
    std::vector<Complex> sums = sums_at_places(terms, places, setup);
    std::vector<double> all;
    for (std::size_t k = 0; k < places.size(); ++k) {
      const Complex direct = direct_wave(setup, source, places[k]);
      all.push_back(std::abs(with_direct ? sums[k] + direct : sums[k]) / std::abs(direct));
    }
    return all;
  };
  const int first = std::clamp(static_cast<int>(std::ceil(reach / (setup.wavelength() / 6))), 3, 12);
  Vector3 best = start;
  double step = reach / first;
  for (int half = first; step > 1e-4 * std::min(reach, setup.wavelength()); half = 2) {
    std::vector<Vector3> places = {best};
    for (int a = -half; a <= half; ++a) {
      for (int b = -half; b <= half; ++b) {
        for (int c = -half; c <= half; ++c) {
          const Vector3 place = best + step * Vector3(a, b, c);
          if ((place - start).norm() <= reach) places.push_back(place);
        }
      }
    }
    const std::vector<double> all = strength(places);
    best = places[static_cast<std::size_t>(std::max_element(all.begin(), all.end()) - all.begin())];
    step /= 2.5;
  }
  return {best, wave_gain(exact_at_place(terms, best), direct_wave(setup, source, best)), (best - start).norm() > 0.99 * reach};
}

}  // namespace dishwright
