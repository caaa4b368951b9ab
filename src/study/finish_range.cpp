// SPDX-License-Identifier: MIT
#include "study/finish_range.h"

#include <algorithm>
#include <vector>

#include "scene/materials.h"
#include "study/caught_share.h"

namespace dishwright {

namespace {

constexpr std::uint64_t most_paths = 16'384;

/// The scene with every finish at that end of its row.
Scene at_end(const Scene& scene, double Finish::*end) {
  Scene out = scene;
  for (Reflector& mirror : out.reflectors) {
    if (const Finish* finish = find_finish(mirror.finish)) mirror.reflectance = (finish->*end) * (1 - mirror.dirt);
  }
  return out;
}

}  // namespace

void add_finish_range(const Scene& scene, int threads, const Watch& watch, TraceFigures& figures) {
  const bool any = std::any_of(scene.reflectors.begin(), scene.reflectors.end(),
                               [](const Reflector& mirror) { return find_finish(mirror.finish) != nullptr; });
  if (!any || figures.targets.empty()) return;
  GeometryCache geometries;
  const auto landed = [&](const Scene& one) {
    end_if_stopped(watch);
    Watch own;
    return landed_light(one, std::min(scene.trace.paths, most_paths), threads, own, &geometries);
  };
  const std::vector<double> as_is = landed(scene), dull = landed(at_end(scene, &Finish::low)),
                            bright = landed(at_end(scene, &Finish::high));
  for (std::size_t k = 0; k < figures.targets.size(); ++k) {
    if (!(as_is[k] > 0)) continue;
    const double power = figures.targets[k].power.value;
    figures.targets[k].power_range = {power * dull[k] / as_is[k], power * bright[k] / as_is[k]};
  }
}

}  // namespace dishwright
