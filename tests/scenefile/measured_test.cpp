// SPDX-License-Identifier: MIT
// Measured mirrors in a project file: readings whose true surface is known.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>

#include "approx.h"
#include "base/error.h"
#include "scenefile/read_scene.h"
#include "scratch.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254, pi = 3.14159265358979323846;

/// Depths of a paraboloid, its vertex at (shift, 0), 6 in below the rim plane; a ring table to 23 in.
std::string ring_table(double f, double shift) {
  std::string out = "ring [in],clock [h],depth [in]\n";
  for (const double ring : {0.0, 5.0, 9.0, 13.0, 17.0, 20.0, 23.0}) {
    for (int clock = 1; clock <= (ring == 0 ? 1 : 12); ++clock) {
      const double x = ring * std::sin(pi * clock / 6), y = ring * std::cos(pi * clock / 6);
      out += fmt::format("{},{},{:.8f}\n", ring, clock, 6 - ((x - shift) * (x - shift) + y * y) / (4 * f));
    }
  }
  return out;
}

void write(const Scratch& scratch, const std::string& name, const std::string& text) {
  std::ofstream(scratch.path / name, std::ios::binary) << text;
}

Scene read(const Scratch& scratch, const std::string& keys, const std::string& at = "\"focus of dish\"") {
  const std::string text = "[sun]\n[reflector.dish]\nreflectance = 0.9\nshape = \"measured\"\n" + keys +
                           "[target.kettle]\nshape = \"disk\"\nwidth = \"1 in\"\nat = " + at + "\n";
  return read_scene_text(text, (scratch.path / "test.toml").string(), {});
}

const Measured& dish_of(const Scene& scene) { return std::get<Measured>(scene.reflectors.at(0).shape); }

std::string errors(const Scratch& scratch, const std::string& keys) {
  try {
    (void)read(scratch, keys);
  } catch (const InputError& error) {
    return error.what();
  }
  return "none";
}

bool has_note(const Scene& scene, const std::string& part) {
  return std::any_of(scene.notes.begin(), scene.notes.end(),
                     [&](const std::string& note) { return note.find(part) != std::string::npos; });
}

double height_at(const Measured& dish, double x, double y) {
  double h = 0, slope_x = 0, slope_y = 0;
  dish.surface->heights(1, &x, &y, &h, &slope_x, &slope_y);
  return h;
}

}  // namespace

TEST_CASE("depths: origin under the middle of the rim, focus where light square to the rim meets") {
  const Scratch scratch;
  write(scratch, "r.csv", ring_table(24, 0.5));
  const Scene scene = read(scratch, "file = \"r.csv\"\n");
  const Measured& dish = dish_of(scene);
  CHECK(dish.width == testing::approx(46 * inch).epsilon(1e-6));
  CHECK(dish.length == 0);
  // The vertex is 0.5 in to the side, 0.25/96 in below the origin.
  const Vector3 focus(0.5 * inch, 0, (24 - 0.25 / 96) * inch);
  CHECK((scene.targets[0].pose.at - focus).norm() < 1e-4 * inch);
  CHECK(height_at(dish, 0, 0) == testing::approx(0).epsilon(1e-6));
  CHECK(height_at(dish, 0.4, 0.1) ==
        testing::approx(((0.4 / inch - 0.5) * (0.4 / inch - 0.5) + 0.01 / inch / inch - 0.25) / 96 * inch).epsilon(1e-5));
  CHECK(has_note(scene, "taken as 46 in wide"));
  CHECK(has_note(scene, "73 readings"));
  const Scene cut = read(scratch, "file = \"r.csv\"\nwidth = \"44 in\"\nhole_width = \"2 in\"\n");
  CHECK(dish_of(cut).width == testing::approx(44 * inch));
  CHECK(dish_of(cut).hole_width == testing::approx(2 * inch));
  CHECK(dish_of(cut).fingerprint == dish.fingerprint);
  CHECK_FALSE(has_note(cut, "taken as"));
}

TEST_CASE("a trough comes out as a rectangle by itself") {
  const Scratch scratch;
  std::string table = "x [in],y [in],depth [in]\n";
  for (int i = -6; i <= 6; ++i) {
    for (int j = -5; j <= 5; ++j) table += fmt::format("{},{},{:.8f}\n", 3 * i, 6 * j, 6 - 9.0 * i * i / 48);
  }
  write(scratch, "t.csv", table);
  const Measured trough = dish_of(read(scratch, "file = \"t.csv\"\n"));
  CHECK(trough.width == testing::approx(36 * inch).epsilon(1e-6));
  CHECK(trough.length == testing::approx(60 * inch).epsilon(1e-6));
  CHECK((trough.meets_at - Vector3(0, 0, 12 * inch)).norm() < 1e-4 * inch);
}

TEST_CASE("a cloud of an offset dish in any position: its own axis and vertex, its rim where the points are") {
  const Scratch scratch;
  // Part of a paraboloid, f = 15 in, from 1 in to 21 in off the axis; turned and moved.
  const Matrix3 turn = rotation(0.3, -0.2, 0.5);
  std::string table = "x [mm],y [mm],z [mm]\n";
  for (int i = -10; i <= 10; ++i) {
    for (int j = -10; j <= 10; ++j) {
      if (std::hypot(i, j) > 10.01) continue;
      const double x = i * inch, y = (11 + j) * inch, z = (x * x + y * y) / (60 * inch);
      const Vector3 p = 1e3 * (turn * Vector3(x, y, z) + Vector3(0.4, -1, 2));
      table += fmt::format("{:.7f},{:.7f},{:.7f}\n", p.x(), p.y(), p.z());
    }
  }
  write(scratch, "c.csv", table);
  const Measured dish = dish_of(read(scratch, "file = \"c.csv\"\n"));
  // The box of the grid points is a little narrower where it stands askew to them.
  CHECK(dish.width == testing::approx(20 * inch).epsilon(0.015));
  CHECK((dish.meets_at - Vector3(0, 0, 15 * inch)).norm() < 1e-3 * inch);
  CHECK(std::hypot(dish.middle_x, dish.middle_y) == testing::approx(11 * inch).epsilon(1e-3));
  CHECK(height_at(dish, dish.middle_x, dish.middle_y) == testing::approx(121.0 / 60 * inch).epsilon(1e-3));
}

TEST_CASE("outside readings: the skin comes off square to the surface") {
  const Scratch scratch;
  write(scratch, "r.csv", ring_table(24, 0));
  const Measured inside = dish_of(read(scratch, "file = \"r.csv\"\n"));
  const Measured outside = dish_of(read(scratch, "file = \"r.csv\"\nskin = \"1/4 in\"\n"));
  // The parallel surface of a paraboloid, inward by t, is bent at its vertex by 1/(2f − t): its focus is t/2 nearer than f − and
  // the vertex t higher.
  CHECK(outside.meets_at.z() < inside.meets_at.z());
  CHECK(outside.meets_at.z() == testing::approx((24 - 0.125) * inch).epsilon(2e-3));
}

TEST_CASE("refused, with the place and what to do") {
  const Scratch scratch;
  write(scratch, "r.csv", ring_table(24, 0));
  write(scratch, "few.csv", "x [in],y [in],depth [in]\n0,0,6\n3,0,5\n0,3,5\n");
  write(scratch, "bad.csv", "x [in],y [in],depth [in]\n0,0,6\n3,zero,5\n0,3,5\n");
  CHECK(errors(scratch, "").find("has no file") != std::string::npos);
  CHECK(errors(scratch, "file = \"r.csv\"\nwidth = \"90 in\"\n").find("far wider than what was measured") != std::string::npos);
  CHECK(errors(scratch, "file = \"few.csv\"\n").find("few.csv") != std::string::npos);
  CHECK(errors(scratch, "file = \"bad.csv\"\n").find("bad.csv:3:3: error:") != std::string::npos);
  CHECK(errors(scratch, "file = \"nowhere.csv\"\n").find("nowhere.csv") != std::string::npos);
  CHECK(errors(scratch, "file = \"r.csv\"\nfocal_length = \"24 in\"\n").find("focal_length") != std::string::npos);
  CHECK(errors(scratch, "file = \"r.csv\"\nhole_width = \"50 in\"\n").find("hole") != std::string::npos);
}
