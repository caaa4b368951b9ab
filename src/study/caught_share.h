// SPDX-License-Identifier: MIT
// One figure of a scene and nothing else: cheap enough to ask for it at hundreds of places.
#pragma once

#include <vector>

#include "base/estimate.h"
#include "base/progress.h"
#include "scene/scene.h"
#include "trace/geometry.h"
#include "trace/walk.h"

namespace dishwright {

/// Share of the light leaving the mirrors at first reflections that lands on the counted faces of the first target [1]: the
/// intercept of ray_figures() from `paths` paths with scene.trace.seed, with its leave-one-out values. 0 where no light leaves a
/// mirror. Same bits on any number of threads. Adds to watch.done. Throws Interrupted when watch.stop is set. `geometries` as in
/// ray_figures().
Estimate caught_share(const Scene& scene, std::uint64_t paths, int threads, Watch& watch, GeometryCache* geometries = nullptr);

/// The same for each target, from the same paths.
std::vector<Estimate> caught_shares(const Scene& scene, std::uint64_t paths, int threads, Watch& watch);

/// The first target's, for a scene made ready once, to be asked again with more paths.
class ShareAsked {
 public:
  explicit ShareAsked(const Scene& scene, GeometryCache* geometries = nullptr);
  ShareAsked(const ShareAsked&) = delete;
  ShareAsked& operator=(const ShareAsked&) = delete;
  ~ShareAsked() = default;
  Estimate caught(std::uint64_t paths, int threads, Watch& watch) const;

 private:
  const TraceContext context_;
};

/// Light on the counted faces of each target, of such paths [weights of trace/rays.h]: for ratios of scenes that differ little.
std::vector<double> landed_light(const Scene& scene, std::uint64_t paths, int threads, Watch& watch, GeometryCache* geometries);

}  // namespace dishwright
