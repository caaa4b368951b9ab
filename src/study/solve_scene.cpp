// SPDX-License-Identifier: MIT
#include "study/solve_scene.h"

#include "base/error.h"
#include "blur/quadrature.h"
#include "study/trace_scene.h"

namespace dishwright {

std::optional<Method> method_of(const std::string& word) {
  if (word == "rays") return Method::rays;
  if (word == "quadrature") return Method::quadrature;
  if (word == "auto") return Method::automatic;
  return std::nullopt;
}

void check_method(const Scene& scene) {
  if (scene.trace.method != Method::quadrature) return;
  if (const auto no = why_no_quadrature(scene)) throw InputError(quadrature_refused, no->why, no->fix);
}

namespace {

TraceFigures solve(const Scene& scene, bool map, int threads, Watch& watch, Grounds* grounds) {
  if (scene.trace.method == Method::rays) return trace_scene(scene, threads, watch, grounds);
  if (scene.trace.method == Method::automatic && why_no_quadrature(scene, true))
    return trace_scene(scene, threads, watch, grounds);
  QuadratureOptions options;
  options.map = map;
  return quadrature_figures(scene, options);
}

}  // namespace

TraceFigures solve_scene(const Scene& scene, int threads, Watch& watch) { return solve(scene, true, threads, watch, nullptr); }
TraceFigures solve_figures(const Scene& scene, int threads, Watch& watch, Grounds* grounds) {
  return solve(scene, false, threads, watch, grounds);
}

}  // namespace dishwright
