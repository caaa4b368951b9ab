// SPDX-License-Identifier: MIT
// How figures change while one or two values of a scene change.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/estimate.h"
#include "base/progress.h"
#include "base/quantity.h"
#include "result/figure_table.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "study/side_view.h"
#include "wave/setup.h"

namespace dishwright {

/// A value that varies.
struct SweepAxis {
  std::string key;  ///< as a user names it: "sun.aim_error"
  Dimension dimension = Dimension::number;
  std::string si_unit;                  ///< of the values: "rad", "m", "1"
  const Unit* unit = nullptr;           ///< as the user wrote the first value; null for a pure number
  std::vector<double> values;           ///< [si_unit], two or more, all different
  std::optional<double> own = {};       ///< the file's own value [si_unit]; empty where it has none that is a number
  bool whole = false;                   ///< counts whole things
  std::optional<Moment> midnight = {};  ///< of times: what the values count from
};

struct SweepPoint {
  std::vector<double> at;                                                ///< by axis [si_unit]
  std::vector<std::pair<std::string, std::optional<Estimate>>> figures;  ///< of all sweep_rows(), of one target
  std::string method;                                                    ///< "rays", "quadrature" or "waves"
};

/// What a sweep found.
struct Sweep {
  Scene scene;                     ///< of the first point
  TraceFigures hottest;            ///< of the point with the brightest light, without its map; light only
  Convergence convergence;         ///< the worst of all points; sound and radio only
  double wave_speed = 0;           ///< of the first point [m/s]; sound and radio only
  std::string target;              ///< whose figures they are
  std::vector<SweepAxis> axes;     ///< 1 or 2
  std::vector<SweepPoint> points;  ///< the first axis runs slowest
  bool complete = true;            ///< false: it was interrupted; the points are those that were finished
  /// Where only the aim error varies: the rays at the last point, and its sun.
  std::optional<std::pair<SideView, Sun>> last_aim;
  std::size_t count() const;  ///< of the points when complete
};

/// The figures that a sweep of light, sound or radio shows.
const std::vector<FigureRow>& sweep_rows(const Scene& scene);
/// The figure that is shown where none is asked for: "intercept", or "gain".
std::string usual_figure(const Scene& scene);
/// Throws InputError where the scene has no such figure, or lists several frequencies: a point has one.
void check_sweep(const Scene& scene, const std::vector<std::string>& figures);
/// A figure of a point; empty where it has none.
std::optional<Estimate> figure_at(const SweepPoint& point, const std::string& name);
/// Values of the axes at point number k [si_unit].
std::vector<double> values_at(const std::vector<SweepAxis>& axes, std::size_t k);

/// Solves every point with the same seed, so that all meet the same random numbers. `scene_at(k)` gives the scene of point k; its
/// trace.method says how. Sound and radio are summed as waves, at the first of their frequencies. `target` is the target's
/// number. When watch.stop is set the points so far come back as incomplete; Interrupted is thrown only where there is none. From
/// the first finished point on, watch.keeps is set.
Sweep run_sweep(std::vector<SweepAxis> axes, std::size_t target, const std::function<Scene(std::size_t)>& scene_at, int threads,
                Watch& watch);

}  // namespace dishwright
