// SPDX-License-Identifier: MIT
#include "report/trace/map_csv.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "approx.h"
#include "figures_sample.h"

using namespace dishwright;

namespace {

MapFace small_face() {
  MapFace face;
  face.name = "front";
  face.columns = 3;
  face.rows = 2;
  face.x_from = -1.5 * sample::inch;
  face.x_to = 1.5 * sample::inch;
  face.y_from = 0;
  face.y_to = 4 * sample::inch;
  face.irradiance = {0, 1000, 2000, 3000, 4000, 52340};
  return face;
}

}  // namespace

TEST_CASE("one row a bin, lowest y first, in inches or millimetres") {
  TargetFigures target;
  target.map = {small_face()};
  CHECK(map_csv(target, Units::us) ==
        "face,x [in],y [in],irradiance [kW/m2]\n"
        "front,-1,1,0\nfront,0,1,1\nfront,1,1,2\n"
        "front,-1,3,3\nfront,0,3,4\nfront,1,3,52.34\n");
  CHECK(map_csv(target, Units::si).starts_with("face,x [mm],y [mm],irradiance [kW/m2]\nfront,-25.4,25.4,0\n"));
}

TEST_CASE("of a round face only the bins whose centre lies on it") {
  TargetFigures target;
  target.map = {sample::blob_face()};
  const std::string text = map_csv(target, Units::us);
  int inside = 0;
  for (int row = 0; row < 64; ++row) {
    for (int column = 0; column < 64; ++column) inside += std::hypot(column - 31.5, row - 31.5) <= 32 ? 1 : 0;
  }
  CHECK(std::count(text.begin(), text.end(), '\n') == inside + 1);
  CHECK(inside == testing::approx(3217).epsilon(0.01));  // π 32²
}

TEST_CASE("the rim belongs to the face") {
  MapFace face = sample::blob_face();
  CHECK(on_face(face, 0, face.y_to));
  CHECK_FALSE(on_face(face, face.x_to, face.y_to));
  face.round = false;
  CHECK(on_face(face, face.x_to, face.y_to));
  CHECK_FALSE(on_face(face, 1.01 * face.x_to, 0));
}
