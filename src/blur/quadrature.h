// SPDX-License-Identifier: MIT
// The figures of a scene without chance: every place of a mirror lays a small smooth image of the sun on the target's plane.
#pragma once

#include <optional>

#include "blur/setting.h"
#include "tally/figures.h"

namespace dishwright {

struct QuadratureOptions {
  double tolerance = 1e-3;    ///< wanted root mean square error of the map, relative to its own
  bool map = true;            ///< false: no map, only figures; several times quicker
  int columns = 0, rows = 0;  ///< of the map; 0 = as tracing does
};

/// Figures of a scene, as tracing defines them; method = "quadrature", paths = places on the mirrors at the finer order.
///
/// Irradiance = Σ over places of power leaving · density of its direction toward the plane's point · cosine / distance²: exact but for
/// the law of the blur (Blur in image.h) and for the shadow's soft edge (Shadow). Orders rise until the map changes by less than the
/// tolerance. std_error is no chance here: the change from the order before (the finer order's own error is mostly much less), joined
/// with the fit of the sun's disc, the missing half-shade and the cut of the Gaussians at 5 σ. Left out: light beyond the cut, light
/// that the blur would turn into the mirror. Same figures, bit for bit, always. Throws InputError where it does not apply.
TraceFigures quadrature_figures(const Scene& scene, const QuadratureOptions& options = {});

/// What is said where the method is asked for and cannot be had.
inline constexpr const char* quadrature_refused = "method quadrature does not apply to this project";

/// Why a scene cannot be done this way; empty where it can. `quick`: or where tracing is quicker by far.
std::optional<WhyNot> why_no_quadrature(const Scene& scene, bool quick = false);

}  // namespace dishwright
