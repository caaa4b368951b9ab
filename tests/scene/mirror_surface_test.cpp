// SPDX-License-Identifier: MIT
// What flaws are to a wave, against closed forms.
#include "scene/mirror_surface.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace dishwright;

namespace {

Reflector dish(double focal_length, double width) {
  Reflector made;
  made.shape = Paraboloid{focal_length, width, 0};
  return made;
}

}  // namespace

TEST_CASE("half-path rms of flaws on a very flat dish is the rms height, the mean taken off") {
  CHECK(half_path_rms(dish(50, 1)) == 0);
  // A twist: height = t x y/R over a disc of radius R; the mean of x² y² over it is R⁴/24, so the rms is t R/√24.
  Reflector twisted = dish(50, 1);
  twisted.flaws.twist = 0.01;
  CHECK(half_path_rms(twisted) == testing::approx(0.01 * 0.5 / std::sqrt(24.0)).epsilon(2e-3));
  // Waves of amplitude a, many to the mirror: a/√2.
  Reflector wavy = dish(50, 1);
  wavy.flaws.waviness = Waviness{1e-3, 0.04, 0};
  CHECK(half_path_rms(wavy) == testing::approx(1e-3 / std::sqrt(2.0)).epsilon(0.01));
}

TEST_CASE(
    "half-path rms: bumps by chance have the stated one on a deep dish too; a twist there counts by the square of the cosine") {
  Reflector rough = dish(0.25, 1);
  rough.flaws.roughness = Roughness{1e-3, 0.08, 5};
  CHECK(half_path_rms(rough) == testing::approx(1e-3).epsilon(0.01));
  // f = R/2: 1 + slope² = 1 + r²/R². ∫ r⁵/(1 + r²)² dr from 0 to 1 = 3/4 − ln 2, times the mean of cos² sin² (1/8) over the area
  // 1/2.
  Reflector twisted = dish(0.25, 1);
  twisted.flaws.twist = 0.01;
  CHECK(half_path_rms(twisted) == testing::approx(0.01 * 0.5 * std::sqrt((0.75 - std::log(2.0)) / 4)).epsilon(3e-3));
}
