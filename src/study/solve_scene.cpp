// SPDX-License-Identifier: MIT
#include "study/solve_scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <variant>

#include "base/error.h"
#include "quadrature/quadrature.h"
#include "study/trace_scene.h"

namespace dishwright {

namespace {

// Calibration: a path costs about as much as so many looks of the quadrature, by one thread each.
constexpr double looks_a_path = 60, first_run = 32768;
constexpr double least_rays = 1e7;  // [looks] of starting, surfaces and figures
constexpr double noted = 3;         // times as long as rays

/// Work of tracing the scene [looks]. Where an accuracy is asked for, the paths that bring it where half of the light is caught.
double work_of_rays(const Scene& scene) {
  double paths = static_cast<double>(scene.trace.paths);
  if (scene.trace.accuracy) paths = std::max(65536.0, 0.03 / (*scene.trace.accuracy * *scene.trace.accuracy));
  return std::min(most_patience, least_rays + looks_a_path * (paths + first_run));
}

}  // namespace

std::optional<Method> method_of(const std::string& word) {
  if (word == "rays") return Method::rays;
  if (word == "quadrature") return Method::quadrature;
  if (word == "auto") return Method::automatic;
  return std::nullopt;
}

void check_method(Scene& scene) {
  if (scene.trace.method != Method::quadrature) return;
  const auto work = quadrature_work(scene);
  if (const Refusal* no = std::get_if<Refusal>(&work)) throw InputError(quadrature_refused, no->why, no->fix);
  const double times = std::get<double>(work) / work_of_rays(scene);
  if (times > noted)
    scene.notes.push_back(fmt::format(
        "mirror quadrature takes about {:.1g} times as long here as its rays would; --method rays (or auto) is quicker", times));
}

namespace {

TraceFigures solve(const Scene& scene, bool map, int threads, Watch& watch, GeometryCache* geometries) {
  if (scene.trace.method == Method::rays) return trace_scene(scene, threads, watch, geometries);
  const bool chosen = scene.trace.method == Method::quadrature, alone = watch.planned == 0;
  QuadratureOptions options;
  options.map = map;
  options.watch = &watch, options.span = scene.trace.paths;
  options.most_work = chosen ? most_patience : work_of_rays(scene);
  options.settled = !chosen;
  if (alone) watch.planned = options.span;
  watch.in_paths = false;
  if (chosen) return quadrature_figures(scene, options);
  const std::uint64_t before = watch.done;
  auto figures = quadrature_or_refusal(scene, options);
  if (auto* found = std::get_if<TraceFigures>(&figures)) return std::move(*found);
  // Tracing begins its own count.
  watch.done = before;
  if (alone) watch.planned = 0;
  watch.in_paths = true;
  return trace_scene(scene, threads, watch, geometries);
}

}  // namespace

TraceFigures solve_scene(const Scene& scene, int threads, Watch& watch) { return solve(scene, true, threads, watch, nullptr); }
TraceFigures solve_figures(const Scene& scene, int threads, Watch& watch, GeometryCache* geometries) {
  return solve(scene, false, threads, watch, geometries);
}

}  // namespace dishwright
