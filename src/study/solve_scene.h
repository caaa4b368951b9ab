// SPDX-License-Identifier: MIT
// A scene in, its figures out, by paths or by quadrature.
#pragma once

#include <optional>
#include <string>

#include "base/progress.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "trace/geometry.h"

namespace dishwright {

/// "rays", "quadrature", "auto"; empty for any other word.
std::optional<Method> method_of(const std::string& word);

/// Throws InputError if the scene asks for quadrature and that does not apply to it or would take absurdly long. Adds a note to
/// the scene where rays would be quicker by far.
void check_method(Scene& scene);

/// Figures by scene.trace.method; TraceFigures::method says which way was taken. Quadrature runs on one thread and takes
/// milliseconds; tracing as trace_scene(). Throws InputError like check_method(), Interrupted when watch.stop is set.
TraceFigures solve_scene(const Scene& scene, int threads, Watch& watch);
/// The same where no map is wanted: quadrature leaves it out and is several times quicker. `geometries` as in trace_scene().
TraceFigures solve_figures(const Scene& scene, int threads, Watch& watch, GeometryCache* geometries = nullptr);

}  // namespace dishwright
