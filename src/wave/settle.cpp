// SPDX-License-Identifier: MIT
#include "wave/settle.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/error.h"
#include "base/progress.h"

namespace dishwright {

namespace {

void refuse_memory(double points, const WaveTask& task, const WaveSetup& setup) {
  const double needed = points * bytes_per_sample + static_cast<double>(task.result_bytes);
  if (needed <= static_cast<double>(setup.memory)) return;
  throw InputError(fmt::format("the wave sum needs {:.3g} places on the mirrors and {:.3g} MB", points, needed / 1e6),
                   fmt::format("at most {:.3g} MB are allowed; places grow as (width/wavelength)² and with the width of the map",
                               static_cast<double>(setup.memory) / 1e6),
                   "take a lower frequency, a smaller mirror, or a smaller or coarser map", setup.frequency_key);
}

/// Largest difference as a share of the strongest.
double change_between(const std::vector<Complex>& coarse, const std::vector<Complex>& fine) {
  double change = 0, strongest = 0;
  for (std::size_t k = 0; k < fine.size(); ++k) {
    change = std::max(change, std::abs(fine[k] - coarse[k]));
    strongest = std::max(strongest, std::abs(fine[k]));
  }
  return strongest > 0 ? change / strongest : 0;
}

}  // namespace

double first_points(const std::vector<MirrorPatch>& patches, const WaveSetup& setup, const WaveTask& task) {
  const double first = sample_count(patches, counts_for(patches, setup.wavelength(), task.sources, task.ends), 1);
  refuse_memory(first, task, setup);
  return first;
}

Refined settle(const std::vector<MirrorPatch>& patches, const WaveSetup& setup, const WaveTask& task, const Probed& probes) {
  const std::vector<PatchCounts> counts = counts_for(patches, setup.wavelength(), task.sources, task.ends);
  const double first = first_points(patches, setup, task);
  const double room = (static_cast<double>(setup.memory) - static_cast<double>(task.result_bytes)) / bytes_per_sample;
  const double most = std::min(std::max(setup.patience * first, setup.always), room);
  Refined coarse{sample(patches, counts, 1, task.blocked), {}};
  std::vector<Complex> before = probes(coarse.samples);
  coarse.convergence.change = 1;
  for (double density = 1.35; sample_count(patches, counts, density) <= most; density *= 1.35) {
    if (setup.watch != nullptr) end_if_stopped(*setup.watch);
    Refined fine{sample(patches, counts, density, task.blocked), {}};
    std::vector<Complex> now = probes(fine.samples);
    const double change = change_between(before, now);
    fine.convergence.change = coarse.convergence.change = change;
    if (change <= setup.tolerance) {
      coarse.convergence.reached = true;
      break;
    }
    coarse = std::move(fine), before = std::move(now);
  }
  coarse.convergence.points = coarse.samples.count();
  return coarse;
}

std::vector<Vector3> few_of(const std::vector<Vector3>& all) {
  if (all.size() <= 13) return all;
  std::vector<Vector3> few;
  for (std::size_t k = 0; k < 7; ++k) few.push_back(all[k * (all.size() - 1) / 6]);
  for (int axis = 0; axis < 3; ++axis) {
    const auto [low, high] =
        std::minmax_element(all.begin(), all.end(), [axis](const Vector3& a, const Vector3& b) { return a[axis] < b[axis]; });
    few.push_back(*low), few.push_back(*high);
  }
  return few;
}

}  // namespace dishwright
