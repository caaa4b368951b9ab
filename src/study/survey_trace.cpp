// SPDX-License-Identifier: MIT
#include "study/survey_trace.h"

#include <algorithm>

#include "base/threads.h"
#include "study/caught_share.h"
#include "study/ray_figures.h"
#include "study/walk_paths.h"

namespace dishwright {

TraceFigures survey_figures(Scene scene, std::uint64_t count, int threads) {
  scene.trace.paths = count;
  scene.trace.accuracy.reset();
  scene.trace.method = Method::rays;
  Watch watch;
  return ray_figures(scene, threads, watch);
}

std::vector<Estimate> shares_of(const TraceFigures& figures) {
  std::vector<Estimate> out;
  for (const TargetFigures& target : figures.targets) out.push_back(target.intercept.value_or(Estimate{0, 0, "1"}));
  return out;
}

std::vector<std::vector<Estimate>> shares_of_all(std::size_t count, const std::function<Scene(std::size_t)>& scene, int threads) {
  std::vector<std::vector<Estimate>> out(count);
  on_threads(threads, [&] {
    for_each_number(0, count, [&](std::size_t k) {
      const Scene changed = scene(k);
      Watch watch;
      out[k] = caught_shares(changed, std::min(few_survey_paths, changed.trace.paths), 1, watch);
    });
  });
  return out;
}

}  // namespace dishwright
