// SPDX-License-Identifier: MIT
// How far the sun may wander: against plane geometry of images that are discs, worked out here.
#include "study/aim_room.h"

#include <algorithm>
#include <cmath>

#include "approx.h"
#include "scenes.h"
#include "study/light_figures.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double far_focus = 10, spread = 0.05;  // [m]

/// A mirror so far from its focus, ten times its width, that all its light makes one round Gaussian image of this spread (rms of
/// each axis, `spread`): a sun without a disc, a skin that spreads each ray.
Scene far_scene(const TargetShape& shape) {
  Scene made = scene(point_sun(), mirror(Paraboloid{far_focus, 1, 0}), target(shape, {0, 0, far_focus}));
  made.reflectors[0].specular_spread = spread / far_focus;
  made.trace.method = Method::quadrature;
  return made;
}

double normal(double x) { return std::erfc(-x / std::sqrt(2)) / 2; }

/// Of such an image `away` from the middle: the share on a strip |y| < half, and in a circle.
double on_strip(double half, double away) { return normal((half - away) / spread) - normal((-half - away) / spread); }
double in_circle(double radius, double away) {
  constexpr int steps = 2000;
  double sum = 0;
  for (int k = 0; k < steps; ++k) {
    const double x = radius * (2 * (k + 0.5) / steps - 1), side = std::sqrt(radius * radius - x * x);
    const double here = std::exp(-std::pow((x - away) / spread, 2) / 2) / (spread * std::sqrt(2 * pi));
    sum += here * on_strip(side, 0) * 2 * radius / steps;
  }
  return sum;
}

/// Where a falling function of the displacement [m] reaches `level`.
template <class Function>
double crossing(Function share, double level) {
  double low = 0, high = 1;
  while (high - low > 1e-9) {
    const double middle = (low + high) / 2;
    (share(middle) >= level ? low : high) = middle;
  }
  return low;
}

AimRoom room_of(const Scene& scene, double kept) {
  Watch watch;
  const auto room = aim_room(scene, 0, kept, 1, watch);
  REQUIRE(room);
  return *room;
}

double share_at(Scene scene, double error, double direction) {
  scene.sun.aim_error = error, scene.sun.aim_direction = direction;
  Watch watch;
  return light_figures(scene, LightMap::none, 1, watch).targets[0].intercept.value_or(Estimate{}).value;
}

}  // namespace

TEST_CASE("room to wander: a round image leaves a round plate") {
  for (const double kept : {0.9, 0.5}) {
    const double now = in_circle(0.1, 0), away = crossing([](double d) { return in_circle(0.1, d); }, kept * now);
    const AimRoom room = room_of(far_scene(DiskTarget{0.2}), kept);
    CHECK_FALSE(room.open);
    CHECK(room.angle <= 1.003 * std::atan(away / far_focus));  // to the safe side
    CHECK(room.angle == testing::approx(std::atan(away / far_focus)).epsilon(0.02));
  }
}

TEST_CASE("room to wander: the worst way counts, across a strip and on from where it is aimed off already") {
  const double half = 0.12;
  const auto share = [&](double d) { return on_strip(half, d); };
  Scene strip = far_scene(RectangleTarget{1, 2 * half});
  const AimRoom across = room_of(strip, 0.9);
  CHECK(across.angle == testing::approx(std::atan(crossing(share, 0.9 * share(0)) / far_focus)).epsilon(0.02));
  CHECK(std::abs(std::sin(across.direction)) > 0.97);
  // Aimed off by 3 mrad toward 60°: the image stands 30 mm · sin 60° across already, and loses from there.
  strip.sun.aim_error = 3e-3, strip.sun.aim_direction = pi / 3;
  const AimRoom less = room_of(strip, 0.9);
  const double there = 0.03 * std::sin(pi / 3);
  CHECK(less.angle == testing::approx((crossing(share, 0.9 * share(there)) - there) / far_focus).epsilon(0.03));
  CHECK(std::sin(less.direction) > 0.97);
}

TEST_CASE("room to wander: everywhere in the circle the light is there, beyond it in the worst way it is not") {
  Scene kettle = scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0}, 3e-3), target(DiskTarget{0.1}, {0.01, 0, 0.62}), 20'000);
  kettle.trace.method = Method::automatic;
  const AimRoom room = room_of(kettle, 0.9);
  const double now = share_at(kettle, 0, 0);
  for (int k = 0; k < 24; ++k) {
    CAPTURE(k);
    for (const double part : {0.3, 0.7, 1.0}) CHECK(share_at(kettle, part * room.angle, k * pi / 12) >= 0.899 * now);
  }
  CHECK(share_at(kettle, 1.04 * room.angle, room.direction) < 0.9 * now);
}

TEST_CASE("room to wander: nothing to lose, and more than is tried") {
  Scene dark = far_scene(DiskTarget{0.2});
  dark.targets[0].pose.at = {3, 0, far_focus}, dark.trace.method = Method::rays, dark.trace.paths = 2000;
  Watch watch;
  CHECK_FALSE(aim_room(dark, 0, 0.9, 1, watch));
  const AimRoom wide = room_of(far_scene(DiskTarget{16}), 0.9);
  CHECK(wide.open);
  CHECK(wide.angle == widest_aim_room);
  // 20° at 15° and a little an hour: 80 minutes, less 0.2 %.
  CHECK(seconds_within(wide) == testing::approx(4800).epsilon(0.003));
  CHECK(seconds_within(wide) < 4800);
}
