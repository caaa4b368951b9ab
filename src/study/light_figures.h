// SPDX-License-Identifier: MIT
// A scene in, its figures out, by paths or by quadrature.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "base/progress.h"
#include "quadrature/quadrature.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "trace/geometry.h"

namespace dishwright {

/// "rays", "quadrature", "auto"; empty for any other word.
std::optional<Method> method_of(const std::string& word);

/// Whether a map is wanted. Without one the quadrature is several times quicker.
enum class LightMap { none, made };

/// A scene of light that its method can do; made ready where that is quadrature.
class PreparedLight {
 public:
  /// Throws InputError if the scene asks for quadrature and that does not apply to it or would take absurdly long. Adds a note
  /// to the scene where rays would be quicker by far.
  PreparedLight(Scene scene, LightMap map);
  const Scene& scene() const { return *scene_; }
  /// Figures by scene.trace.method; TraceFigures::method says which way was taken. Quadrature runs on one thread and takes
  /// milliseconds; tracing and `geometries` as in ray_figures(). Throws Interrupted when watch.stop is set. Once only.
  TraceFigures solve(int threads, Watch& watch, GeometryCache* geometries = nullptr);

 private:
  bool chosen() const { return scene_->trace.method == Method::quadrature; }
  std::unique_ptr<Scene> scene_;  // the quadrature needs it to stay where it is
  std::optional<PreparedQuadrature> quadrature_;
};

/// Both steps at once.
TraceFigures light_figures(Scene scene, LightMap map, int threads, Watch& watch, GeometryCache* geometries = nullptr);

}  // namespace dishwright
