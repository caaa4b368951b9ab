// SPDX-License-Identifier: MIT
#include "report/trace/text_map.h"

#include <doctest/doctest.h>

#include <sstream>
#include <vector>

#include "figures_sample.h"
#include "report/numbers/text_layout.h"

using namespace dishwright;

namespace {

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

/// The rows of cells between the bars.
std::vector<std::string> cells(const std::string& text) {
  std::vector<std::string> out;
  for (const std::string& line : lines(text)) {
    const std::size_t bar = line.find('|');
    if (bar != std::string::npos) out.push_back(line.substr(bar + 1, line.size() - bar - 2));
  }
  return out;
}

MapFace even_face(double width, double height) {
  MapFace face;
  face.name = "front";
  face.across = "x";
  face.up = "y";
  face.columns = face.rows = 20;
  face.x_from = -width / 2;
  face.x_to = width / 2;
  face.y_from = -height / 2;
  face.y_to = height / 2;
  face.irradiance.assign(400, 1000);
  return face;
}

TargetFigures with_face(const MapFace& face) {
  TargetFigures target;
  target.map = {face};
  return target;
}

}  // namespace

TEST_CASE("a round blob is drawn round, brightest in the middle, zoomed to the light") {
  const std::string text = text_map(sample::kettle_figures().targets[0], Units::us);
  const std::vector<std::string> rows = cells(text);
  REQUIRE(rows.size() == 21);  // 41 columns, cells twice as high as wide
  for (const std::string& row : rows) CHECK(row.size() == 41);
  CHECK(rows[10][20] == '9');
  CHECK(rows[0][0] == ' ');
  CHECK(rows[0].find_first_of("123456789") == std::string::npos);
  // Up and down, left and right alike.
  for (int i = 0; i < 10; ++i) CHECK(rows[static_cast<std::size_t>(i)] == rows[static_cast<std::size_t>(20 - i)]);
  CHECK(rows[10] == std::string(rows[10].rbegin(), rows[10].rend()));
  // The blob ends at 3 σ, so 99 % of its light lies within 2.5 σ along an axis: -0.25 … 1.25 in, then 5 % air.
  CHECK(text.find("   -0.3") != std::string::npos);
  CHECK(text.find(" 1.3") != std::string::npos);
  CHECK(text.find("y [in], upward") != std::string::npos);
  CHECK(text.find("x [in]") != std::string::npos);
}

TEST_CASE("digits are tenths of the brightest cell") {
  MapFace face = even_face(0.1, 0.1);
  for (int row = 0; row < 20; ++row) {
    for (int column = 0; column < 20; ++column) {
      const double steps[] = {1000, 899, 500, 99, 0};
      face.irradiance[static_cast<std::size_t>(row * 20 + column)] = steps[column / 4];
    }
  }
  const std::vector<std::string> rows = cells(text_map(with_face(face), Units::si));
  CHECK(rows[5].find("9999") == 0);
  CHECK(rows[5].find("8888") != std::string::npos);
  CHECK(rows[5].find("5555") != std::string::npos);
  CHECK(rows[5].find("....") != std::string::npos);
}

TEST_CASE("shape: a square fills 41 x 21, a long thin face is stretched and says so") {
  CHECK(cells(text_map(with_face(even_face(0.1, 0.1)), Units::us)).size() == 21);
  const std::string tall = text_map(with_face(even_face(0.1, 2)), Units::us);
  CHECK(cells(tall).size() == 13);
  CHECK(cells(tall)[0] == std::string(41, '9'));
  CHECK(tall.find("stretched") != std::string::npos);
  CHECK(text_map(with_face(even_face(2, 0.1)), Units::us).find("stretched") != std::string::npos);
  CHECK(text_map(with_face(even_face(0.1, 0.1)), Units::us).find("stretched") == std::string::npos);
}

TEST_CASE("the hottest face is shown; without light there is no picture") {
  TargetFigures target = with_face(even_face(0.1, 0.1));
  CHECK(hottest_face(target) == &target.map[0]);
  target.map.push_back(sample::blob_face());
  CHECK(hottest_face(target) == &target.map[1]);
  target.map[0].irradiance.assign(400, 0);
  target.map.pop_back();
  CHECK(hottest_face(target) == nullptr);
  CHECK(text_map(target, Units::us).empty());
}

TEST_CASE("light in one bin only, at the edge, is still drawn") {
  MapFace face = even_face(0.1, 0.1);
  face.irradiance.assign(400, 0);
  face.irradiance[399] = 5;
  const std::string text = text_map(with_face(face), Units::si);
  CHECK(text.find("9999") != std::string::npos);
  CHECK(text.find("50.00") != std::string::npos);
  for (const std::string& line : lines(text)) CHECK(characters(line) <= text_width);
}
