// SPDX-License-Identifier: MIT
// Single rays by replay: every axial ray of a parabola runs the same length and meets the focus; tilted rays show coma.
#include <Eigen/Geometry>
#include <algorithm>

#include "../known_values/read_table.h"
#include "scenes.h"
#include "trace/path_history.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

double distance_from_line(const Vector3& point, const Vector3& from, const Vector3& along) {
  return (point - from).cross(along).norm();
}

}  // namespace

TEST_CASE("paraboloid: path from a plane to the focus is plane + f for every ray, which meets the focus to 1 µm") {
  for (const double rim : {20.0, 60.0, 90.0, 110.0}) {
    Reflector dish = mirror(dish_of(degrees(rim)));
    dish.pose.at = Vector3(0.3, -0.2, 0.1);
    const Vector3 focus = dish.pose.at + Vector3(0, 0, 1);
    const Scene made = scene(point_sun(), dish, target(BallTarget{0.01}, focus), 4096, 41);
    int seen = 0;
    for (std::uint64_t n = 0; n < 100; ++n) {
      const PathHistory story = replay_path(made, n);
      if (story.steps.size() < 3) continue;  // the point drawn was not on the silhouette
      const Step& step = story.steps.at(1);
      REQUIRE(step.kind == StepKind::reflected);
      ++seen;
      CHECK(distance_from_line(focus, step.point, step.direction) < 1e-6);
      // From the plane z = 5: 5 − z to the mirror, then to the focus. Definition of the parabola; f + 5 − vertex.
      CHECK(std::abs((5 - step.point.z()) + (focus - step.point).norm() - (5 - 0.1 + 1)) < 1e-6);
      CHECK((story.steps.front().direction - Vector3(0, 0, -1)).norm() < 1e-12);
      const Step& end = story.steps.at(2);
      CHECK(end.kind == StepKind::target);
      CHECK(std::abs((end.point - focus).norm() - 0.005) < 1e-7);
    }
    CHECK(seen > 60);
  }
}

TEST_CASE("trough: every ray meets the focal line at its own y") {
  const Scene made = scene(point_sun(), mirror(trough_of(degrees(80), 0.6)), target(TubeTarget{0.01, 0.8}, {0, 0, 1}), 4096, 43);
  int seen = 0;
  for (std::uint64_t n = 0; n < 100; ++n) {
    const PathHistory story = replay_path(made, n);
    if (story.steps.size() < 3) continue;
    const Step& step = story.steps.at(1);
    ++seen;
    CHECK(distance_from_line(Vector3(0, step.point.y(), 1), step.point, step.direction) < 1e-6);
    CHECK(std::abs(step.direction.y()) < 1e-12);
  }
  CHECK(seen > 60);
}

TEST_CASE("coma of a tilted beam, ray by ray, in a trough (the tabled rays lie in its plane)") {
  // Table: reflection in the plane, f = 1, landing on z = f of the rays that meet the mirror at x = ±a, and at the vertex.
  // The landing is a smooth function of the meeting place x: a cubic through the four replayed rays nearest to x gives it there.
  int compared = 0;
  for (const auto& row : known::read_table("paraboloid_coma.csv")) {
    const double field = row.at("field_deg"), ratio = row.at("F=f/D");
    if (field != 0.5 || ratio > 3) continue;
    CAPTURE(ratio);
    // The table's image lies on +x: the sun leans to −x.
    const Scene made = scene(point_sun(degrees(field), pi), mirror(Trough{1, 1 / ratio, 0.1}),
                             target(RectangleTarget{0.2, 0.3}, {0, 0, 1}), 4096, 47);
    std::vector<std::pair<double, double>> rays;
    for (std::uint64_t n = 0; n < 400; ++n) {
      const PathHistory story = replay_path(made, n);
      if (story.steps.size() < 3 || story.steps[2].kind != StepKind::target) continue;
      rays.emplace_back(story.steps[1].point.x(), story.steps[2].own_point.x());
    }
    REQUIRE(rays.size() > 200);
    const auto landing = [&](double x) {
      std::sort(rays.begin(), rays.end(),
                [x](const auto& a, const auto& b) { return std::abs(a.first - x) < std::abs(b.first - x); });
      double value = 0;
      for (std::size_t i = 0; i < 4; ++i) {
        double share = 1;
        for (std::size_t j = 0; j < 4; ++j) share *= j == i ? 1 : (x - rays[j].first) / (rays[i].first - rays[j].first);
        value += share * rays[i].second;
      }
      return value;
    };
    // 1 µm for the rays (extrapolation to the rim at most doubles it); coma at f/D = 2 is 418 µm.
    CHECK(std::abs(landing(0) - row.at("y_chief_over_f")) < 2e-6);
    CHECK(std::abs(landing(0.5 / ratio) - row.at("y_plus_rim_over_f")) < 4e-6);
    CHECK(std::abs(landing(-0.5 / ratio) - row.at("y_minus_rim_over_f")) < 4e-6);
    ++compared;
  }
  CHECK(compared == 3);
}
