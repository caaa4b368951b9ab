// SPDX-License-Identifier: MIT
#include "study/best_place.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <vector>

#include "study/caught_share.h"

namespace dishwright {

namespace {

constexpr std::uint64_t search_paths = 1U << 17U;
constexpr int first_grid = 33, next_grid = 17, most_grids = 5;
constexpr std::size_t level_points = 5;  // of a grid that are alike: it has come down to the noise
constexpr double least_step = 1.0 / 2000;
constexpr double least_loss = 1e-6;  // of the share: the random numbers have 24 bits

struct Sample {
  double place;
  Estimate share;
};

/// The samples about the best one that are not worse beyond the noise: [first, last].
struct Level {
  std::size_t best, first, last;
  std::size_t count() const { return last - first + 1; }
};

Level level_of(const std::vector<Sample>& samples) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    if (samples[i].share.value > samples[best].share.value) best = i;
  }
  const auto alike = [&](std::size_t i) {
    const Estimate loss = difference(samples[best].share, samples[i].share);
    return loss.value <= std::max(2 * loss.std_error.value_or(0), least_loss);
  };
  Level level{best, best, best};
  while (level.first > 0 && alike(level.first - 1)) --level.first;
  while (level.last + 1 < samples.size() && alike(level.last + 1)) ++level.last;
  return level;
}

/// Top of a cubic 1, t, t², t³ within −1 … 1; empty where it has none.
std::optional<double> top_of(const Eigen::VectorXd& c) {
  if (!(c[2] < 0)) return std::nullopt;
  // c1 + 2 c2 t + 3 c3 t² = 0, the root that goes over into −c1/(2 c2) as c3 → 0.
  const double root = 4 * c[2] * c[2] - 12 * c[1] * c[3];
  if (root < 0) return std::nullopt;
  const double top = 2 * c[1] / (-2 * c[2] + std::sqrt(root));
  return std::abs(top) <= 1 ? std::optional<double>(top) : std::nullopt;
}

/// Values of the samples; r >= 0: without that replicate.
Eigen::VectorXd shares_of(const std::vector<Sample>& samples, int r) {
  Eigen::VectorXd shares(static_cast<Eigen::Index>(samples.size()));
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const Estimate& share = samples[i].share;
    shares[static_cast<Eigen::Index>(i)] = r < 0 ? share.value : share.without_one[static_cast<std::size_t>(r)];
  }
  return shares;
}

/// Largest error of a sample against the best one: what differences between samples are worth.
double noise_of(const std::vector<Sample>& samples, const Level& level) {
  double noise = least_loss;
  for (const Sample& sample : samples)
    noise = std::max(noise, difference(samples[level.best].share, sample.share).std_error.value_or(0));
  return noise;
}

/// Place and error from the last grid: the top of a cubic where one fits the samples within the noise, else the middle of those
/// that are alike (a sharp bend has no cubic top).
Estimate fitted_place(const std::vector<Sample>& samples, const Level& level) {
  const Eigen::Index count = static_cast<Eigen::Index>(samples.size());
  const double middle = (samples.front().place + samples.back().place) / 2,
               half = (samples.back().place - samples.front().place) / 2, step = 2 * half / static_cast<double>(count - 1);
  const double alike_from = samples[level.first].place, alike_to = samples[level.last].place;
  Eigen::MatrixXd powers(count, 4);
  for (Eigen::Index i = 0; i < count; ++i) {
    const double t = (samples[static_cast<std::size_t>(i)].place - middle) / half;
    powers.row(i) << 1, t, t * t, t * t * t;
  }
  const Eigen::MatrixXd solve = powers.completeOrthogonalDecomposition().pseudoInverse();
  const Eigen::VectorXd whole = shares_of(samples, -1), cubic = solve * whole;
  const bool fits = (powers * cubic - whole).cwiseAbs().maxCoeff() <= 2 * noise_of(samples, level);
  const std::optional<double> top = top_of(cubic);
  if (!fits || !top) return {(alike_from + alike_to) / 2, (alike_to - alike_from + 2 * step) / std::sqrt(12.0), "m"};
  const int replicates = static_cast<int>(samples[0].share.without_one.size());
  Estimate place = jackknifed("m", replicates, [&](int r) {
    return middle + half * (r < 0 ? *top : top_of(solve * shares_of(samples, r)).value_or(*top));
  });
  place.std_error = std::max(place.std_error.value_or(0), step / std::sqrt(12.0));
  place.without_one.clear();
  return place;
}

double place_of_target(const Scene& scene) {
  const Pose& mirror = scene.reflectors.front().pose;
  return (mirror.turn.transpose() * (scene.targets.front().pose.at - mirror.at)).z();
}

}  // namespace

Scene with_target_at(const Scene& scene, double place) {
  Scene moved = scene;
  const Vector3 axis = scene.reflectors.front().pose.turn * Vector3::UnitZ();
  moved.targets.front().pose.at += (place - place_of_target(scene)) * axis;
  return moved;
}

std::uint64_t most_search_paths(const Scene& scene) {
  return std::min(scene.trace.paths, search_paths) * static_cast<std::uint64_t>(first_grid + most_grids * next_grid);
}

BestPlace find_best_place(const Scene& scene, int threads, Watch& watch) {
  BestPlace found;
  found.started_at = place_of_target(scene);
  if (const auto focus = own_focus(scene.reflectors.front().shape)) found.focus = focus->z();
  const double scale = found.focus.value_or(std::abs(found.started_at));
  found.from = 0.5 * scale, found.to = 1.5 * scale;
  const std::uint64_t paths = std::min(scene.trace.paths, search_paths);
  const auto scan = [&](double from, double to, int count) {
    std::vector<Sample> samples;
    for (int i = 0; i < count; ++i) {
      const double place = from + (to - from) * i / (count - 1);
      samples.push_back({place, caught_share(with_target_at(scene, place), paths, threads, watch)});
    }
    return samples;
  };
  // A coarse grid, then finer ones about its level top until that holds enough places.
  std::vector<Sample> samples = scan(found.from, found.to, first_grid);
  Level level = level_of(samples);
  found.dark = samples[level.best].share.value <= 0;
  for (int grid = 0; grid < most_grids && level.count() < level_points; ++grid) {
    const double low = samples[level.first > 0 ? level.first - 1 : 0].place,
                 high = samples[std::min(level.last + 1, samples.size() - 1)].place;
    samples = scan(low, high, next_grid);
    level = level_of(samples);
    if (high - low < (next_grid - 1) * least_step * scale) break;
  }
  // The middle of the fitted top; of a flat one its own middle.
  found.even_from = samples[level.first].place, found.even_to = samples[level.last].place;
  found.flat = found.even_to - found.even_from >= (found.to - found.from) / 8;
  found.place = fitted_place(samples, level);
  if (found.flat) found.place = {(found.even_from + found.even_to) / 2, std::nullopt, "m"};
  if (found.dark) found.place = {found.started_at, std::nullopt, "m"};
  const double edge = (found.to - found.from) * 1e-9;
  found.at_edge = !found.dark && (found.even_from <= found.from + edge || found.even_to >= found.to - edge);
  return found;
}

}  // namespace dishwright
