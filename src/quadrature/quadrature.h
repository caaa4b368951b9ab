// SPDX-License-Identifier: MIT
// The figures of a scene without chance: every place of a mirror lays a small smooth image of the sun on the target's plane.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
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
};

/// A scene made ready for the quadrature, which applies to it.
class PreparedQuadrature {
 public:
  PreparedQuadrature(PreparedQuadrature&&) noexcept;
  PreparedQuadrature& operator=(PreparedQuadrature&&) noexcept;
  ~PreparedQuadrature();

  /// Work of its first two orders [looks], good to a factor of two or so. Costs a few images, which solve() then has.
  double work();
  /// Figures of the scene, as tracing defines them; method = "quadrature", paths = places on the mirrors at the finer order. Or
  /// why not: where the work would be more than options.most_work.
  ///
  /// Irradiance = Σ over places of power leaving · density of its direction toward the plane's point · cosine / distance²: exact
  /// but for the law of the blur (Blur in image.h) and for the shadow's soft edge (Shadow). Orders rise until the map changes by
  /// less than the tolerance. std_error is no chance here: the change from the order before (the finer order's own error is
  /// mostly much less), joined with the fit of the sun's disc, the missing half-shade and the cut of the Gaussians at 5 σ. Left
  /// out: light beyond the cut, light that the blur would turn into the mirror. Same figures, bit for bit, always. Once only.
  /// `watch` may be null; its stop ends the work with Interrupted, and the work counts as `span` of its units.
  std::variant<TraceFigures, Refusal> solve(Watch* watch = nullptr, std::uint64_t span = 0);

 private:
  friend std::variant<PreparedQuadrature, Refusal> prepare_quadrature(const Scene&, const QuadratureOptions&);
  struct Parts;
  explicit PreparedQuadrature(std::unique_ptr<Parts> parts);
  std::unique_ptr<Parts> parts_;
};

/// Makes a scene ready, which must outlive what is made; or why the quadrature does not apply.
std::variant<PreparedQuadrature, Refusal> prepare_quadrature(const Scene& scene, const QuadratureOptions& options = {});

/// What is said where the method is asked for and cannot be had.
inline constexpr const char* quadrature_refused = "method quadrature does not apply to this project";
/// Throws InputError with that.
[[noreturn]] void refuse_quadrature(const Refusal& no);

/// What is said where the work is that much [looks].
Refusal too_much_work(const Scene& scene, double looks);

/// Both steps at once; throws InputError where it does not apply.
TraceFigures quadrature_figures(const Scene& scene, const QuadratureOptions& options = {});
/// Why a scene cannot be done this way, or not within options.most_work; empty where it can.
std::optional<Refusal> quadrature_refusal(const Scene& scene, const QuadratureOptions& options = {});

}  // namespace dishwright
