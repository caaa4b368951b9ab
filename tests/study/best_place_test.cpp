// SPDX-License-Identifier: MIT
// The best place of a target along the axis against scalar sums over the rays of a circle, and where there is none.
#include "study/best_place.h"

#include "../known_values/read_table.h"
#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

Scene bowl(double rim, double width, double place = 0.5) {
  return scene(point_sun(), mirror(SphereBowl{1, 2 * rim, 0}), target(DiskTarget{width}, {0, 0, place}), 200'000, 11);
}

BestPlace best_of(const Scene& made) {
  Watch watch;
  return find_best_place(made, 2, watch);
}

/// Share of a bowl's light (R = 1) within the radius at a place: the ray of height h = sin i crosses the axis at 1 − 1/(2 cos i)
/// from the vertex at the angle 2i. Light is even in h².
double share_within(double rim, double radius, double place) {
  return integral(0, rim * rim, 20'000,
                  [&](double h2) {
                    const double i = std::asin(std::sqrt(h2));
                    return std::abs(1 - 1 / (2 * std::cos(i)) - place) * std::tan(2 * i) < radius ? 1.0 : 0.0;
                  }) /
         (rim * rim);
}

/// The middle of all places whose share is within 1e-4 of the largest.
double best_by_sums(double rim, double radius, double low, double high) {
  double most = 0, from = 0, to = 0;
  for (int pass = 0; pass < 2; ++pass) {
    for (int k = 0; low + 2e-4 * k < high; ++k) {
      const double z = low + 2e-4 * k;
      const double share = share_within(rim, radius, z);
      if (pass == 0) most = std::max(most, share);
      if (pass == 1 && share > most - 1e-4) from = from == 0 ? z : from, to = z;
    }
  }
  return (from + to) / 2;
}

}  // namespace

TEST_CASE("a disk just wider than the circle of least confusion is best there" * doctest::test_suite("slow")) {
  // To third order this lies at three quarters of the way from the paraxial to the marginal focus; the table has the exact place
  // (1e-5).
  int compared = 0;
  for (const auto& row : known::read_table("sphere_aberration.csv")) {
    if (row.count("least_confusion_radius_over_R") == 0 || row.at("h_over_R") < 0.15) continue;
    const double rim = row.at("h_over_R"), shift = row.at("least_confusion_shift_from_paraxial_over_R");
    CAPTURE(rim);
    CHECK(shift == testing::approx(0.75 * row.at("LSA_over_R_exact")).epsilon(0.06));
    const BestPlace best = best_of(bowl(rim, 2.04 * row.at("least_confusion_radius_over_R")));
    // 2 % of play: within 2 % of the radius over tan 2i of the rim ray, and the error of the search.
    const double play = 0.02 * row.at("least_confusion_radius_over_R") / std::tan(2 * std::asin(rim));
    INFO(best.place.value, " ± ", *best.place.std_error, ", expected ", 0.5 - shift);
    CHECK(std::abs(best.place.value - (0.5 - shift)) < play + 4 * *best.place.std_error);
    CHECK(*best.place.std_error < 0.05 * shift);
    CHECK(best.place.value < 0.5 - 0.5 * shift);
    CHECK(*best.focus == 0.5);
    CHECK(best.from == testing::approx(0.25));
    CHECK(best.to == testing::approx(0.75));
    CHECK_FALSE(best.flat);
    CHECK_FALSE(best.at_edge);
    ++compared;
  }
  CHECK(compared == 2);
}

TEST_CASE("smaller disks are best where scalar sums say" * doctest::test_suite("slow")) {
  // Radii of 0.4 and 0.7 of the circle of least confusion at rim 0.4 R.
  for (const double part : {0.4, 0.7}) {
    CAPTURE(part);
    const double radius = part * 0.0108813;
    const double expected = best_by_sums(0.4, radius, 0.44, 0.5);
    const BestPlace best = best_of(bowl(0.4, 2 * radius));
    INFO(best.place.value, " ± ", *best.place.std_error, ", expected ", expected);
    CHECK(std::abs(best.place.value - expected) < 4 * *best.place.std_error + 3e-4);
    CHECK(share_within(0.4, radius, best.place.value) > share_within(0.4, radius, expected) - 2e-3);
  }
}

TEST_CASE("the place counts along the mirror's own axis, wherever it stands" * doctest::test_suite("slow")) {
  Scene made = bowl(0.4, 2.04 * 0.0108813, 0.5);
  const BestPlace upright = best_of(made);
  Scene turned = made;
  const Matrix3 turn = rotation(0, degrees(20), 0);
  turned.reflectors[0].pose = {Vector3(0.3, 0.1, -0.2), turn};
  turned.targets[0].pose = {turned.reflectors[0].pose.at + turn * Vector3(0, 0, 0.6), turn};
  turned.sun.aim_error = degrees(20);
  CHECK((turned.sun.direction() - turn * Vector3::UnitZ()).norm() < 1e-12);
  const BestPlace best = best_of(turned);
  CHECK(best.started_at == testing::approx(0.6));
  CHECK(best.place.value == testing::approx(upright.place.value).epsilon(2e-3));
  const Scene moved = with_target_at(turned, 0.45);
  CHECK((moved.targets[0].pose.at - (turned.reflectors[0].pose.at + turn * Vector3(0, 0, 0.45))).norm() < 1e-12);
}

TEST_CASE("a target that catches all over a stretch is flat; its middle is taken") {
  // A paraboloid under a point sun, rim angle 45°: a disk of radius a catches all light from f − a/tan 45° to f + a/tan 45°.
  const BestPlace best =
      best_of(scene(point_sun(), mirror(dish_of(degrees(45))), target(DiskTarget{0.3}, {0, 0, 1}), 100'000, 4));
  CHECK(best.flat);
  CHECK_FALSE(best.place.std_error.has_value());
  const double step = 1.0 / 32;
  CHECK(std::abs(best.even_from - 0.85) < step);
  CHECK(std::abs(best.even_to - 1.15) < step);
  CHECK(best.place.value == testing::approx(1).epsilon(0.02));
}

TEST_CASE("no light anywhere: it stays; best at an end of the search: it says so" * doctest::test_suite("slow")) {
  const BestPlace dark =
      best_of(scene(point_sun(), mirror(dish_of(degrees(30))), target(DiskTarget{0.01}, {5, 0, 1.1}), 20'000, 4));
  CHECK(dark.dark);
  CHECK(dark.place.value == testing::approx(1.1));
  CHECK_FALSE(dark.at_edge);
  // A flat mirror under the sun's disc: the nearer, the more; without a focus the search goes about the target's own place.
  const BestPlace near = best_of(scene(uniform_sun(), mirror(Flat{0.02, 0.02}), target(DiskTarget{0.02}, {0, 0, 3}), 100'000, 4));
  CHECK_FALSE(near.focus.has_value());
  CHECK(near.from == testing::approx(1.5));
  CHECK(near.at_edge);
  // Grids of 33, then 17 places, always with the end of the search among them, which is the best.
  CHECK(near.place.value == testing::approx(1.5).epsilon(1e-9));
}
