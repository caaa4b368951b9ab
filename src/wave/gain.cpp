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

namespace {

constexpr int most_first_steps = 60;  // of the first grid, to each side
constexpr std::size_t followed = 8;   // highest places of it that are refined

/// A grid of places in a box's own axes, `count` steps to each side of its middle.
struct Grid {
  Eigen::Array3i count;
  Vector3 step;
  Eigen::Array3i sides() const { return 2 * count + 1; }
  std::size_t size() const { return static_cast<std::size_t>(sides().prod()); }
  std::size_t number(int a, int b, int c) const {
    const Eigen::Array3i n = sides();
    return static_cast<std::size_t>(((a + count[0]) * n[1] + b + count[1]) * n[2] + c + count[2]);
  }
  Vector3 place(int a, int b, int c) const { return {a * step[0], b * step[1], c * step[2]}; }
};

Grid first_grid(const SearchBox& box, double wavelength) {
  Grid grid;
  for (int axis = 0; axis < 3; ++axis) {
    const double wanted = axis == 2      ? (box.step_along > 0 ? box.step_along : wavelength / 12)
                          : box.step > 0 ? box.step
                                         : wavelength / 6;
    grid.count[axis] = std::clamp(static_cast<int>(std::ceil(box.half / wanted)), 3, most_first_steps);
    grid.step[axis] = box.half / grid.count[axis];
  }
  return grid;
}

/// Places of a grid that no neighbour surpasses, the highest first; `followed` at most.
std::vector<Vector3> hills(const Grid& grid, const std::vector<double>& level) {
  const auto surpassed = [&](int a, int b, int c) {
    const double own = level[grid.number(a, b, c)];
    for (int i = std::max(a - 1, -grid.count[0]); i <= std::min(a + 1, grid.count[0]); ++i) {
      for (int j = std::max(b - 1, -grid.count[1]); j <= std::min(b + 1, grid.count[1]); ++j) {
        for (int k = std::max(c - 1, -grid.count[2]); k <= std::min(c + 1, grid.count[2]); ++k)
          if (level[grid.number(i, j, k)] > own) return true;
      }
    }
    return false;
  };
  std::vector<std::pair<double, Vector3>> found;
  for (int a = -grid.count[0]; a <= grid.count[0]; ++a) {
    for (int b = -grid.count[1]; b <= grid.count[1]; ++b) {
      for (int c = -grid.count[2]; c <= grid.count[2]; ++c)
        if (!surpassed(a, b, c)) found.emplace_back(level[grid.number(a, b, c)], grid.place(a, b, c));
    }
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  found.resize(std::min(found.size(), followed));
  std::vector<Vector3> places;
  places.reserve(found.size());
  for (const auto& [height, place] : found) places.push_back(place);
  return places;
}

}  // namespace

BestReceiverPlace best_receiver_place(const Scene& scene, const WaveSetup& setup, const WaveSource& source, const SearchBox& box,
                                      bool with_direct) {
  check_waves(scene, setup);
  const auto in_frame = [&](const Vector3& own) { return Vector3(box.middle + box.axes * own); };
  // Samples good for the whole box.
  std::vector<Vector3> outer = {box.middle};
  for (int axis = 0; axis < 3; ++axis) {
    for (const double sign : {-1.0, 1.0}) outer.push_back(in_frame(sign * box.half * Vector3::Unit(axis)));
  }
  const Refined settled = settled_at(scene, mirror_patches(scene), setup, source, outer);
  const WaveTerms terms = arriving(settled.samples, setup, source);
  const auto strength = [&](std::vector<Vector3> places) {
    for (Vector3& place : places) place = in_frame(place);
    const std::vector<Complex> sums = sums_at_places(terms, places, setup);
    std::vector<double> all;
    all.reserve(places.size());
    for (std::size_t k = 0; k < places.size(); ++k) {
      const Complex direct = direct_wave(setup, source, places[k]);
      all.push_back(std::abs(with_direct ? sums[k] + direct : sums[k]) / std::abs(direct));
    }
    return all;
  };
  // A grid over the box.
  const Grid grid = first_grid(box, setup.wavelength());
  std::vector<Vector3> places(grid.size());
  for (int a = -grid.count[0]; a <= grid.count[0]; ++a) {
    for (int b = -grid.count[1]; b <= grid.count[1]; ++b) {
      for (int c = -grid.count[2]; c <= grid.count[2]; ++c) places[grid.number(a, b, c)] = grid.place(a, b, c);
    }
  }
  // Ever finer grids about each of its hills.
  Vector3 best = Vector3::Zero();
  double highest = -1;
  for (Vector3 top : hills(grid, strength(places))) {
    double level = -1;
    for (Vector3 step = grid.step / 2.5; step.maxCoeff() > 1e-4 * std::min(box.half, setup.wavelength()); step /= 2.5) {
      std::vector<Vector3> near = {top};
      for (int number = 0; number < 125; ++number) {
        const int a = number % 5 - 2, b = number / 5 % 5 - 2, c = number / 25 - 2;
        const Vector3 place = top + step.cwiseProduct(Vector3(a, b, c));
        near.push_back(place.cwiseMax(-box.half).cwiseMin(box.half));
      }
      const std::vector<double> all = strength(near);
      const auto largest = std::max_element(all.begin(), all.end());
      level = *largest, top = near[static_cast<std::size_t>(largest - all.begin())];
    }
    if (level > highest) highest = level, best = top;
  }
  const Vector3 place = in_frame(best);
  return {place, wave_gain(exact_at_place(terms, place), direct_wave(setup, source, place)),
          best.cwiseAbs().maxCoeff() > 0.99 * box.half};
}

}  // namespace dishwright
