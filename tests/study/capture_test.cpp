// SPDX-License-Identifier: MIT
// Concentration limits: the receiver of the full-capture width catches everything, a smaller one does not.
#include "../known_values/read_table.h"
#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

double intercept_of(const ReflectorShape& dish, const TargetShape& receiver, const Sun& shine = uniform_sun()) {
  return traced(scene(shine, mirror(dish), target(receiver, {0, 0, 1}), 400'000, 5)).targets.at(0).intercept->value;
}

// All is caught at width · 1.001; at width · 0.97 some is lost, though little: only the tips of the rim's own images.
template <class Receiver>
void check_full_capture(const ReflectorShape& dish, double width, Receiver receiver) {
  CAPTURE(width);
  CHECK(intercept_of(dish, receiver(width * 1.001)) == testing::approx(1).epsilon(1e-9));
  const double smaller = intercept_of(dish, receiver(width * 0.97));
  CHECK(smaller < 1 - 2e-6);
  CHECK(smaller > 0.97);
}

}  // namespace

TEST_CASE("full-capture widths of disk, ball, band and tube from the tabled limits" * doctest::test_suite("slow")) {
  // Table (closed forms, θs = 4.65 mrad): limit = aperture / receiver area, so width = aperture width / √C for the disk,
  // and / √(4 C) for the ball; aperture width / C for the band, and / (π C) for the tube.
  int compared = 0;
  for (const auto& row : known::read_table("concentration_limits.csv")) {
    const double rim = row.at("rim_angle_deg");
    const double aperture = 4 * std::tan(degrees(rim) / 2);
    CAPTURE(rim);
    if (rim == 20 || rim == 40 || rim == 60) {
      check_full_capture(dish_of(degrees(rim)), aperture / std::sqrt(row.at("dish_flat_full_capture_C")),
                         [](double w) { return DiskTarget{w}; });
      check_full_capture(trough_of(degrees(rim), 0.5), aperture / row.at("trough_flat_full_capture_C"), [](double w) {
        return RectangleTarget{w, 0.7};
      });
      ++compared;
    }
    if (rim == 40 || rim == 75 || rim == 90) {
      check_full_capture(dish_of(degrees(rim)), aperture / std::sqrt(4 * row.at("dish_sphere_C")),
                         [](double w) { return BallTarget{w}; });
      check_full_capture(trough_of(degrees(rim), 0.5), aperture / (pi * row.at("trough_tube_C")), [](double w) {
        return TubeTarget{w, 0.7};
      });
      ++compared;
    }
  }
  CHECK(compared == 6);
}

TEST_CASE("the widths belong to the sun's disc: a point sun needs none, an aureole more") {
  const double width = 2 * 1.001 * std::sin(sun_angle) * 2 / (1 + std::cos(degrees(45))) / std::cos(degrees(45) + sun_angle);
  CHECK(intercept_of(dish_of(degrees(45)), DiskTarget{1e-4}, point_sun()) == testing::approx(1).epsilon(1e-9));
  Sun shine = sun(DiscProfile::aureole);
  shine.aureole_share = 0.2;
  const double caught = intercept_of(dish_of(degrees(45)), DiskTarget{width}, shine);
  CHECK(caught < 0.87);  // four fifths, and the part of the aureole that falls within the rim's wider image
  CHECK(caught > 0.80);
}
