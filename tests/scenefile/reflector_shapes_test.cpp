// SPDX-License-Identifier: MIT
// The further shapes from their keys; files beside the project file.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>

#include "approx.h"
#include "base/error.h"
#include "folders.h"
#include "scenefile/read_scene.h"

using namespace dishwright;
namespace fs = std::filesystem;

namespace {

constexpr double inch = 0.0254, pi = std::numbers::pi;

fs::path gallery() { return testing::source_folder() / "tests" / "messages"; }

Scene read(const std::string& keys, const std::string& at = "[\"0 in\", \"0 in\", \"24 in\"]", const std::string& more = "") {
  const std::string text = "[sun]\n[reflector.dish]\nreflectance = 0.9\n" + keys +
                           "[target.kettle]\nshape = \"ball\"\nwidth = \"1 in\"\nat = " + at + "\n" + more;
  return read_scene_text(text, (gallery() / "test.toml").string(), {});
}

template <class Shape>
Shape shape_of(const std::string& keys) {
  return std::get<Shape>(read(keys).reflectors.at(0).shape);
}

bool has_note(const Scene& scene, const std::string& part) {
  for (const std::string& note : scene.notes) {
    if (note.find(part) != std::string::npos) return true;
  }
  return false;
}

// The outline of an offset paraboloid as a tape would find it: longest and shortest way across the rim, deepest place square to
// the rim.
struct Outline {
  double width = 0, height = 0, depth = 0;
};

Outline measured(double f, double clearance, double width) {
  const double a = width / 2, middle = clearance + a;
  const auto surface = [&](double x, double y) { return Vector3(x, y, (x * x + y * y) / (4 * f)); };
  const Vector3 near_edge = surface(0, clearance), far_edge = surface(0, clearance + width), side = surface(a, middle),
                other = surface(-a, middle);
  const Vector3 square = (far_edge - near_edge).cross(other - side).normalized();
  Outline outline{(side - other).norm(), (far_edge - near_edge).norm(), 0};
  for (int i = -400; i <= 400; ++i) {
    for (int j = -400; j <= 400; ++j) {
      const double x = a * i / 400, y = a * j / 400;
      if (x * x + y * y <= a * a)
        outline.depth = std::max(outline.depth, std::abs(square.dot(surface(x, middle + y) - near_edge)));
    }
  }
  return outline;
}

std::string offset_keys(const Outline& o) {
  const auto m = [](double metres) { return "\"" + std::to_string(1e6 * metres) + " um\"\n"; };
  return "shape = \"offset paraboloid\"\nwidth = " + m(o.width) + "height = " + m(o.height) + "depth = " + m(o.depth);
}

}  // namespace

TEST_CASE("an offset paraboloid comes back from its measured outline") {
  struct Dish {
    double f, clearance, width;
  };
  for (const Dish& dish : {Dish{0.6, 0.05, 0.9}, Dish{0.4, -0.1, 0.6}, Dish{1.5, 0.3, 1.2}}) {
    const auto found = shape_of<OffsetParaboloid>(offset_keys(measured(dish.f, dish.clearance, dish.width)));
    CHECK(found.focal_length == testing::approx(dish.f).epsilon(2e-6));
    CHECK(found.clearance == testing::approx(dish.clearance).epsilon(1e-4));
    CHECK(found.width == testing::approx(dish.width).epsilon(1e-6));
  }
  // A round rim is a dish about its own axis: 12 ft across and 4 ft deep has its focus at 2.25 ft (OpenStax Precalculus 2e,
  // section 10.3).
  const auto centred =
      shape_of<OffsetParaboloid>("shape = \"offset paraboloid\"\nwidth = \"12 ft\"\nheight = \"12 ft\"\ndepth = \"4 ft\"\n");
  CHECK(centred.focal_length == testing::approx(2.25 * 12 * inch).epsilon(1e-14));
  CHECK(centred.clearance == testing::approx(-6 * 12 * inch).epsilon(1e-14));
  const auto given = shape_of<OffsetParaboloid>(
      "shape = \"offset paraboloid\"\nwidth = \"24 in\"\nfocal_length = \"15 in\"\nclearance = \"-1/2 in\"\nhole_width = \"1 "
      "in\"\n");
  CHECK(given.focal_length == testing::approx(15 * inch));
  CHECK(given.clearance == testing::approx(-0.5 * inch));
  CHECK(given.hole_width == testing::approx(1 * inch));
}

TEST_CASE("cone, catenary and the two conics are read") {
  const auto cone = shape_of<Cone>("shape = \"cone\"\nwidth = \"36 in\"\ndepth = \"9 in\"\nhole_width = \"2 in\"\n");
  CHECK(cone.depth == testing::approx(9 * inch));
  CHECK(cone.width == testing::approx(36 * inch));
  CHECK(cone.hole_width == testing::approx(2 * inch));
  const auto chain = shape_of<Catenary>("shape = \"catenary\"\nwidth = \"36 in\"\ndepth = \"9 in\"\n");
  CHECK(chain.depth == testing::approx(9 * inch));
  CHECK(chain.width == testing::approx(36 * inch));
  const auto sheet = shape_of<Pressed>("shape = \"pressed\"\nwidth = \"36 in\"\ndepth = \"3 in\"\nhole_width = \"2 in\"\n");
  CHECK(sheet.depth == testing::approx(3 * inch));
  CHECK(sheet.width == testing::approx(36 * inch));
  CHECK(sheet.hole_width == testing::approx(2 * inch));
  const std::string foci = "near_focus = \"6 in\"\nfar_focus = \"30 in\"\nwidth = \"8 in\"\n";
  const auto ellipsoid = shape_of<Ellipsoid>("shape = \"ellipsoid\"\n" + foci);
  CHECK(ellipsoid.near_focus == testing::approx(6 * inch));
  CHECK(ellipsoid.far_focus == testing::approx(30 * inch));
  const auto hyperboloid = shape_of<Hyperboloid>("shape = \"hyperboloid\"\n" + foci);
  CHECK(hyperboloid.near_focus == testing::approx(6 * inch));
  CHECK(hyperboloid.width == testing::approx(8 * inch));
}

TEST_CASE("near and far focus, in the axes of the reflector") {
  const std::string foci =
      "near_focus = \"6 in\"\nfar_focus = \"30 in\"\nwidth = \"8 in\"\nturn = [\"0 deg\", \"90 deg\", \"0 deg\"]\n";
  const auto place = [&](const std::string& shape, const std::string& at) {
    return read("shape = \"" + shape + "\"\n" + foci, "\"" + at + "\"", "offset = [\"0 in\", \"0 in\", \"1 in\"]\n")
        .targets.at(0)
        .pose.at;
  };
  CHECK((place("ellipsoid", "near focus of dish") - Vector3(7 * inch, 0, 0)).norm() < 1e-12);
  CHECK((place("ellipsoid", "far focus of dish") - Vector3(31 * inch, 0, 0)).norm() < 1e-12);
  CHECK((place("hyperboloid", "near focus of dish") - Vector3(7 * inch, 0, 0)).norm() < 1e-12);
  CHECK((place("hyperboloid", "far focus of  dish") - Vector3(-29 * inch, 0, 0)).norm() < 1e-12);
}

TEST_CASE("facets are read, with their defaults") {
  const auto plain = shape_of<Facets>("shape = \"facets\"\nfocal_length = \"18 in\"\nwidth = \"36 in\"\ntile = \"2 in\"\n");
  CHECK(plain.frame == FacetFrame::paraboloid);
  CHECK(plain.tile_shape == TileShape::square);
  CHECK(plain.gap == 0);
  CHECK_FALSE(plain.aim_at_target);
  const auto full = shape_of<Facets>(
      "shape = \"facets\"\nframe = \"sphere\"\nfocal_length = \"18 in\"\nwidth = \"36 in\"\ntile = \"2 in\"\ntile_shape = "
      "\"hexagon\"\n"
      "gap = \"1/8 in\"\nhole_width = \"3 in\"\n");
  CHECK(full.frame == FacetFrame::sphere);
  CHECK(full.tile_shape == TileShape::hexagon);
  CHECK(full.gap == testing::approx(inch / 8));
  CHECK(full.hole_width == testing::approx(3 * inch));
  CHECK(full.focal_length == testing::approx(18 * inch));
}

TEST_CASE("aimed tiles learn the first target's place in the dish's own frame") {
  const Scene scene = read(
      "shape = \"facets\"\nframe = \"flat\"\nwidth = \"36 in\"\ntile = \"2 in\"\ntilt = \"target\"\nat = [\"1 m\", \"2 m\", \"3 "
      "m\"]\n"
      "turn = [\"0 deg\", \"90 deg\", \"0 deg\"]\n",
      "[\"3 m\", \"2.1 m\", \"3 m\"]", "[target.other]\nshape = \"ball\"\nwidth = \"1 in\"\nat = [\"0 m\", \"0 m\", \"9 m\"]\n");
  const auto& facets = std::get<Facets>(scene.reflectors[0].shape);
  CHECK(facets.aim_at_target);
  // The dish's z points along the frame's x, its x along −z.
  CHECK((facets.aim_point - Vector3(0, 0.1, 2)).norm() < 1e-12);
}

TEST_CASE("petals are read") {
  const auto petals = shape_of<Petals>(
      "shape = \"petals\"\nfocal_length = \"18 in\"\nwidth = \"36 in\"\ncount = 12\nseams = \"on curve\"\nhole_width = \"4 "
      "in\"\n");
  CHECK(petals.count == 12);
  CHECK(petals.seams_on_curve);
  CHECK(petals.hole_width == testing::approx(4 * inch));
  CHECK_FALSE(shape_of<Petals>("shape = \"petals\"\nfocal_length = \"18 in\"\nwidth = \"36 in\"\ncount = 3\n").seams_on_curve);
}

TEST_CASE("a profile is looked up beside the project file and has its own width") {
  // profile-sound.csv: height = radius²/96 in inches, which is f = 24 in.
  const auto dish = shape_of<Profile>("shape = \"profile\"\nfile = \"profile-sound.csv\"\nhole_width = \"2 in\"\n");
  CHECK(dish.width == testing::approx(36 * inch));
  CHECK(dish.curve->height(9 * inch) == testing::approx(81.0 / 96 * inch).epsilon(1e-12));
  CHECK(dish.curve->slope(18 * inch) == testing::approx(0.375).epsilon(1e-12));
  CHECK(dish.hole_width == testing::approx(2 * inch));
  const auto straight = shape_of<Profile>("shape = \"profile\"\nfile = \"profile-sound.csv\"\ncurve = \"straight\"\n");
  CHECK(straight.curve->height(9 * inch) == testing::approx((0.375 + 1.5) / 2 * inch).epsilon(1e-12));
  const Scene scene = read("shape = \"profile\"\nfile = \"profile-sound.csv\"\nkind = \"trough\"\nlength = \"60 in\"\n");
  const auto& trough = std::get<Profile>(scene.reflectors[0].shape);
  CHECK(trough.trough);
  CHECK(trough.width == testing::approx(36 * inch));
  CHECK(trough.length == testing::approx(60 * inch));
  CHECK(trough.curve->height(-9 * inch) == testing::approx(81.0 / 96 * inch).epsilon(1e-12));
  CHECK(has_note(scene, "mirror image"));
}

TEST_CASE("a mesh is read in its unit; without one the result says what was taken") {
  const auto mesh = shape_of<Mesh>("shape = \"mesh\"\nfile = \"mesh-sound.obj\"\nunit = \"in\"\nnormals = \"flat\"\n");
  CHECK_FALSE(mesh.smooth);
  CHECK(mesh.mesh->triangles.size() == 2);
  CHECK(mesh.mesh->high.x() == testing::approx(9 * inch));
  CHECK(rim_width(mesh) == testing::approx(18 * inch));
  const Scene metres = read("shape = \"mesh\"\nfile = \"mesh-sound.obj\"\n");
  CHECK(std::get<Mesh>(metres.reflectors[0].shape).mesh->high.x() == testing::approx(9));
  CHECK(std::get<Mesh>(metres.reflectors[0].shape).smooth);
  CHECK(has_note(metres, "taken as metres"));
}
