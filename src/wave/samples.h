// SPDX-License-Identifier: MIT
// Places on the mirrors with their weights, as many as the phase along the way asks for.
#pragma once

#include <vector>

#include "scene/mirror_patches.h"
#include "wave/setup.h"

namespace dishwright {

/// Gauss points of all patches, frame coordinates.
struct WaveSamples {
  std::vector<double> x, y, z;     ///< [m]
  std::vector<double> nx, ny, nz;  ///< unit normal, bright side
  std::vector<double> area;        ///< surface area that the point stands for [m²]
  std::vector<int> reflector;
  std::size_t count() const { return x.size(); }
  Vector3 place(std::size_t k) const { return {x[k], y[k], z[k]}; }
  Vector3 normal(std::size_t k) const { return {nx[k], ny[k], nz[k]}; }
};
/// Memory of one sample with all that the sums keep for it [bytes].
inline constexpr std::size_t bytes_per_sample = 160;

/// Length of the way from a far or near end to a place, up to a constant [m].
double way_to(const WaveSource& end, const Vector3& place);

/// Points that each patch needs, at density 1.
struct PatchCounts {
  double along_u = 4, along_v = 4;
};
/// Points for the ways source → patch → end, for every source with every end: n = 4 + 2.5·(wavelengths of way along a line),
/// fewer on small pieces; around a closed line 12 + 1.9·(wavelengths of way round it).
std::vector<PatchCounts> counts_for(const std::vector<MirrorPatch>& patches, double wavelength,
                                    const std::vector<WaveSource>& sources, const std::vector<WaveSource>& ends);
/// How many points `density` gives.
double sample_count(const std::vector<MirrorPatch>& patches, const std::vector<PatchCounts>& counts, double density);

/// Says whether a place on the mirror is cut off from the far side by something in the way.
using Blocked = std::function<bool(const Vector3& place)>;
/// Gauss-Legendre along u and v; evenly spaced along a closed v. With `blocked`: along each line of u only the free stretches,
/// their ends found to 1e-9, so that an edge of the shadow is an edge of the rule.
WaveSamples sample(const std::vector<MirrorPatch>& patches, const std::vector<PatchCounts>& counts, double density,
                   const Blocked& blocked = {});

/// What the scene's targets with `shades` cut off, seen from the mirror toward the far direction.
Blocked blocked_by_targets(const Scene& scene, const Vector3& toward);

}  // namespace dishwright
