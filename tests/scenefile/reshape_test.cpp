// SPDX-License-Identifier: MIT
// One project file in several shapes: what is kept, what follows, what is refused.
#include "scenefile/reshape.h"

#include <doctest/doctest.h>

#include <cmath>

#include "approx.h"
#include "base/error.h"
#include "scenefile/shapes.h"

using namespace dishwright;

namespace {

constexpr double inch = 0.0254;

const std::string plate = R"(title = "Hot plate"
[sun]
beam = "850 W/m2"
[reflector.dish]
shape = "paraboloid"
width = "48 in"
focal_length = "24 in"
reflectance = 0.9
slope_error = "4 mrad"
at = ["1 in", "0 in", "0 in"]
turn = ["0 deg", "90 deg", "0 deg"]
[target.plate]
shape = "disk"
width = "2 in"
at = "focus of dish"
offset = ["0 in", "0 in", "-1 in"]
)";

const std::string trough = R"([sun]
[reflector.long]
shape = "trough"
depth = "6 3/4 in"
width = "36 in"
length = "60 in"
reflectance = 0.9
[target.bar]
shape = "rectangle"
width = "3 in"
length = "60 in"
at = "focus of long"
)";

std::vector<Reshaped> bent(const std::string& text, const std::vector<std::string>& shapes,
                           const std::vector<std::string>& set = {}) {
  return read_reshaped_text(text, "test.toml", {set, ""}, shapes);
}

std::string fault(const std::string& text, const std::vector<std::string>& shapes, const std::vector<std::string>& set = {}) {
  try {
    bent(text, shapes, set);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

template <class Shape>
Shape as(const Reshaped& made) {
  return std::get<Shape>(made.scene.reflectors.at(0).shape);
}

}  // namespace

TEST_CASE("each shape follows its rule") {
  const auto made = bent(plate, {"paraboloid", "sphere", "trough", "arc trough", "flat"});
  REQUIRE(made.size() == 5);
  CHECK(as<Paraboloid>(made[0]).focal_length == 24 * inch);
  CHECK(as<SphereBowl>(made[1]).radius == 48 * inch);
  CHECK(as<SphereBowl>(made[1]).width == 48 * inch);
  CHECK(as<Trough>(made[2]).focal_length == 24 * inch);
  CHECK(as<Trough>(made[2]).length == 48 * inch);
  CHECK(as<ArcTrough>(made[3]).radius == 48 * inch);
  CHECK(as<ArcTrough>(made[3]).length == 48 * inch);
  CHECK(as<Flat>(made[4]).width == 48 * inch);
  CHECK(as<Flat>(made[4]).length == 48 * inch);
  CHECK(made[0].rule == "as in the file");
  CHECK(holds(made[1].rule, "2 × focal length"));
  for (const Reshaped& one : made) {
    const Reflector& mirror = one.scene.reflectors[0];
    CHECK(mirror.reflectance == 0.9);
    CHECK(mirror.slope_error == 4e-3);
    CHECK(mirror.pose.at.x() == inch);
    CHECK(one.scene.title == "Hot plate");
    CHECK(one.scene.sun.beam == 850);
  }
}

TEST_CASE("the file's own shape is left as it is; a bent one says so") {
  const auto made = bent(plate, {"paraboloid", "sphere"});
  const Scene before = read_scene_text(plate, "test.toml", {});
  CHECK(made[0].scene.notes == before.notes);
  REQUIRE(made[1].scene.notes.size() == before.notes.size() + 1);
  CHECK(holds(made[1].scene.notes.back(), "bent from a paraboloid to a sphere"));
}

TEST_CASE("a target at the focus goes along; without a focus it stays where it was") {
  // The dish is turned: its axis points along +x. Focus 24 in along it, the plate 1 in before.
  for (const Reshaped& one : bent(plate, {"paraboloid", "sphere", "arc trough", "flat"})) {
    CAPTURE(one.shape);
    const Pose& pose = one.scene.targets.at(0).pose;
    CHECK((pose.at - Vector3(24 * inch, 0, 0)).norm() < 1e-12);
    CHECK((pose.turn * Vector3::UnitZ() - Vector3::UnitX()).norm() < 1e-12);
  }
  CHECK(holds(bent(plate, {"flat", "sphere"})[0].scene.notes.back(), "stays at the focus of the file's own shape"));
}

TEST_CASE("a trough keeps its length where the new shape has one") {
  const auto made = bent(trough, {"trough", "arc trough", "flat", "paraboloid", "sphere"});
  // f = width² / (16 depth) = 12 in.
  CHECK(as<ArcTrough>(made[1]).radius == testing::approx(24 * inch).epsilon(1e-15));
  CHECK(as<ArcTrough>(made[1]).length == 60 * inch);
  CHECK(as<Flat>(made[2]).length == 60 * inch);
  CHECK(as<Paraboloid>(made[3]).focal_length == testing::approx(12 * inch).epsilon(1e-15));
  CHECK(made[3].scene.targets[0].pose.at.z() == testing::approx(12 * inch).epsilon(1e-15));
  CHECK(holds(made[3].scene.notes.back(), "length of reflector.long is left out"));
  CHECK(as<SphereBowl>(made[4]).width == 36 * inch);
}

TEST_CASE("a width that follows from two other keys is carried over") {
  std::string text = plate;
  text.replace(text.find("width = \"48 in\""), 15, "depth = \"6 in\"");
  CHECK(as<SphereBowl>(bent(text, {"sphere", "flat"})[0]).width == testing::approx(48 * inch).epsilon(1e-15));
}

TEST_CASE("--set changes every shape that has the key") {
  const auto made = bent(plate, {"paraboloid", "sphere", "trough"},
                         {"reflector.dish.width=36 in", "reflector.dish.length=60 in", "sun.beam=700 W/m2"});
  CHECK(as<Paraboloid>(made[0]).width == 36 * inch);
  CHECK(as<SphereBowl>(made[1]).width == 36 * inch);
  CHECK(as<Trough>(made[2]).width == 36 * inch);
  CHECK(as<Trough>(made[2]).length == 60 * inch);
  for (const Reshaped& one : made) CHECK(one.scene.sun.beam == 700);
  CHECK(as<SphereBowl>(bent(plate, {"sphere", "flat"}, {"reflector.dish.focal_length=30 in"})[0]).radius == 60 * inch);
}

TEST_CASE("rows for every shape: what they write") {
  const MirrorPattern pattern{2, 4, 4};
  for (const ShapeRow& row : all_shape_rows()) {
    if (!row.reshape) continue;
    CAPTURE(row.words.word);
    CHECK_FALSE(row.reshape->rule.empty());
    for (const auto& [key, text] : row.reshape->keys(pattern)) {
      // Keys that make the curve must be known as such, or bending away from the shape would stumble over them.
      CHECK(holds(row.curve, key));
      CHECK_FALSE(text.empty());
    }
  }
  // depth = width² / (16 f) = 1/2 m.
  CHECK(find_shape_row("cone")->reshape->keys(pattern)[0] == KeyText{"depth", "0.5 m"});
  CHECK(find_shape_row("sphere")->reshape->keys(pattern)[0] == KeyText{"radius", "4 m"});
  CHECK(find_shape_row("facets")->reshape->keys({2, 6, 6})[1] == KeyText{"tile", "0.5 m"});
  CHECK(find_shape_row("petals")->reshape->keys(pattern)[1] == KeyText{"count", "12"});
  CHECK(!find_shape_row("mesh")->reshape);
}

TEST_CASE("what cannot be bent is refused in words") {
  std::string holed = plate;
  holed.insert(holed.find("reflectance"), "hole_width = \"2 in\"\n");
  const std::string lost = fault(holed, {"paraboloid", "trough", "flat"});
  CHECK(holds(lost, "test.toml:8:1: error: as a trough: reflector.dish.hole_width = \"2 in\" would be lost"));
  CHECK(holds(lost, "a trough has no hole_width"));
  CHECK(holds(lost, "take hole_width out of the file, or trough out of --shape"));
  CHECK(holds(lost, "as a flat mirror"));  // all at once
  // A hole of no width is no hole.
  CHECK(fault(holed, {"paraboloid", "trough"}, {"reflector.dish.hole_width=0 in"}).empty());
  CHECK(holds(fault(plate, {"sphere", "flat"}, {"reflector.dish.focal_length=10 in"}), "too deep for a circle"));
  CHECK(holds(fault(plate, {"parabola", "sphere"}), "write paraboloid"));
  CHECK(holds(fault(plate, {"sphere", ""}), "\"\" is not a shape"));
  CHECK(holds(fault(plate, {"sphere", "sphere"}), "named twice"));
  CHECK(holds(fault(plate, {"sphere", "flat"}, {"reflector.dish.shape=flat"}), "stands beside --shape"));
  CHECK(holds(fault(plate, {"sphere", "flat"}, {"reflector.dish.wdith=3 in"}), "--set reflector.dish.wdith"));
  CHECK(holds(fault(plate, {"paraboloid", "sphere"}, {"reflector.dish.length=3 in"}), "length is not a key of a paraboloid"));
  std::string flat = "[sun]\n[reflector.f]\nshape = \"flat\"\nwidth = \"1 ft\"\nlength = \"2 ft\"\nreflectance = 1\n";
  flat += "[target.t]\nshape = \"ball\"\nwidth = \"2 in\"\nat = [\"0 in\", \"0 in\", \"9 in\"]\n";
  CHECK(holds(fault(flat, {"flat", "sphere"}), "a flat mirror has no focal length"));
  CHECK(holds(fault("[sun]\n", {"flat", "sphere"}), "there is no reflector"));
  CHECK(holds(fault("reflector = 3\n", {"flat", "sphere"}), "not a table"));
}
