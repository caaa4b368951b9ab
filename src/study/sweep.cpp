// SPDX-License-Identifier: MIT
#include "study/sweep.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/error.h"
#include "base/text.h"
#include "base/threads.h"
#include "study/light_figures.h"
#include "study/mirror_best.h"
#include "study/wave_answer.h"

namespace dishwright {

namespace {

SweepPoint point_of(const TraceFigures& figures, std::size_t target, std::vector<double> at) {
  SweepPoint point{std::move(at), {}, figures.method};
  for (const FigureRow& row : compared_rows(FigureSource::light)) {
    auto figure = light_figure(figures.targets[target], row.figure);
    if (figure) figure->without_one.clear();
    point.figures.emplace_back(row.name, std::move(figure));
  }
  return point;
}

/// True where this point is the hottest so far.
bool keep_hottest(TraceFigures figures, TraceFigures& hottest) {
  if (!hottest.targets.empty() && brightest(figures) <= brightest(hottest)) return false;
  for (TargetFigures& target : figures.targets) target.map.clear(), target.share_curve.reset();
  hottest = std::move(figures);
  return true;
}

/// The brightest that the mirrors of the first point, of the last one that was solved or of the hottest make anywhere.
void find_best(Sweep& sweep, const std::vector<Scene>& scenes, int threads, const Watch& watch) {
  for (const Scene& scene : scenes) {
    if (watch.stopped()) return;
    const std::optional<MirrorBest> best = mirror_best(scene, threads, watch);
    auto& kept = sweep.hottest.mirror_best;
    if (best && (!kept || best->irradiance.value > kept->irradiance.value)) kept = best;
  }
}

/// Of sound or radio: neither maps nor patterns, only what a point shows.
SweepPoint wave_point(const Scene& scene, Sweep& sweep, std::size_t target, std::vector<double> at, int threads, Watch& watch) {
  SweepPoint point{std::move(at), {}, "waves"};
  on_threads(threads, [&] {
    const WaveQuestion question(scene, &watch);
    if (sweep.wave_speed == 0) sweep.wave_speed = question.setup().speed;
    const WaveAnswer answer = wave_answer(question, target, sweep.convergence, sweep.convergence);
    for (const FigureRow& row : sweep_rows(scene)) point.figures.emplace_back(row.name, wave_figure(answer, row.figure));
  });
  return point;
}

}  // namespace

std::size_t Sweep::count() const {
  std::size_t count = 1;
  for (const SweepAxis& axis : axes) count *= axis.values.size();
  return count;
}

const std::vector<FigureRow>& sweep_rows(const Scene& scene) {
  return compared_rows(scene.sound ? FigureSource::sound : scene.radio ? FigureSource::radio : FigureSource::light);
}

std::string usual_figure(const Scene& scene) { return scene.is_wave() ? "gain" : "intercept"; }

void check_sweep(const Scene& scene, const std::vector<std::string>& figures) {
  const std::string kind = scene.sound ? "sound" : scene.radio ? "radio" : "light";
  std::vector<std::string_view> known;
  for (const FigureRow& row : sweep_rows(scene)) known.push_back(row.name);
  for (const std::string& figure : figures) {
    if (std::find(known.begin(), known.end(), figure) != known.end()) continue;
    throw InputError(fmt::format("--figure {}: {} has no such figure", clipped(printable(figure), 60), kind),
                     fmt::format("its figures are {}", fmt::join(known, ", ")), "name one of them");
  }
  if (!scene.is_wave()) return;
  const auto& frequencies = scene.radio ? scene.radio->frequencies : scene.sound->frequencies;
  if (frequencies.size() < 2) return;
  const std::string one = scene.radio ? "1680 MHz" : "2 kHz";
  throw placed(scene,
               InputError(fmt::format("{} frequencies are listed", frequencies.size()),
                          "a point of a sweep shows its figures at one frequency",
                          fmt::format("add --set {0}.frequency='{1}', or --vary {0}.frequency", kind, one), kind + ".frequency"));
}

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
  sweep.convergence.reached = true;
  const std::uint64_t paths = sweep.scene.trace.paths;
  watch.planned = paths * sweep.count();
  GeometryCache geometries;
  std::size_t hottest = 0;
  for (std::size_t k = 0; k < sweep.count(); ++k) {
    try {
      if (watch.stopped()) throw Interrupted();
      const Scene scene = scene_at(k);
      if (scene.is_wave()) {
        sweep.points.push_back(wave_point(scene, sweep, target, values_at(sweep.axes, k), threads, watch));
      } else {
        TraceFigures figures = light_figures(scene, LightMap::none, threads, watch, &geometries);
        sweep.points.push_back(point_of(figures, target, values_at(sweep.axes, k)));
        if (keep_hottest(std::move(figures), sweep.hottest)) hottest = k;
      }
    } catch (const Interrupted&) {
      if (sweep.points.empty()) throw;
      sweep.complete = false;
      return sweep;
    }
    watch.done = paths * (k + 1);
    watch.keeps = true;
  }
  if (!sweep.scene.is_wave()) {
    const Scene last = scene_at(sweep.count() - 1);
    if (sweep.axes.size() == 1 && sweep.axes[0].key == "sun.aim_error" && !last.lamp)
      sweep.last_aim.emplace(side_view(last), last.sun);
    find_best(sweep, {sweep.scene, scene_at(hottest), last}, threads, watch);
  }
  return sweep;
}

}  // namespace dishwright
