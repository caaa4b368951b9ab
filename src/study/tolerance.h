// SPDX-License-Identifier: MIT
// How good surface, aim and place of the target must be, so that the target still catches a wanted share of the mirror's light.
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/estimate.h"
#include "base/progress.h"
#include "scene/scene.h"
#include "study/limit_search.h"
#include "wave/setup.h"

namespace dishwright {

/// Slope error, aim error and a shift of the target: each without the other two, and all together, at equal parts of their own
/// limits. All else is as the file has it.
struct ToleranceBudget {
  Estimate slope_alone, aim_alone,
      along_alone;    ///< limits of each without the other two, the shift away from the mirror [rad, rad, m]
  Estimate fraction;  ///< of its own limit that each may use when all three are there at once [1]
  double by_root_sum_square = 0.5773502691896258;  ///< the same by the textbook rule, 1/√3
  /// The same with the target shifted to the side that the sun leans to, which is the side that the light leaves.
  struct Aside {
    Estimate alone, fraction;  ///< [m, 1]
  };
  std::optional<Aside> aside = {};  ///< empty where that shift has no limit
  /// Is the shift to the side the harder one of the two?
  bool aside_is_harder() const { return aside && aside->fraction.value < fraction.value; }
};

/// The same target as wide as it must be.
struct NeededWidth {
  double share = 0;  ///< that it then catches for sure [1]: the wanted one where that is missed, else half of the rest more
  std::optional<double> width;  ///< surely enough: the share less 2 standard errors [m]; empty: none up to `searched` is
  double searched = 0;          ///< [m]
};

/// What is judged of sound or radio, at one frequency.
struct WaveTolerance {
  double frequency = 0, speed = 0;  ///< [Hz], of the wave [m/s]
  /// As the file has it, of sound with the straight wave [dB], of radio [dBi]; empty where nothing arrives: then there are no
  /// limits.
  std::optional<double> gain;
  /// Of the dish without flaws, with the target at its focus (where it has one) and a true aim [dB, dBi]; empty where nothing
  /// arrives.
  std::optional<double> true_gain;
  Convergence convergence;
  double wavelength() const { return speed / frequency; }
};

struct Tolerance {
  Scene scene;
  std::size_t target = 0;
  double wanted = 0.9;                    ///< share of the mirror's light [1]; of sound and radio the loss that is allowed [dB]
  Estimate share;                         ///< caught with everything as the file has it [1]; light only
  std::optional<WaveTolerance> waves;     ///< sound and radio only
  std::vector<ToleranceLimit> limits;     ///< in the order above; offsets and focal length once a side
  std::optional<ToleranceBudget> budget;  ///< empty where one of the three has no limit, and of waves
  std::optional<NeededWidth> needed;      ///< where the share is missed or the margin small; empty elsewhere and of waves
  bool holds() const {
    return waves ? waves->gain && *waves->gain >= waves->true_gain.value_or(-INFINITY) - wanted : share.value >= wanted;
  }
};

/// The limit of a key: of its sides the smallest; empty where no side has one, or one is missed from the start.
std::optional<Estimate> tightest(const Tolerance& all, const std::string& key);

/// Finds all limits by root finding on traced shares: `paths` paths a point, the same random numbers each time, and only the
/// share is counted. Each limit's std_error = error of the share / slope of the curve there. From the value that does no harm
/// outward: the first place where the share falls below the wanted one counts, found on about 16 steps and then narrowed; a dip
/// narrower than a step can be missed. Needs a sun.
/// Of a trough the aim is also searched across and along it, with the file's own aim the other way.
/// wanted: 0 < wanted < 1. Throws Interrupted when watch.stop is set.
Tolerance find_tolerance(const Scene& scene, std::size_t target, double wanted, std::uint64_t paths, int threads, Watch& watch);

/// The same for sound or radio, at the highest of the scene's frequencies. Limits: the deviation that costs `loss` [dB] (> 0) of
/// the gain that the scene has as it stands. "surface_rms": further random bumps, short against the dish, as rms of half the
/// way's error, by ruze_factor() on the reflected wave. "waviness": amplitude of straight waves in the surface, of their own
/// period or else a sixth of the width, on the true geometry. A feed keeps its pattern, and looks at the mirror from wherever it
/// stands. No aim where sound comes from a place. Searched: up to half a wavelength of bumps, 4 wavelengths of shift (more for a
/// long focal length), 6 wavelengths/width of aim. The same bits on any number of threads.
Tolerance find_wave_tolerance(const Scene& scene, std::size_t target, double loss, int threads, Watch& watch);

}  // namespace dishwright
