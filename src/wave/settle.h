// SPDX-License-Identifier: MIT
// How many places on the mirrors are enough: the sum is refined until its probes stand still.
#pragma once

#include <functional>
#include <vector>

#include "wave/samples.h"

namespace dishwright {

struct Refined {
  WaveSamples samples;
  Convergence convergence;
};
/// What the samples say at a few probes.
using Probed = std::function<std::vector<Complex>(const WaveSamples&)>;
/// Between which ends the ways run, what is in the way, and how much memory the results take.
struct WaveTask {
  std::vector<WaveSource> sources, ends;
  Blocked blocked;
  std::size_t result_bytes = 0;
};
/// Samples at density 1, 1.35, 1.35² … until two neighbours agree within setup.tolerance at every probe; gives the coarser of
/// the two, so that `change` is its error as seen. Ends unreached where setup.patience or the memory is used up. Throws
/// InputError where the first points alone do not fit the memory.
Refined settle(const std::vector<MirrorPatch>& patches, const WaveSetup& setup, const WaveTask& task, const Probed& probes);

/// Throws InputError where the first points do not fit setup.memory: at this frequency the mirrors are too many wavelengths wide.
/// Else how many they are.
double first_points(const std::vector<MirrorPatch>& patches, const WaveSetup& setup, const WaveTask& task);

/// At most 13 members that stand for all: evenly spaced, and the outermost along x, y, z.
std::vector<Vector3> few_of(const std::vector<Vector3>& all);

}  // namespace dishwright
