// SPDX-License-Identifier: MIT
// The places on a mirror past a shadow: every order asks other ones, and they hold the lit area.
#include "quadrature/samples.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <set>
#include <string>

using namespace dishwright;

namespace {

constexpr double pi = std::numbers::pi;

/// A mirror, an axial sun and a target that throws a shadow on it.
struct Shaded {
  MirrorPatch patch;
  Shadow shadow;
  Shaded(const ReflectorShape& mirror, const TargetShape& target, const Vector3& at)
      : patch(shape_patches(mirror)[0]), shadow(made(target, at), Vector3::UnitZ()) {}
  static Target made(const TargetShape& shape, const Vector3& at) {
    Target target;
    target.shape = shape, target.pose.at = at;
    return target;
  }
  std::vector<MirrorSample> samples(int order) const {
    return mirror_samples(patch, shadow, shadow.changes(patch), Vector3::UnitZ(), 1, SampleCounts{}, order);
  }
  /// Lit area in plan: under an axial sun of 1 W/m² the power [m²].
  double lit(int order) const {
    double sum = 0;
    for (const MirrorSample& sample : samples(order)) sum += sample.power;
    return sum;
  }
};

const Paraboloid dish{0.6, 1.2, 0.2};
const double dish_area = pi * (0.36 - 0.01);

}  // namespace

TEST_CASE("no two orders take the same number of points, and each takes at least one more") {
  for (double wanted = 0.1; wanted < 300; wanted *= 1.07) {
    CAPTURE(wanted);
    for (int order = 0; order < 6; ++order) CHECK(points_at(wanted, order + 1) > points_at(wanted, order));
    CHECK(points_at(wanted, 1) >= wanted - 1e-6);
  }
  CHECK(points_at(1e300, 3) <= 1'000'003);
}

TEST_CASE("two orders share no place, in short stretches neither") {
  // The middle of the trough lies in the shadow of a bar: two stretches of less than half of its width each.
  const Shaded trough(Trough{0.3, 0.9, 0.2}, RectangleTarget{0.02, 0.2}, {0, 0, 0.3});
  std::set<double> coarse;
  for (const MirrorSample& sample : trough.samples(0)) coarse.insert(std::round(sample.place.place.x() * 1e9));
  CHECK(coarse.size() >= 4);
  std::set<double> fine;
  for (const MirrorSample& sample : trough.samples(1)) fine.insert(std::round(sample.place.place.x() * 1e9));
  CHECK(fine.size() >= 6);
  for (const double x : fine) CHECK(coarse.count(x) == 0);
}

TEST_CASE("the lit area past a shadow is the mirror's less the target's, at the order that is used") {
  // All of these shadows lie on the mirror and beside its hole, so plane geometry tells what they take.
  const double side = 0.2, narrow = 0.006;
  CHECK(Shaded(dish, DiskTarget{side}, {0.3, 0.05, 0.6}).lit(1) ==
        testing::approx(dish_area - pi * side * side / 4).epsilon(1e-4));
  CHECK(Shaded(dish, RectangleTarget{side, side}, {-0.32, 0.1, 0.6}).lit(1) ==
        testing::approx(dish_area - side * side).epsilon(3e-4));
  // Narrower than the distance between the lines that are looked at.
  CHECK(Shaded(dish, RectangleTarget{0.3, narrow}, {0.35, 0.013, 0.6}).lit(1) ==
        testing::approx(dish_area - 0.3 * narrow).epsilon(1e-4));
  CHECK(Shaded(dish, DiskTarget{0.02}, {0.012, 0.31, 0.6}).lit(1) == testing::approx(dish_area - pi * 1e-4).epsilon(2e-5));
  // A corner that falls between two lines of u: plane mirror, square shadow.
  CHECK(Shaded(Flat{1, 1}, RectangleTarget{0.31, 0.17}, {0.1, -0.05, 0.6}).lit(1) ==
        testing::approx(1 - 0.31 * 0.17).epsilon(1e-6));
}

TEST_CASE("corners of a shadow over a hole are ends of the rule") {
  // 0.33 × 0.18 over a hole of 0.2: shaded is the rectangle less its part of the circle, by the area of a circle between two
  // chords.
  const double x = 0.165, y = 0.09, r = 0.1;
  const double over =
      2 * (y * std::sqrt(r * r - y * y) + r * r * std::asin(y / r));  // |y| < 0.09; the ends at ±0.165 lie outside
  REQUIRE(x > r);
  const double shaded = 4 * x * y - over;
  CHECK(Shaded(dish, RectangleTarget{2 * x, 2 * y}, {0, 0, 0.6}).lit(1) == testing::approx(dish_area - shaded).epsilon(2e-4));
}
