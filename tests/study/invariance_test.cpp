// SPDX-License-Identifier: MIT
// Turning, shifting and scaling a whole scene; and the number of threads.
#include <Eigen/Geometry>

#include "approx.h"
#include "random_scenes.h"
#include "shape_images.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

// A dish with everything: hub, slope error, spread, a leaning limb-darkened sun, a shading disk and a ball beside it.
Scene full_scene(std::uint64_t seed) {
  Scene made = scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0.1}, 3e-3), target(DiskTarget{0.12}, {0, 0, 0.6}), 400'000, seed);
  made.sun.aim_error = degrees(2);
  made.sun.aim_direction = 0.4;
  made.reflectors[0].specular_spread = 2e-3;
  made.reflectors[0].reflectance = 0.9;
  made.targets[0].shades = true;
  Target ball = target(BallTarget{0.05}, {-0.06, 0.02, 0.55});
  ball.name = "ball";
  ball.shades = true;
  made.targets.push_back(ball);
  return made;
}

struct Scale {
  double length = 1;
};

// Every figure of `b` is that of `a` with lengths multiplied; centroid in the target's own axes.
void check_alike(const TraceFigures& a, const TraceFigures& b, Scale scale = {}) {
  const double k = scale.length;
  const auto by = [](const Estimate& one, double factor) {
    return Estimate{one.value * factor, one.std_error.value_or(0) * factor, one.unit};
  };
  check_same("aperture", by(a.aperture_power, k * k), b.aperture_power);
  for (std::size_t i = 0; i < a.targets.size(); ++i) {
    const TargetFigures &one = a.targets[i], &other = b.targets[i];
    CAPTURE(one.name);
    check_same("power", by(one.power, k * k), other.power);
    check_same("direct", by(one.direct_power, k * k), other.direct_power, 2e-3 * k * k);
    REQUIRE((one.intercept && other.intercept));
    check_same("intercept", *one.intercept, *other.intercept);
    REQUIRE(one.spot_width_50.has_value() == other.spot_width_50.has_value());
    if (one.spot_width_50) {
      check_same("50 %", by(*one.spot_width_50, k), *other.spot_width_50);
      check_same("90 %", by(*one.spot_width_90, k), *other.spot_width_90);
      check_same("rms", by(*one.spot_rms_radius, k), *other.spot_rms_radius);
      check_same("x", by((*one.centroid)[0], k), (*other.centroid)[0]);
      check_same("y", by((*one.centroid)[1], k), (*other.centroid)[1]);
      if (one.peak_concentration) check_same("peak", *one.peak_concentration, *other.peak_concentration);
    }
  }
  for (const LedgerLine& line : a.ledger) check_same(line.where, by(line.power, k * k), ledger(b, line.where));
}

bool same_bits(const Estimate& a, const Estimate& b) { return a.value == b.value && a.std_error == b.std_error; }
bool same_bits(const std::optional<Estimate>& a, const std::optional<Estimate>& b) {
  return a.has_value() == b.has_value() && (!a || same_bits(*a, *b));
}

void check_bits(const TraceFigures& a, const TraceFigures& b) {
  CHECK(same_bits(a.aperture_power, b.aperture_power));
  CHECK(a.paths == b.paths);
  CHECK(same_bits(a.caught_share, b.caught_share));
  REQUIRE(a.ledger.size() == b.ledger.size());
  for (std::size_t i = 0; i < a.ledger.size(); ++i) {
    CHECK(a.ledger[i].where == b.ledger[i].where);
    CHECK(same_bits(a.ledger[i].power, b.ledger[i].power));
  }
  REQUIRE(a.targets.size() == b.targets.size());
  for (std::size_t i = 0; i < a.targets.size(); ++i) {
    const TargetFigures &one = a.targets[i], &other = b.targets[i];
    CHECK(same_bits(one.power, other.power));
    CHECK(same_bits(one.direct_power, other.direct_power));
    CHECK(same_bits(one.intercept, other.intercept));
    CHECK(same_bits(one.total_power, other.total_power));
    CHECK(same_bits(one.evenness, other.evenness));
    CHECK(same_bits(one.peak_irradiance, other.peak_irradiance));
    CHECK(same_bits(one.peak_concentration, other.peak_concentration));
    CHECK(same_bits(one.mean_irradiance, other.mean_irradiance));
    CHECK(same_bits(one.spot_width_50, other.spot_width_50));
    CHECK(same_bits(one.spot_width_90, other.spot_width_90));
    CHECK(same_bits(one.spot_rms_radius, other.spot_rms_radius));
    CHECK(one.centroid.has_value() == other.centroid.has_value());
    if (one.centroid)
      CHECK((same_bits((*one.centroid)[0], (*other.centroid)[0]) && same_bits((*one.centroid)[1], (*other.centroid)[1])));
    REQUIRE(one.map.size() == other.map.size());
    for (std::size_t m = 0; m < one.map.size(); ++m) CHECK(one.map[m].irradiance == other.map[m].irradiance);
  }
}

// 40 scenes × about 10 lines: 6 joint standard errors, and 3e-4 of the whole for lines met by a handful of paths only (their
// error estimate is as uncertain as they are). `k2`: what the powers of `a` are multiplied by.
void check_powers(const TraceFigures& a, const TraceFigures& b, double k2) {
  const double all = b.aperture_power.value;
  const auto close = [all, k2](const Estimate& one, const Estimate& other) {
    return std::abs(one.value * k2 - other.value) <=
           6 * std::hypot(one.std_error.value_or(0) * k2, other.std_error.value_or(0)) + 3e-4 * all;
  };
  RC_ASSERT(close(a.aperture_power, b.aperture_power));
  for (const LedgerLine& line : a.ledger) {
    RC_LOG() << line.where << ": " << line.power.value * k2 << " and " << ledger(b, line.where).value << " of " << all << '\n';
    RC_ASSERT(close(line.power, ledger(b, line.where)));
  }
  for (const LedgerLine& line : b.ledger) RC_ASSERT(close(ledger(a, line.where), line.power));
}

}  // namespace

TEST_CASE("turning the whole scene and the sun about z changes nothing") {
  const TraceFigures before = traced(full_scene(1));
  for (const double angle : {degrees(37), degrees(-120)}) {
    Scene made = full_scene(2);
    const Matrix3 turn = Eigen::AngleAxisd(angle, Vector3::UnitZ()).toRotationMatrix();
    made.sun.aim_direction += angle;
    for (Reflector& one : made.reflectors) one.pose = {turn * one.pose.at, turn * one.pose.turn};
    for (Target& one : made.targets) one.pose = {turn * one.pose.at, turn * one.pose.turn};
    check_alike(before, traced(made));
  }
}

TEST_CASE("turning a whole scene about x by the angle that the sun turns changes nothing") {
  // The sun leans to −y by the same angle (turning about +x takes +z to −y).
  Scene made = full_scene(3), turned = full_scene(4);
  made.sun.aim_error = 0;
  const Matrix3 turn = Eigen::AngleAxisd(degrees(50), Vector3::UnitX()).toRotationMatrix();
  turned.sun.aim_error = degrees(50);
  turned.sun.aim_direction = -pi / 2;
  for (Reflector& one : turned.reflectors) one.pose = {turn * one.pose.at, turn * one.pose.turn};
  for (Target& one : turned.targets) one.pose = {turn * one.pose.at, turn * one.pose.turn};
  check_alike(traced(made), traced(turned));
}

TEST_CASE("shifting the whole scene changes nothing") {
  const TraceFigures before = traced(full_scene(5));
  for (const Vector3& shift : {Vector3(3, -2, 7), Vector3(-40, 25, -60)}) {
    Scene made = full_scene(6);
    for (Reflector& one : made.reflectors) one.pose.at += shift;
    for (Target& one : made.targets) one.pose.at += shift;
    check_alike(before, traced(made));
  }
}

TEST_CASE("scaling all lengths scales widths and powers and leaves intercept and concentration" * doctest::test_suite("slow")) {
  const TraceFigures before = traced(full_scene(7));
  for (const double k : {0.02, 3.0, 25.0}) {
    Scene made = full_scene(8);
    made.reflectors[0].shape = Paraboloid{0.6 * k, 1.2 * k, 0.1 * k};
    made.targets[0].shape = DiskTarget{0.12 * k};
    made.targets[1].shape = BallTarget{0.05 * k};
    for (Target& one : made.targets) one.pose.at *= k;
    check_alike(before, traced(made), {k});
  }
}

TEST_CASE("random scenes: shifted and turned about z, the same powers" * doctest::test_suite("slow")) {
  fix_property_seed();
  CHECK(rc::check("shift and turn", [] {
    Scene made = random_scene(40'000);
    const TraceFigures before = traced(made);
    const double angle = number(-pi, pi);
    const Matrix3 turn = Eigen::AngleAxisd(angle, Vector3::UnitZ()).toRotationMatrix();
    const Vector3 shift(number(-2, 2), number(-2, 2), number(-2, 2));
    made.sun.aim_direction += angle;
    for (Reflector& one : made.reflectors) one.pose = {turn * one.pose.at + shift, turn * one.pose.turn};
    for (Target& one : made.targets) one.pose = {turn * one.pose.at + shift, turn * one.pose.turn};
    made.trace.seed += 1'000'000;
    const TraceFigures after = traced(made);
    check_powers(before, after, 1);
    return true;
  }));
}

TEST_CASE("random scenes: all lengths scaled, powers scale by the square" * doctest::test_suite("slow")) {
  fix_property_seed();
  CHECK(rc::check("scale", [] {
    Scene made = random_scene(40'000);
    const TraceFigures before = traced(made);
    const double k = *rc::gen::element(0.05, 0.3, 4.0, 30.0);
    for (Reflector& one : made.reflectors) one.shape = scaled(one.shape, k), one.pose.at *= k;
    for (Target& one : made.targets) one.shape = scaled(one.shape, k), one.pose.at *= k;
    made.trace.seed += 2'000'000;
    check_powers(before, traced(made), k * k);
    return true;
  }));
}

TEST_CASE("random scenes: the mirror image gets the same light" * doctest::test_suite("slow")) {
  fix_property_seed();
  CHECK(rc::check("x to −x", [] {
    Scene made = random_scene(40'000);
    const TraceFigures before = traced(made);
    const Eigen::DiagonalMatrix<double, 3> flip(-1, 1, 1);
    const auto image = [&](const Pose& pose) { return Pose{flip * pose.at, flip * pose.turn * flip}; };
    for (Reflector& one : made.reflectors) one.shape = mirror_image(one.shape), one.pose = image(one.pose);
    for (Reflector& one : made.reflectors) {
      // Petals of an odd number: the mirror image starts along −x.
      if (std::holds_alternative<Petals>(one.shape)) one.pose.turn = one.pose.turn * rotation(0, 0, pi);
    }
    for (Target& one : made.targets) one.pose = image(one.pose);
    made.sun.aim_direction = pi - made.sun.aim_direction;
    made.trace.seed += 3'000'000;
    check_powers(before, traced(made), 1);
    return true;
  }));
}

TEST_CASE("1, 2 and 4 threads give the same bits" * doctest::test_suite("slow")) {
  const TraceFigures one = traced(full_scene(9), 1);
  check_bits(one, traced(full_scene(9), 2));
  check_bits(one, traced(full_scene(9), 4));
  Scene exact = full_scene(9);
  exact.trace.accuracy = 1e-3;  // the stop rule must not look at the clock
  const TraceFigures stopped = traced(exact, 1);
  check_bits(stopped, traced(exact, 4));
  CHECK(stopped.targets[0].intercept->std_error.value_or(0) <= 1e-3);
  // Another seed gives other figures.
  CHECK(traced(full_scene(10), 2).targets[0].power.value != one.targets[0].power.value);
}

namespace {

// A bulb beside the focus of a bowl; a round screen, a pot in the beam, and a pane that lets through what is on its way in.
Scene lamp_scene(std::uint64_t seed) {
  Scene made = full_scene(seed);
  made.lamp = Lamp{BallLamp{0.05}, {}, 700, true};
  made.lamp->pose.at = Vector3(0.01, 0.02, 0.62);
  made.targets[0] = target(DiskTarget{3}, {0, 0, 2});
  made.targets[0].name = "screen";
  made.targets[0].shades = true;
  Target pane = target(RectangleTarget{0.3, 0.3}, {0.1, 0, 0.4});
  pane.name = "pane";
  made.targets.push_back(pane);
  return made;
}

void move_all(Scene& made, const Matrix3& turn, const Vector3& shift) {
  const auto move = [&](Pose& pose) { pose = {turn * pose.at + shift, turn * pose.turn}; };
  for (Reflector& one : made.reflectors) move(one.pose);
  for (Target& one : made.targets) move(one.pose);
  move(made.lamp->pose);
}

}  // namespace

TEST_CASE("a lamp scene turned about any axis and shifted: the same figures" * doctest::test_suite("slow")) {
  for (const LampShape& shape : {LampShape(BallLamp{0.05}), LampShape(DiskLamp{0.08}), LampShape(LineLamp{0.1})}) {
    Scene made = lamp_scene(21), moved = lamp_scene(22);
    made.lamp->shape = moved.lamp->shape = shape;
    move_all(moved, Eigen::AngleAxisd(1.9, Vector3(1, -2, 0.7).normalized()).toRotationMatrix(), Vector3(4, -3, 9));
    const TraceFigures before = traced(made), after = traced(moved);
    check_alike(before, after);
    check_same("caught", *before.caught_share, *after.caught_share);
    REQUIRE((before.targets[0].evenness && after.targets[0].evenness));
    check_same("evenness", *before.targets[0].evenness, *after.targets[0].evenness, 0.01);  // the pilots' circles differ by 1 %
  }
}

TEST_CASE("a lamp scene: 1, 2 and 4 threads give the same bits" * doctest::test_suite("slow")) {
  const TraceFigures one = traced(lamp_scene(23), 1);
  CHECK(one.targets[0].evenness);
  check_bits(one, traced(lamp_scene(23), 2));
  check_bits(one, traced(lamp_scene(23), 4));
}

TEST_CASE("twice the lamp, twice the light") {
  Scene made = lamp_scene(24);
  const TraceFigures once = traced(made);
  made.lamp->power *= 2;
  const TraceFigures twice = traced(made);
  CHECK(twice.targets[0].power.value == testing::approx(2 * once.targets[0].power.value).epsilon(1e-12));
  CHECK(twice.targets[0].intercept->value == once.targets[0].intercept->value);
  CHECK(twice.caught_share->value == once.caught_share->value);
}
