// SPDX-License-Identifier: MIT
#include "study/sweep.h"

#include <algorithm>

#include "base/error.h"
#include "study/compare.h"
#include "study/solve_scene.h"

namespace dishwright {

namespace {

SweepPoint point_of(const TraceFigures& figures, std::size_t target, std::vector<double> at) {
  SweepPoint point{std::move(at), {}, figures.method};
  for (const std::string& name : sweep_figures()) {
    auto figure = figure_of(figures.targets[target], name);
    if (figure) figure->without_one.clear();
    point.figures.emplace_back(name, std::move(figure));
  }
  return point;
}

void keep_hottest(TraceFigures figures, TraceFigures& hottest) {
  if (!hottest.targets.empty() && brightest(figures) <= brightest(hottest)) return;
  for (TargetFigures& target : figures.targets) target.map.clear(), target.share_curve.reset();
  hottest = std::move(figures);
}

}  // namespace

std::size_t Sweep::count() const {
  std::size_t count = 1;
  for (const SweepAxis& axis : axes) count *= axis.values.size();
  return count;
}

const std::vector<std::string>& sweep_figures() { return compared_figures(); }

std::optional<Estimate> figure_at(const SweepPoint& point, const std::string& name) {
  for (const auto& [own, figure] : point.figures) {
    if (own == name) return figure;
  }
  return std::nullopt;
}

std::vector<double> values_at(const std::vector<SweepAxis>& axes, std::size_t k) {
  if (axes.size() == 1) return {axes[0].values[k]};
  const std::size_t fast = axes[1].values.size();
  return {axes[0].values[k / fast], axes[1].values[k % fast]};
}

Sweep run_sweep(std::vector<SweepAxis> axes, std::size_t target, const std::function<Scene(std::size_t)>& scene_at, int threads,
                Watch& watch) {
  Sweep sweep;
  sweep.scene = scene_at(0), sweep.axes = std::move(axes);
  sweep.target = sweep.scene.targets[target].name;
  const std::uint64_t paths = sweep.scene.trace.paths;
  watch.planned = paths * sweep.count();
  Grounds grounds;
  for (std::size_t k = 0; k < sweep.count(); ++k) {
    try {
      if (watch.stop) throw Interrupted();
      TraceFigures figures = solve_figures(scene_at(k), threads, watch, &grounds);
      sweep.points.push_back(point_of(figures, target, values_at(sweep.axes, k)));
      keep_hottest(std::move(figures), sweep.hottest);
    } catch (const Interrupted&) {
      if (sweep.points.empty()) throw;
      sweep.complete = false;
      return sweep;
    }
    watch.done = paths * (k + 1);
  }
  return sweep;
}

}  // namespace dishwright
