// SPDX-License-Identifier: MIT
// Spherical bowl and circular-arc trough under a point sun: aberration, axis crossing, caustic, circle of least confusion.
#include "../known_values/read_table.h"
#include "approx.h"
#include "scenes.h"
#include "trace/path_history.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

// Height above the axis at the paraxial focus for a ray at height h; R = 1 (closed form, sin i = h, 2i < 90°).
double aberration(double h) {
  const double incidence = std::asin(h);
  return (1 / std::cos(incidence) - 1) / 2 * std::tan(2 * incidence);
}

const Step* first_reflection(const PathHistory& story) {
  for (const Step& step : story.steps) {
    if (step.kind == StepKind::reflected) return &step;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("transverse aberration at the paraxial focus" * doctest::test_suite("slow")) {
  // The aberration rises with h, so half the light lies within that of h = rim · √½. A rim of √2 · h puts the table's number at
  // 50 %.
  int compared = 0;
  for (const auto& row : known::read_table("sphere_aberration.csv")) {
    const double h = row.at("h_over_R");
    if (h > 0.41) continue;
    CAPTURE(h);
    const double tabled = row.at("TSA_at_paraxial_focus_over_R_exact");
    CHECK(std::abs(aberration(h) - tabled) < 1e-8);
    const double rim = std::sqrt(2.0) * h;
    const TraceFigures bowl =
        traced(scene(point_sun(), mirror(SphereBowl{1, 2 * rim, 0}), target(DiskTarget{1}, {0, 0, 0.5}), 400'000, 3));
    const int freedom = bowl.replicates - 1;
    check_agrees("bowl 50 %", *bowl.targets[0].spot_width_50, 2 * tabled, freedom, 5e-5 * tabled);
    check_agrees("bowl 90 %", *bowl.targets[0].spot_width_90, 2 * aberration(rim * std::sqrt(0.9)), freedom, 5e-5 * tabled);
    // An arc trough is even in x: a rim of 2 h puts it at 50 %.
    if (h > 0.25) continue;
    const TraceFigures arc =
        traced(scene(point_sun(), mirror(ArcTrough{1, 4 * h, 0.2}), target(RectangleTarget{1, 0.3}, {0, 0, 0.5}), 400'000, 3));
    check_agrees("arc 50 %", *arc.targets[0].spot_width_50, 2 * tabled, freedom, 5e-5 * tabled);
    ++compared;
  }
  CHECK(compared == 3);
}

TEST_CASE("a ring of the bowl: the hub hole takes away the paraxial light") {
  // Between h = 0.399 and 0.401: all light lands at the table's height for 0.4 (d TSA/dh = 0.45: ± 0.5e-3).
  const TraceFigures ring =
      traced(scene(point_sun(), mirror(SphereBowl{1, 0.802, 0.798}), target(DiskTarget{1}, {0, 0, 0.5}), 100'000, 3));
  const double radius = std::sqrt((0.399 * 0.399 + 0.401 * 0.401) / 2);
  check_agrees("50 %", *ring.targets[0].spot_width_50, 2 * aberration(radius), ring.replicates - 1, 1e-6);
  CHECK(ring.targets[0].spot_rms_radius->value == testing::approx(0.049108742).epsilon(2e-3));
}

TEST_CASE("every axial ray crosses the axis where the table says, and touches the caustic") {
  // s = R − R/(2 cos i). The caustic is the nephroid X = R cos θ (½ + sin²θ), Y = R sin³θ from the centre, θ = i.
  const Scene made = scene(point_sun(), mirror(SphereBowl{1, 1.3, 0}), target(DiskTarget{1}, {0, 0, 0.5}), 4096, 3);
  const auto rows = known::read_table("sphere_aberration.csv");
  for (const auto& row : rows) {
    const double cosine = std::sqrt(1 - std::pow(row.at("h_over_R"), 2));
    CHECK(std::abs(1 - 1 / (2 * cosine) - row.at("axis_crossing_from_vertex_over_R")) < 1e-8);
  }
  int seen = 0;
  for (std::uint64_t n = 0; n < 300; ++n) {
    const PathHistory story = replay_path(made, n);
    const Step* step = first_reflection(story);
    if (step == nullptr) continue;
    ++seen;
    const double h = std::hypot(step->point.x(), step->point.y());
    const double cosine = std::sqrt(1 - h * h);
    const Vector3 outward(step->point.x() / h, step->point.y() / h, 0);
    const double inward = -step->direction.dot(outward);
    CHECK(std::abs(step->direction.dot(Vector3(-outward.y(), outward.x(), 0))) < 1e-6);  // stays in the meridional plane
    const double crossing = step->point.z() + step->direction.z() * h / inward;
    // A float start point is good to 1e-7: the crossing moves by h/cos³i/2 times that; near the axis h/inward amplifies it.
    CHECK(std::abs(crossing - (1 - 1 / (2 * cosine))) < 1e-6 + 1e-7 / h);
    // The ray touches the caustic R cos i / 2 from the mirror. From the centre, X is toward the mirror.
    const Vector3 touch = step->point + step->direction * cosine / 2;
    CHECK(std::abs((1 - touch.z()) - cosine * (0.5 + h * h)) < 1e-6);
    CHECK(std::abs(touch.dot(outward) - h * h * h) < 1e-6);
  }
  CHECK(seen > 200);
}

TEST_CASE("circle of least confusion" * doctest::test_suite("slow")) {
  // Table, good to 1e-5 R: shift from the paraxial focus toward the mirror, and radius.
  int compared = 0;
  for (const auto& row : known::read_table("sphere_aberration.csv")) {
    if (row.count("least_confusion_radius_over_R") == 0 || row.at("h_over_R") < 0.15) continue;
    const double rim = row.at("h_over_R");
    const double place = 0.5 - row.at("least_confusion_shift_from_paraxial_over_R");
    const double radius = row.at("least_confusion_radius_over_R");
    const auto caught = [&](double width, double z) {
      return traced(scene(point_sun(), mirror(SphereBowl{1, 2 * rim, 0}), target(DiskTarget{width}, {0, 0, z}), 400'000, 9))
          .targets[0]
          .intercept->value;
    };
    CHECK(caught(2 * (radius + 2.5e-5), place) == testing::approx(1).epsilon(1e-9));
    CHECK(caught(2 * radius * 0.95, place) < 1 - 1e-3);
    // A tenth of the shift away on either side the same circle loses light.
    CHECK(caught(2 * (radius + 2.5e-5), place * 0.99) < 1 - 1e-3);
    CHECK(caught(2 * (radius + 2.5e-5), place * 1.01) < 1 - 1e-3);
    ++compared;
  }
  CHECK(compared == 2);
}
