// SPDX-License-Identifier: MIT
#include "study/light_figures.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <variant>

#include "base/error.h"
#include "quadrature/quadrature.h"
#include "study/ray_figures.h"

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

PreparedLight::PreparedLight(Scene scene, LightMap map) : scene_(std::make_unique<Scene>(std::move(scene))) {
  if (scene_->trace.method == Method::rays) return;
  QuadratureOptions options;
  options.map = map == LightMap::made;
  options.most_work = chosen() ? most_patience : work_of_rays(*scene_);
  options.settled = !chosen();
  auto ready = prepare_quadrature(*scene_, options);
  if (auto* good = std::get_if<PreparedQuadrature>(&ready)) quadrature_ = std::move(*good);
  if (!chosen()) return;
  if (const Refusal* no = std::get_if<Refusal>(&ready)) refuse_quadrature(*no);
  const double looks = quadrature_->work();
  if (looks > options.most_work) refuse_quadrature(too_much_work(*scene_, looks));
  const double times = looks / work_of_rays(*scene_);
  if (times > noted)
    scene_->notes.push_back(fmt::format(
        "mirror quadrature takes about {:.1g} times as long here as its rays would; --method rays (or auto) is quicker", times));
}

TraceFigures PreparedLight::solve(int threads, Watch& watch, GeometryCache* geometries) {
  if (!quadrature_) return ray_figures(*scene_, threads, watch, geometries);
  const bool alone = watch.planned == 0;
  const std::uint64_t before = watch.done;
  if (alone) watch.planned = scene_->trace.paths;
  watch.in_paths = false;
  auto figures = quadrature_->solve(&watch, scene_->trace.paths);
  quadrature_.reset();
  if (auto* found = std::get_if<TraceFigures>(&figures)) return std::move(*found);
  if (chosen()) refuse_quadrature(std::get<Refusal>(figures));
  // Tracing begins its own count.
  watch.done = before;
  if (alone) watch.planned = 0;
  watch.in_paths = true;
  return ray_figures(*scene_, threads, watch, geometries);
}

TraceFigures light_figures(Scene scene, LightMap map, int threads, Watch& watch, GeometryCache* geometries) {
  return PreparedLight(std::move(scene), map).solve(threads, watch, geometries);
}

}  // namespace dishwright
