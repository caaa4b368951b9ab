// SPDX-License-Identifier: MIT
#include "report/trace/map_view.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace dishwright;

namespace {

/// A face with a Gaussian spot of rms width `sigma` about (x, y), 100 × 100 bins.
MapFace face_with(double width, double height, double x, double y, double sigma, const std::string& name = "front") {
  MapFace face;
  face.name = name;
  face.columns = face.rows = 100;
  face.x_from = -width / 2, face.x_to = width / 2, face.y_from = -height / 2, face.y_to = height / 2;
  for (int i = 0; i < 10000; ++i) {
    const double u = face.x_from + (i % 100 + 0.5) * width / 100 - x, v = face.y_from + (i / 100 + 0.5) * height / 100 - y;
    face.irradiance.push_back(std::exp(-(u * u + v * v) / (2 * sigma * sigma)));
  }
  return face;
}

TargetFigures with_spot(double width_90, double x, double y) {
  TargetFigures figures;
  figures.spot_width_90 = Estimate{width_90, 0.0, "m"};
  figures.plane_centroid = {x, y};
  return figures;
}

}  // namespace

TEST_CASE("a Gaussian spot: half its light within 2.355 sigma, 90 % within 4.292 sigma across") {
  // Share within r: 1 − exp(−r²/2σ²), so the widths are 2σ√(2 ln 2) and 2σ√(2 ln 10).
  const MapFace face = face_with(1, 1, 0.1, -0.05, 0.08);
  CHECK(share_width(face, 0.5) == testing::approx(2 * 0.08 * std::sqrt(2 * std::log(2))).epsilon(0.03));
  CHECK(share_width(face, 0.9) == testing::approx(2 * 0.08 * std::sqrt(2 * std::log(10))).epsilon(0.03));
  CHECK(light_centre(face)[0] == testing::approx(0.1).epsilon(0.01));
  CHECK(light_centre(face)[1] == testing::approx(-0.05).epsilon(0.01));
}

TEST_CASE("small spots are shown closer, about the spot and within the face") {
  const MapFace face = face_with(1, 1, 0.45, 0, 0.03);
  const MapWindow view = map_view(with_spot(0.13, 0.45, 0), face);
  CHECK(view.width() == testing::approx(0.26));
  CHECK(view.height() == testing::approx(0.26));
  CHECK(view.x_to == testing::approx(0.5));
  CHECK(view.y_from == testing::approx(-0.13));
}

TEST_CASE("large spots, spots beside the face and dark faces: the whole is shown") {
  const MapFace face = face_with(1, 1, 0, 0, 0.1);
  CHECK(map_view(with_spot(0.31, 0, 0), face) == whole_window(face));
  CHECK(map_view(with_spot(0.1, 3, 0), face) == whole_window(face));
  MapFace dark = face;
  dark.irradiance.assign(10000, 0);
  CHECK(map_view(TargetFigures{}, dark) == whole_window(dark));
  CHECK(share_width(dark, 0.5) == 0);
}

TEST_CASE("a long face is cut to a piece about the light") {
  const MapFace bar = face_with(0.1, 2, 0, 0.6, 0.3);
  const MapWindow view = map_view(TargetFigures{}, bar);
  CHECK(view.width() == testing::approx(0.1));
  CHECK(view.height() == testing::approx(0.125));
  CHECK((view.y_from + view.y_to) / 2 == testing::approx(light_centre(bar)[1]).epsilon(0.01));
}

TEST_CASE("a view never falls below 16 bins") {
  const MapFace face = face_with(1, 1, 0, 0, 0.001);
  CHECK(map_view(with_spot(0.001, 0, 0), face).width() == testing::approx(0.16));
}

TEST_CASE("shares of the faces follow light, not brightness") {
  TargetFigures figures;
  MapFace side = face_with(3, 1, 0, 0, 1e9), base = face_with(1, 1, 0, 0, 1e9);
  figures.map = {side, base};  // both evenly lit: areas 3 and 1
  CHECK(face_share(figures, figures.map[0]) == testing::approx(0.75));
  CHECK(face_share(figures, figures.map[1]) == testing::approx(0.25));
  CHECK(face_share(TargetFigures{}, base) == 0);
}
