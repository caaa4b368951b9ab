// SPDX-License-Identifier: MIT
#include "study/compare.h"

#include <algorithm>

#include "result/figure_table.h"
#include "study/mirror_best.h"
#include "study/ray_figures.h"

namespace dishwright {

namespace {

void share_trace_plan(std::vector<Contestant>& contestants) {
  const TracePlan& plan = contestants.front().scene.trace;
  for (Contestant& one : contestants) {
    TracePlan& own = one.scene.trace;
    const bool same = own.paths == plan.paths && own.seed == plan.seed && own.accuracy == plan.accuracy;
    if (!same)
      one.scene.notes.emplace_back("paths, accuracy and seed are those of the first file, so that all meet the same rays");
    own = plan;
  }
}

/// Where an accuracy is asked for: as many paths for all as the hardest one needs.
void trace_to_accuracy(std::vector<Contestant>& contestants, int threads, Watch& watch) {
  std::uint64_t most = 0;
  for (Contestant& one : contestants) {
    one.figures = ray_figures(one.scene, threads, watch);
    most = std::max(most, one.figures.paths);
  }
  for (Contestant& one : contestants) {
    if (one.figures.paths == most) continue;
    Scene scene = one.scene;
    scene.trace.accuracy.reset();
    scene.trace.paths = most;
    one.figures = ray_figures(scene, threads, watch);
  }
}

std::vector<PairDifference> all_differences(const std::vector<Contestant>& contestants) {
  std::vector<PairDifference> out;
  for (std::size_t a = 0; a < contestants.size(); ++a) {
    for (std::size_t b = a + 1; b < contestants.size(); ++b) {
      for (const FigureRow& row : compared_rows(FigureSource::light)) {
        const auto of_a = light_figure(contestants[a].figures.targets.front(), row.figure),
                   of_b = light_figure(contestants[b].figures.targets.front(), row.figure);
        if (of_a && of_b && of_a->unit == of_b->unit) out.push_back({a, b, std::string(row.name), difference(*of_a, *of_b)});
      }
    }
  }
  return out;
}

}  // namespace

Comparison compare_scenes(std::vector<Contestant> contestants, bool best_place, int threads, Watch& watch) {
  share_trace_plan(contestants);
  const bool accuracy = contestants.front().scene.trace.accuracy.has_value();
  std::uint64_t planned = 0;
  for (const Contestant& one : contestants)
    planned += one.scene.trace.paths + (best_place && !one.stays ? most_search_paths(one.scene) : 0);
  watch.planned = planned;
  for (Contestant& one : contestants) {
    if (!best_place || one.stays) continue;
    one.best = find_best_place(one.scene, threads, watch);
    one.scene = with_target_at(one.scene, one.best->place.value);
  }
  if (accuracy) {
    trace_to_accuracy(contestants, threads, watch);
  } else {
    for (Contestant& one : contestants) one.figures = ray_figures(one.scene, threads, watch);
  }
  for (Contestant& one : contestants) one.figures.mirror_best = mirror_best(one.scene, threads, watch);
  Comparison all;
  all.differences = all_differences(contestants);
  all.contestants = std::move(contestants);
  return all;
}

std::optional<Estimate> pair_difference(const Comparison& all, std::size_t a, std::size_t b, const std::string& figure) {
  for (const PairDifference& pair : all.differences) {
    if (pair.figure != figure || std::min(a, b) != pair.a || std::max(a, b) != pair.b) continue;
    Estimate out = pair.difference;
    if (a > b) {
      out.value = 0 - out.value;  // no "-0"
      out.without_one.clear();
    }
    return out;
  }
  return std::nullopt;
}

}  // namespace dishwright
