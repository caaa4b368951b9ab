// SPDX-License-Identifier: MIT
// What costs a target its light: the same scene traced again with one thing made right at a time.
#pragma once

#include <vector>

#include "base/estimate.h"
#include "base/progress.h"
#include "scene/scene.h"

namespace dishwright {

/// One thing that can be made right.
enum class Cause {
  aim,      ///< the sun on the axis
  place,    ///< the target at the first mirror's focus
  slope,    ///< no slope error
  spread,   ///< a skin without spread
  flaws,    ///< the shape without its flaws
  shape,    ///< a paraboloid (a trough of that curve) of the same focal length, width and hole
  sun_disc  ///< a point sun
};

/// JSON name: "aim_error", "place", "slope_error", "specular_spread", "flaws", "shape", "sun_disc".
const char* cause_name(Cause cause);

struct CauseCost {
  Cause cause = Cause::aim;
  Estimate share;  ///< of the mirror's light that the first target would catch with this made right [1]
  Estimate gain;   ///< that, less the share as the project is: paired rays [1]
};

struct Causes {
  Estimate share;                ///< as the project is, from the same paths [1]
  std::vector<CauseCost> costs;  ///< those that are not right already, the largest gain first
};

/// With 65,536 paths at most, the same random numbers for each. Of sunlight; nothing for others. Throws Interrupted when
/// watch.stop is set; watch.done is left as it was.
Causes find_causes(const Scene& scene, int threads, const Watch& watch);

}  // namespace dishwright
