// SPDX-License-Identifier: MIT
// The brightest place anywhere, against plates that the test puts up and down the axis itself.
#include "study/mirror_best.h"

#include "approx.h"
#include "scenes.h"
#include "study/light_figures.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

/// Brightest of plates put at those heights, square to the axis.
double by_plates(const Scene& made, const TargetShape& plate, double low, double high, int count) {
  double most = 0;
  for (int k = 0; k < count; ++k) {
    Scene one = made;
    one.targets = {target(plate, {0, 0, low + (high - low) * k / (count - 1)})};
    one.trace.method = Method::automatic, one.trace.paths = 200'000;
    Watch watch;
    const auto peak = light_figures(one, LightMap::none, 2, watch).targets[0].peak_irradiance;
    if (peak) most = std::max(most, peak->value);
  }
  return most;
}

MirrorBest best_of(const Scene& made) {
  const Watch watch;
  const auto best = mirror_best(made, 2, watch);
  REQUIRE(best);
  return *best;
}

}  // namespace

TEST_CASE("the brightest place of a dish, a bowl and a trough is that of the best of many plates") {
  const Target aside = target(DiskTarget{0.15}, {0.4, 0, 0.3});  // where hardly any light comes: it must not matter
  const Scene dish = scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}, 4e-3), aside);
  const MirrorBest best = best_of(dish);
  CHECK(best.irradiance.value == testing::approx(by_plates(dish, DiskTarget{0.1}, 0.59, 0.61, 9)).epsilon(0.02));
  CHECK(best.at[2] == testing::approx(0.6).epsilon(0.01));
  CHECK_FALSE(best.aimed_true);
  const Scene bowl = scene(limb_sun(), mirror(SphereBowl{1.2, 1.2, 0}, 4e-3), aside);
  CHECK(best_of(bowl).irradiance.value == testing::approx(by_plates(bowl, DiskTarget{0.3}, 0.5, 0.61, 23)).epsilon(0.1));
  const Scene trough = scene(limb_sun(), mirror(Trough{0.3, 0.9, 1.5}, 5e-3), aside);
  CHECK(best_of(trough).irradiance.value ==
        testing::approx(by_plates(trough, RectangleTarget{0.05, 1.5}, 0.29, 0.31, 9)).epsilon(0.04));
}

// Light of a cone meets in a line, about as bright from the tip on; but of all light on a plane near the tip only a little is on it.
TEST_CASE("the brightest place of cones is no dimmer than the best of many plates") {
  const Target aside = target(DiskTarget{0.15}, {0.4, 0, 0.3});
  for (const auto& [depth, slope] : {std::pair(0.136, 7e-3), {0.136, 2e-3}, {0.1, 4e-3}, {0.25, 4e-3}}) {
    CAPTURE(depth);
    CAPTURE(slope);
    const Scene cone = scene(limb_sun(), mirror(Cone{depth, 1.016}, slope), aside);
    const double most = by_plates(cone, DiskTarget{0.4}, 0.3, 1.5, 13);
    CHECK(best_of(cone).irradiance.value >= 0.8 * most);
    CHECK(best_of(cone).irradiance.value <= 1.25 * most);
  }
}

TEST_CASE("the brightest place: a bad aim is taken off, and what the target gets does not matter") {
  Scene off = scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}, 4e-3), target(DiskTarget{0.15}, {0, 0, 0.9}));
  const double whole = best_of(off).irradiance.value;
  off.sun.aim_error = degrees(8);
  const MirrorBest aimed = best_of(off);
  CHECK(aimed.aimed_true);
  CHECK(aimed.irradiance.value == testing::approx(whole).epsilon(0.01));
}

TEST_CASE("the brightest place: two mirrors that share a focus, skins that swallow, and scenes that have none") {
  Scene one = scene(limb_sun(), mirror(Paraboloid{0.6, 0.8, 0}, 4e-3), target(DiskTarget{0.15}, {0, 0, 0.6}));
  const double single = best_of(one).irradiance.value;
  one.reflectors[0].reflectance = 0.5;
  CHECK(best_of(one).irradiance.value == testing::approx(single / 2).epsilon(0.01));
  // A ring of the same paraboloid round it adds its light to the same focus.
  Scene two = one;
  two.reflectors.push_back(mirror(Paraboloid{0.6, 1.2, 0.82}, 4e-3));
  two.reflectors[1].name = "ring", two.reflectors[0].reflectance = 1;
  const double both = best_of(two).irradiance.value;
  Scene ring = two;
  ring.reflectors.erase(ring.reflectors.begin());
  CHECK(both > single + 0.5 * best_of(ring).irradiance.value);
  const Watch watch;
  Scene lamp = one;
  lamp.lamp.emplace();
  CHECK_FALSE(mirror_best(lamp, 1, watch));
  Scene away = one;
  away.reflectors[0].pose.turn = rotation(degrees(180), 0, 0);  // it shows the sun its back
  CHECK_FALSE(mirror_best(away, 1, watch));
}

TEST_CASE("the brightest place is the same on any number of threads, and no shape stops it") {
  const Scene made = scene(limb_sun(), mirror(SphereBowl{1.2, 1.2, 0}, 4e-3), target(DiskTarget{0.15}, {0, 0, 0.6}));
  const Watch watch;
  CHECK(mirror_best(made, 1, watch)->irradiance.value == mirror_best(made, 4, watch)->irradiance.value);
  Scene flat = scene(limb_sun(), mirror(Flat{1, 1}), target(DiskTarget{0.15}, {0, 0, 0.6}));
  // Steep walls with a narrow blur: light that all but grazes them is smeared along its way a hundred times as far as across.
  const Scene deep = scene(limb_sun(), mirror(Cone{1.016, 0.136}, 7e-3), target(DiskTarget{0.1}, {0, 0, 2}));
  CHECK(best_of(deep).irradiance.value > deep.sun.beam);
  // A flat mirror gathers nothing: as bright as the sun.
  CHECK(best_of(flat).irradiance.value == testing::approx(flat.sun.beam).epsilon(0.05));
}
