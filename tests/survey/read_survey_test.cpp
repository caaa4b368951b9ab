// SPDX-License-Identifier: MIT
#include "survey/read_survey.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cstring>
#include <fstream>
#include <numbers>

#include "approx.h"
#include "base/error.h"
#include "scratch.h"
#include "survey/mistakes.h"
#include "survey/survey.h"

using namespace dishwright;
namespace fs = std::filesystem;

namespace {

constexpr double inch = 0.0254;

struct Folder : testing::Scratch {
  fs::path write(const std::string& name, const std::string& content) const {
    std::ofstream(path / name, std::ios::binary) << content;
    return path / name;
  }
};

SurveyInput millimetres() {
  SurveyInput input;
  input.cloud_unit = std::get<Quantity>(parse_quantity("1 mm", Dimension::length)).unit;
  return input;
}

std::vector<Eigen::Vector3f> dish_points() {
  std::vector<Eigen::Vector3f> out;
  for (int i = -6; i <= 6; ++i) {
    for (int j = -6; j <= 6; ++j) {
      const double x = 50.0 * i, y = 50.0 * j;
      out.emplace_back(x, y, (x * x + y * y) / 2400);
    }
  }
  return out;
}

std::string bytes_of(float value, bool big) {
  std::string bytes(4, '\0');
  std::memcpy(bytes.data(), &value, 4);
  if (big != (std::endian::native == std::endian::big)) std::reverse(bytes.begin(), bytes.end());
  return bytes;
}

void check_dish(const SurveyFile& found) {
  CHECK(found.survey.points.size() == 169);
  const FitFigures figures =
      fit_figures(fit_shape(found.survey, std::vector<char>(found.survey.points.size(), 1), ShapeKind::paraboloid));
  CHECK(figures.focal_length.value == testing::approx(0.6).epsilon(1e-5));
}

}  // namespace

TEST_CASE("clock and ring: 12 is up, 3 is right, seen from the sun side") {
  const Folder scratch;
  std::string table = "ring [in],clock [h],depth [in]\n0,12,6\n\n# a remark\n";
  for (const char* row : {"12,12,4 1/2", "12,3,4-1/2", "12,6,4.5", "12,9,4 8/16", "20,1:30,1 13/16", "20,4 1/2,1 13/16",
                          "20,7.5,1 13/16", "20,10:30,1 13/16", "6,2,5 5/8", "6,8,5 5/8", "6,11,5 5/8"}) {
    table += std::string(row) + "\n";
  }
  const SurveyFile found = read_survey(scratch.write("r.csv", table), {});
  REQUIRE(found.survey.points.size() == 12);
  CHECK((found.survey.points[1] - Vector3(0, 12, -4.5) * inch).norm() < 1e-12);
  CHECK((found.survey.points[2] - Vector3(12, 0, -4.5) * inch).norm() < 1e-12);
  CHECK((found.survey.points[4] - Vector3(-12, 0, -4.5) * inch).norm() < 1e-12);
  CHECK((found.survey.points[5] - Vector3(20 * std::sqrt(0.5), 20 * std::sqrt(0.5), -1.8125) * inch).norm() < 1e-12);
  CHECK(found.survey.rows[1] == 5);  // the line in the file
  CHECK(found.rings.size() == 3);
  CHECK(found.survey.step == testing::approx(inch / 16));
  CHECK(found.survey.under_rim);
}

TEST_CASE("decimals that are decimals are not taken for sixteenths") {
  const Folder scratch;
  std::string table = "ring [in],clock [h],depth [in]\n0,12,6.0\n";
  for (const int ring : {4, 8, 12, 16, 20}) {
    for (const int clock : {12, 3, 6, 9})
      table +=
          std::to_string(ring) + "," + std::to_string(clock) + "," + std::to_string(6 - ring * ring / 96.0).substr(0, 3) + "\n";
  }
  CHECK_NOTHROW(read_survey(scratch.write("tenths.csv", table), {}));
}

TEST_CASE("clouds: PLY in text and both byte orders, OBJ, STL, table") {
  const Folder scratch;
  const std::vector<Eigen::Vector3f> points = dish_points();
  const auto header = [&](const std::string& format) {
    return "ply\nformat " + format + " 1.0\ncomment a dish\nelement vertex " + std::to_string(points.size()) +
           "\nproperty float x\nproperty float y\nproperty uchar red\nproperty float z\nelement face 0\nproperty list uchar int "
           "vertex_indices\nend_header\n";
  };
  std::string text = header("ascii"), little = header("binary_little_endian"), big = header("binary_big_endian"),
              obj = "# dish\n", table = "x [mm],y [mm],z [mm]\n";
  for (const Eigen::Vector3f& p : points) {
    text += fmt::format("{} {} 200 {}\n", p.x(), p.y(), p.z());
    obj += fmt::format("v {} {} {}\nvn 0 0 1\n", p.x(), p.y(), p.z());
    table += fmt::format("{},{},{}\n", p.x(), p.y(), p.z());
    little += bytes_of(p.x(), false) + bytes_of(p.y(), false) + "r" + bytes_of(p.z(), false);
    big += bytes_of(p.x(), true) + bytes_of(p.y(), true) + "r" + bytes_of(p.z(), true);
  }
  check_dish(read_survey(scratch.write("a.ply", text), millimetres()));
  check_dish(read_survey(scratch.write("b.ply", little), millimetres()));
  check_dish(read_survey(scratch.write("c.ply", big), millimetres()));
  check_dish(read_survey(scratch.write("d.obj", obj), millimetres()));
  check_dish(read_survey(scratch.write("e.csv", table), {}));
  // STL: each point as the corner of three facets.
  std::string stl = std::string(80, ' ') + std::string("\xa9\0\0\0", 4), solid = "solid dish\n";
  for (const Eigen::Vector3f& p : points) {
    stl += std::string(12, '\0');
    solid += "facet normal 0 0 1\nouter loop\n";
    for (int corner = 0; corner < 3; ++corner) {
      stl += bytes_of(p.x(), false) + bytes_of(p.y(), false) + bytes_of(p.z(), false);
      solid += fmt::format("vertex {} {} {}\n", p.x(), p.y(), p.z());
    }
    stl += std::string(2, '\0');
    solid += "endloop\nendfacet\n";
  }
  check_dish(read_survey(scratch.write("f.stl", stl), millimetres()));
  check_dish(read_survey(scratch.write("g.stl", solid + "endsolid\n"), millimetres()));
}

TEST_CASE("the clock: half an hour after twelve, hours and minutes") {
  const Folder scratch;
  std::string table = "ring [in],clock [h],depth [in]\n0,12,6\n";
  for (const char* row : {"12,12,4.5", "12,3,4.5", "12,6,4.5", "12,9,4.5", "20,12:30,1.8", "20,0:30,1.8", "20,12.5,1.8",
                          "20,4:05,1.8", "6,2,5.6", "6,8,5.6", "6,10:59,5.6"}) {
    table += std::string(row) + "\n";
  }
  const SurveyFile found = read_survey(scratch.write("r.csv", table), {});
  REQUIRE(found.survey.points.size() == 12);
  for (const std::size_t k : {5U, 6U, 7U}) {
    CHECK(found.survey.points[k].x() == testing::approx(20 * inch * std::sin(std::numbers::pi / 12)));
    CHECK(found.survey.points[k].y() == testing::approx(20 * inch * std::cos(std::numbers::pi / 12)));
  }
}

TEST_CASE("a large typed table is readings, not a cloud: the columns say what it is") {
  const Folder scratch;
  const auto grid = [](int side, const char* format) {
    std::string table = "x [mm],y [mm],depth [mm]\n";
    for (int i = -side; i <= side; ++i) {
      for (int j = -side; j <= side; ++j)
        table += fmt::format(fmt::runtime(format), 500.0 * i / side, 500.0 * j / side,
                             250 - (i * i + j * j) * 0.25e6 / (side * side) / 2400);
    }
    return table;
  };
  for (const auto& [side, bytes] : {std::pair{22, std::size_t{20'000}}, std::pair{180, std::size_t{2'000'001}}}) {
    const std::string table = grid(side, "{:.3f},{:.3f},{:.3f}\n");
    REQUIRE(table.size() > bytes);
    const SurveyFile found = read_survey(scratch.write("grid.csv", table), {});
    CHECK(found.places == PlaceWords::grid);
    CHECK(found.survey.under_rim);
    CHECK(found.row_word == "line");
    CHECK(found.survey.points.size() == static_cast<std::size_t>((2 * side + 1) * (2 * side + 1)));
  }
}

TEST_CASE("a place typed twice an inch apart is refused, a third reading decides") {
  const Folder scratch;
  std::string table = "ring [in],clock [h],depth [in]\n0,12,6\n";
  for (const int ring : {8, 12, 16, 20}) {
    for (const int clock : {12, 3, 5, 8}) table += fmt::format("{},{},{:.3f}\n", ring, clock, 6 - ring * ring / 96.0);
  }
  CHECK_THROWS_AS(read_survey(scratch.write("two.csv", table + "12,3,6.5\n"), {}), InputError);
  const Survey found = survey_points(read_survey(scratch.write("three.csv", table + "12,3,6.5\n12,3,4.55\n"), {}).survey,
                                     ShapeKind::paraboloid, false);
  REQUIRE(found.repeats.wild.size() == 1);
  CHECK(found.repeats.wild[0].row == 19);
  CHECK(found.repeats.wild[0].set_aside);
}
