// SPDX-License-Identifier: MIT
// The figures of a scene without chance: every place of a mirror lays a small smooth image of the sun on the target's plane.
#pragma once

#include <array>
#include <optional>
#include <variant>

#include "base/progress.h"
#include "quadrature/setting.h"
#include "result/figures.h"

namespace dishwright {

/// What the quadrature may cost where it was asked for by name [looks, see effort.h]: a few seconds.
inline constexpr double most_patience = 3e9;

struct QuadratureOptions {
  double tolerance = 1e-3;                      ///< wanted root mean square error of the map, relative to its own
  bool map = true;                              ///< false: no map, only figures; several times quicker
  int columns = 0, rows = 0;                    ///< of the map; 0 = as tracing does
  std::optional<std::array<double, 2>> centre;  ///< about which spot widths are measured [m]; else the light's own
  double most_work = most_patience;             ///< [looks]
  bool settled = false;                         ///< true: not done at all where the tolerance is not met within the work
  Watch* watch = nullptr;  ///< its stop ends the work with Interrupted; the work counts as `span` of its units
  std::uint64_t span = 0;
};

/// Figures of a scene, as tracing defines them; method = "quadrature", paths = places on the mirrors at the finer order. Or why
/// not.
///
/// Irradiance = Σ over places of power leaving · density of its direction toward the plane's point · cosine / distance²: exact
/// but for the law of the blur (Blur in image.h) and for the shadow's soft edge (Shadow). Orders rise until the map changes by
/// less than the tolerance. std_error is no chance here: the change from the order before (the finer order's own error is mostly
/// much less), joined with the fit of the sun's disc, the missing half-shade and the cut of the Gaussians at 5 σ. Left out: light
/// beyond the cut, light that the blur would turn into the mirror. Same figures, bit for bit, always.
std::variant<TraceFigures, Refusal> quadrature_or_refusal(const Scene& scene, const QuadratureOptions& options = {});
/// The same; throws InputError where it does not apply.
TraceFigures quadrature_figures(const Scene& scene, const QuadratureOptions& options = {});

/// What is said where the method is asked for and cannot be had.
inline constexpr const char* quadrature_refused = "method quadrature does not apply to this project";

/// Whether the quadrature applies, and what it will cost [looks]. Its own cost is that of a few images.
std::variant<double, Refusal> quadrature_work(const Scene& scene, const QuadratureOptions& options = {});
/// Why a scene cannot be done this way; empty where it can.
std::optional<Refusal> quadrature_refusal(const Scene& scene);

}  // namespace dishwright
