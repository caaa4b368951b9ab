// SPDX-License-Identifier: MIT
// Maps of target faces: their layout, and into which bin a place falls, edges and corners included.
#include "tally/face_counts.h"

#include "result/face_maps.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "approx.h"
#include "counting.h"

using namespace dishwright;

namespace {

constexpr double pi = std::numbers::pi;

struct Bin {
  int column = 0, row = 0;
  bool operator==(const Bin&) const = default;
};

Bin bin_at(const FaceCounts& chart, double x, double y, double z = 0) {
  const double weight = 1;
  int bin = -1;
  chart.bins({1, &x, &y, &z, &weight}, &bin);
  return {bin % chart.face.columns, bin / chart.face.columns};
}

std::vector<FaceCounts> charts_of(const TargetShape& shape) {
  const Scene scene = testing::scene_of({shape});
  return make_face_counts(scene, make_surfaces(scene), {0});
}

}  // namespace

TEST_CASE("map layout: about 20 000 square bins over the face, finer about a small spot, between 40 and 512 each way") {
  // Square bins of side √(w l / 20 000) [m]: 2 m × 0.5 m gives 7.07 mm, 283 × 71 (rounded up).
  const MapFace wall = target_faces(RectangleTarget{2, 0.5}, 0).at(0);
  CHECK(wall.columns == 283);
  CHECK(wall.rows == 71);
  CHECK(wall.x_from == -1);
  CHECK(wall.x_to == 1);
  CHECK(wall.y_from == -0.25);
  CHECK(wall.y_to == 0.25);
  CHECK(!wall.round);
  CHECK(wall.name == "front");
  // A width of 120 mm is to span 24 bins: 5 mm each.
  const MapFace finer = target_faces(RectangleTarget{2, 0.5}, 0.12).at(0);
  CHECK(finer.columns == 400);
  CHECK(finer.rows == 100);
  // A wish for coarser bins than the usual ones changes nothing; a wish for finer ones than 512 ends there.
  CHECK(target_faces(RectangleTarget{2, 0.5}, 1).at(0).columns == 283);
  CHECK(target_faces(RectangleTarget{2, 0.5}, 1e-6).at(0).columns == 512);
  // A strip 1000 : 1 has at least 40 bins across.
  const MapFace strip = target_faces(RectangleTarget{10, 0.01}, 0).at(0);
  CHECK(strip.columns == 512);
  CHECK(strip.rows == 40);
}

TEST_CASE("map layout: faces of round bodies are unrolled, a pot has side and base, a point none") {
  const MapFace disk = target_faces(DiskTarget{0.3}, 0).at(0);
  CHECK(disk.round);
  CHECK(disk.columns == disk.rows);
  const MapFace tube = target_faces(TubeTarget{0.1, 2}, 0).at(0);
  CHECK(tube.x_from == 0);
  CHECK(tube.x_to == testing::approx(pi * 0.1));
  CHECK(tube.y_from == -1);
  CHECK(tube.y_to == 1);
  CHECK(tube.up == "along");
  // A ball's equal-area unrolling: around the equator, and the height; π D · D is its whole surface (Archimedes).
  const MapFace ball = target_faces(BallTarget{0.2}, 0).at(0);
  CHECK((ball.x_to - ball.x_from) * (ball.y_to - ball.y_from) == testing::approx(counted_area(BallTarget{0.2})));
  const auto pot = target_faces(PotTarget{0.25, 0.15}, 0);
  REQUIRE(pot.size() == 2);
  CHECK(pot[0].name == "side");
  CHECK(pot[0].y_from == 0);
  CHECK(pot[0].y_to == 0.15);
  CHECK(pot[1].name == "base");
  CHECK(pot[1].round);
  CHECK(target_faces(PointTarget{}, 0).empty());
}

TEST_CASE(
    "bins of a flat face: a place on a line between bins belongs to the upper one, edges and rounding beyond them to the edge "
    "bin") {
  FaceCounts chart;
  chart.face.columns = 8, chart.face.rows = 4;
  chart.face.x_from = -1, chart.face.x_to = 1, chart.face.y_from = -0.5, chart.face.y_to = 0.5;
  CHECK(bin_at(chart, -1, -0.5) == Bin{0, 0});
  CHECK(bin_at(chart, 0.99, 0.49) == Bin{7, 3});
  CHECK(bin_at(chart, -0.75, -0.25) == Bin{1, 1});
  CHECK(bin_at(chart, std::nextafter(-0.75, -1), std::nextafter(-0.25, -1)) == Bin{0, 0});
  CHECK(bin_at(chart, 0, 0) == Bin{4, 2});
  CHECK(bin_at(chart, 1, 0.5) == Bin{7, 3});          // the far edges
  CHECK(bin_at(chart, 1 + 1e-12, 0.5) == Bin{7, 3});  // and rounding beyond them
  CHECK(bin_at(chart, -1 - 1e-12, -0.5 - 1e-12) == Bin{0, 0});
}

TEST_CASE("bins of a tube: from +x on, counter-clockwise seen from the +y end") {
  // Seen from +y with x to the right, up is −z: so the first quarter turn ends at −z.
  const FaceCounts tube = charts_of(TubeTarget{0.1, 2}).at(0);
  const int columns = tube.face.columns;
  CHECK(tube.radius == testing::approx(0.05));
  const auto column = [&](double turn) {
    return bin_at(tube, 0.05 * std::cos(2 * pi * turn), 0, -0.05 * std::sin(2 * pi * turn)).column;
  };
  CHECK(column(0) == 0);
  CHECK(column(-1e-9) == columns - 1);
  CHECK(column(0.2501) == static_cast<int>(0.2501 * columns));
  CHECK(column(0.7501) == static_cast<int>(0.7501 * columns));
  CHECK(bin_at(tube, 0.05, -1).row == 0);
  CHECK(bin_at(tube, 0.05, 1).row == tube.face.rows - 1);
}

TEST_CASE("bins of a ball and a pot: from +x on, counter-clockwise seen from above; rows by height") {
  const FaceCounts ball = charts_of(BallTarget{0.2}).at(0);
  CHECK(bin_at(ball, 0, 0.1, 0).column == ball.face.columns / 4);
  CHECK(bin_at(ball, 0, -0.1, 0).column == static_cast<int>(0.75 * ball.face.columns));
  CHECK(bin_at(ball, 0, 0, -0.1).row == 0);
  CHECK(bin_at(ball, 0, 0, 0.1).row == ball.face.rows - 1);
  const auto pot = charts_of(PotTarget{0.25, 0.15});
  REQUIRE(pot.size() == 2);
  CHECK(bin_at(pot[0], 0.125, 0, 0).column == 0);
  CHECK(bin_at(pot[0], 0.125, 0, 0).row == 0);
  // An azimuth is good to 1e-7 of a turn.
  CHECK(bin_at(pot[0], -0.125, 1e-6, 0.15).column == (pot[0].face.columns - 1) / 2);
  CHECK(bin_at(pot[0], -0.125, 1e-6, 0.15).row == pot[0].face.rows - 1);
  // The rim belongs to both faces: on the base it is the edge bin of the middle row.
  CHECK(bin_at(pot[1], 0.125, 0, 0) == Bin{pot[1].face.columns - 1, pot[1].face.rows / 2});
}

TEST_CASE("charts: one a counted face, in the order of the file; lids and mirrors have none") {
  const Scene scene = testing::scene_of({PotTarget{0.25, 0.15}, DiskTarget{0.3}});
  const SurfaceList list = make_surfaces(scene);
  const std::vector<FaceCounts> charts = make_face_counts(scene, list, {0, 0});
  REQUIRE(charts.size() == 3);
  const std::array<FaceForm, 3> forms = {FaceForm::upright, FaceForm::disc, FaceForm::disc};
  const std::array<const char*, 3> names = {"side", "base", "front"};
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(charts[k].form == forms[k]);
    CHECK(charts[k].face.name == names[k]);
    CHECK(charts[k].target == (k < 2 ? 0 : 1));
    CHECK(list.surfaces[static_cast<std::size_t>(charts[k].surface)].target_face->name == names[k]);
  }
}
