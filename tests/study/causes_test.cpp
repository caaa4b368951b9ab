// SPDX-License-Identifier: MIT
// What costs the light: each cause against the scene that the test puts right itself, and the order by what it brings.
#include "study/causes.h"

#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

Causes causes_of(const Scene& made) {
  const Watch watch;
  return find_causes(made, 2, watch);
}

double share_of(const Scene& made) { return traced(made).targets[0].intercept->value; }

Scene kettle() {
  return scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}, 4e-3), target(DiskTarget{0.03}, {0, 0, 0.6}), 65'536);
}

const CauseCost* find(const Causes& all, Cause cause) {
  for (const CauseCost& one : all.costs) {
    if (one.cause == cause) return &one;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("causes: a poor aim costs most, and its share is that of the scene aimed true") {
  Scene off = kettle();
  off.sun.aim_error = degrees(1.5);
  const Causes all = causes_of(off);
  CHECK(all.share.value == testing::approx(share_of(off)).epsilon(1e-9));
  REQUIRE_FALSE(all.costs.empty());
  CHECK(all.costs[0].cause == Cause::aim);
  CHECK(all.costs[0].share.value == testing::approx(share_of(kettle())).epsilon(1e-9));
  CHECK(all.costs[0].gain.value == testing::approx(share_of(kettle()) - share_of(off)).epsilon(1e-9));
  for (std::size_t k = 1; k < all.costs.size(); ++k) CHECK(all.costs[k - 1].gain.value >= all.costs[k].gain.value);
  // Right already, or nothing that could be put right.
  CHECK(find(all, Cause::place) == nullptr);
  CHECK(find(all, Cause::flaws) == nullptr);
  CHECK(find(all, Cause::shape) == nullptr);
  CHECK(find(all, Cause::spread) == nullptr);
}

TEST_CASE("causes: place, slope, flaws, skin and curve are each found where the test spoils them") {
  Scene moved = kettle();
  moved.targets[0].pose.at = Vector3(0.03, 0, 0.57);
  CHECK(causes_of(moved).costs[0].cause == Cause::place);
  Scene rough = kettle();
  rough.reflectors[0].slope_error = 20e-3;
  CHECK(causes_of(rough).costs[0].cause == Cause::slope);
  Scene scattering = kettle();
  scattering.reflectors[0].specular_spread = 40e-3;
  CHECK(causes_of(scattering).costs[0].cause == Cause::spread);
  Scene twisted = kettle();
  twisted.reflectors[0].flaws.twist = 0.03;
  CHECK(causes_of(twisted).costs[0].cause == Cause::flaws);
  CHECK(causes_of(twisted).costs[0].share.value == testing::approx(share_of(kettle())).epsilon(1e-6));
  Scene round = kettle();
  round.reflectors[0].shape = SphereBowl{1.2, 1.2, 0.05};
  const Causes bowl = causes_of(round);
  CHECK(bowl.costs[0].cause == Cause::shape);
  CHECK(bowl.costs[0].share.value == testing::approx(share_of(kettle())).epsilon(1e-9));
  Scene perfect = kettle();
  perfect.reflectors[0].slope_error = 0;
  CHECK(causes_of(perfect).costs[0].cause == Cause::sun_disc);
  Scene lamp = kettle();
  lamp.lamp.emplace();
  CHECK(causes_of(lamp).costs.empty());
}
