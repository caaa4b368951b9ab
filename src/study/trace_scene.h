// SPDX-License-Identifier: MIT
// One scene in, its figures out; with the stop rule where the scene asks for an accuracy.
#pragma once

#include "base/error.h"
#include "base/stop.h"
#include "scene/scene.h"
#include "tally/figures.h"

namespace dishwright {

/// Traces a scene that has passed scene checks. Same figures, bit for bit, on any number of threads (>= 1) for the same build
/// and seed. Throws Interrupted when watch.stop is set.
TraceFigures trace_scene(const Scene& scene, int threads, Watch& watch);

}  // namespace dishwright
