// SPDX-License-Identifier: MIT
// One scene in, its figures out; with the stop rule where the scene asks for an accuracy.
#pragma once

#include "base/error.h"
#include "base/progress.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "trace/geometry.h"

namespace dishwright {

/// Traces a scene that has passed scene checks. Same figures, bit for bit, on any number of threads (>= 1) for the same build
/// and seed. Throws Interrupted when watch.stop is set. `geometries` keeps the surfaces for the next scene, where those are the
/// same.
TraceFigures ray_figures(const Scene& scene, int threads, Watch& watch, GeometryCache* geometries = nullptr);

}  // namespace dishwright
