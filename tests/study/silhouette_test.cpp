// SPDX-License-Identifier: MIT
// How much light the mirrors face, what a target hides, and what reaches a target straight from the sun.
#include <Eigen/Geometry>

#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double beam = 1000;  // [W/m²], the default

Sun leaning(Sun shine, double aim_error, double aim_direction) {
  shine.aim_error = aim_error;
  shine.aim_direction = aim_direction;
  return shine;
}

void check_aperture(const std::string& what, const ReflectorShape& shape, const Sun& shine, double area, double allowance = 0) {
  const TraceFigures figures = traced(scene(shine, mirror(shape), target(BallTarget{0.02}, {0, 0, 0.9}), 400'000, 51));
  check_agrees(what, figures.aperture_power, beam * area, figures.replicates - 1, allowance);
  CHECK(figures.aperture_power.std_error.value_or(0) < 3e-3 * beam * area);
}

}  // namespace

TEST_CASE("aperture power is beam × the flat outline seen from the sun, hub hole left out" * doctest::test_suite("slow")) {
  // Closed forms: π (D² − d²)/4, W · L; times cos(aim error) while no back shows and nothing hides anything.
  const double round = pi / 4 * (1.2 * 1.2 - 0.2 * 0.2);
  for (const Sun& shine : {point_sun(), uniform_sun(), limb_sun()}) {
    check_aperture("paraboloid", Paraboloid{0.6, 1.2, 0.2}, shine, round);
    check_aperture("bowl", SphereBowl{1.5, 1.2, 0.2}, shine, round);
    check_aperture("trough", Trough{0.5, 1.2, 2}, shine, 2.4);
    check_aperture("arc trough", ArcTrough{1, 1.2, 2}, shine, 2.4);
    check_aperture("flat", Flat{0.7, 1.1}, shine, 0.77);
  }
  for (const double side : {0.0, 0.7, degrees(90)}) {
    // The rim of the paraboloid rises 26.6°, of the bowl 23.6°: a sun 20° off shows no back. The hole's outline is as low as the
    // bowl is there and nothing stands before it.
    const Sun shine = leaning(uniform_sun(), degrees(20), side);
    check_aperture("paraboloid", Paraboloid{0.6, 1.2, 0}, shine, pi * 0.36 * std::cos(degrees(20)));
    check_aperture("paraboloid with a hole", Paraboloid{0.6, 1.2, 0.2}, shine, round * std::cos(degrees(20)));
    check_aperture("bowl", SphereBowl{1.5, 1.2, 0}, shine, pi * 0.36 * std::cos(degrees(20)));
    check_aperture("flat", Flat{0.7, 1.1}, leaning(uniform_sun(), degrees(70), side), 0.77 * std::cos(degrees(70)));
  }
}

TEST_CASE("a sun 60° off a deep dish also sees its back" * doctest::test_suite("slow")) {
  // The dish (f = 0.25 m, D = 1 m, rim 45° steep) and the disc over its rim bound a convex body; its outline is half of
  // ∫|n·s| dA over its whole surface (Cauchy). n dA = (−x/2f, −y/2f, 1) dx dy on the dish.
  const double f = 0.25, radius = 0.5, tilt = degrees(60);
  double mirror_integral = 0, facing = 0;
  mirror_integral = integral(0, radius, 800, [&](double r) {
    return r * integral(0, 2 * pi, 1600, [&](double around) {
             return std::abs(std::cos(tilt) - r * std::cos(around) / (2 * f) * std::sin(tilt));
           });
  });
  facing = (mirror_integral + pi * radius * radius * std::cos(tilt)) / 2;
  CHECK(facing > 1.02 * pi * radius * radius * std::cos(tilt));  // a naive π/4 D² cos e would be caught
  for (const double side : {0.0, 2.0}) {
    const Sun shine = leaning(point_sun(), tilt, side);
    const TraceFigures figures =
        traced(scene(shine, mirror(Paraboloid{f, 2 * radius, 0}), target(BallTarget{0.02}, {0, 0, 0.25}), 1'000'000, 53));
    check_agrees("aperture", figures.aperture_power, beam * facing, figures.replicates - 1, 3e-5 * beam * facing);
    // Its back takes what lies outside the rim's own outline: that light enters from below the rim. So the light that comes in
    // through the rim, beam · π r² cos e, first meets the bright side, all the rest the back on its first meeting.
    Scene black = scene(shine, mirror(Paraboloid{f, 2 * radius, 0}), target(BallTarget{0.02}, {0, 0, 5}), 1'000'000, 53);
    black.reflectors[0].reflectance = 0;
    const TraceFigures dark = traced(black);
    const double through_rim = beam * pi * radius * radius * std::cos(tilt);
    check_agrees("absorbed", ledger(dark, "absorbed by dish"), through_rim, dark.replicates - 1, 3e-5 * through_rim);
    check_agrees("back", ledger(dark, "back of dish"), beam * facing - through_rim, dark.replicates - 1, 3e-5 * through_rim);
  }
}

TEST_CASE("mirrors that overlap as seen from the sun count once") {
  // Two flat mirrors 1 m × 1 m, one 0.5 m above the other and 0.6 m aside: union 1.6 m² for a sun on the axis; the upper one's
  // back is down. Under a sun's disc the half-shadow only changes which of the two catches the light.
  Scene made = scene(point_sun(), mirror(Flat{1, 1}), target(BallTarget{0.02}, {0, 0, 5}), 400'000, 57);
  made.reflectors.push_back(mirror(Flat{1, 1}));
  made.reflectors[1].name = "upper";
  made.reflectors[1].pose.at = Vector3(0.6, 0, 0.5);
  made.reflectors[0].reflectance = made.reflectors[1].reflectance = 0;
  const TraceFigures figures = traced(made);
  check_agrees("aperture", figures.aperture_power, 1600, figures.replicates - 1, 0.05);
  check_agrees("upper", ledger(figures, "absorbed by upper"), 1000, figures.replicates - 1, 0.05);
  check_agrees("lower", ledger(figures, "absorbed by dish"), 600, figures.replicates - 1, 0.05);
}

TEST_CASE("a target hides what its outline covers" * doctest::test_suite("slow")) {
  // A disk of 0.2 m in the middle of the beam: beam · π/4 · 0.04; under any sun's disc, since all that it stops would have met
  // the mirror.
  const double shadow = beam * pi / 4 * 0.04;
  for (const Sun& shine : {point_sun(), limb_sun()}) {
    for (const ReflectorShape& shape :
         {ReflectorShape{Paraboloid{0.6, 1.2, 0}}, ReflectorShape{Flat{1, 1}}, ReflectorShape{Trough{0.5, 1, 1}}}) {
      Scene made = scene(shine, mirror(shape), target(DiskTarget{0.2}, {0.05, -0.02, 0.6}), 1'000'000, 59);
      made.targets[0].shades = true;
      const TraceFigures figures = traced(made);
      check_agrees("shaded", ledger(figures, "shaded by spot"), shadow, figures.replicates - 1, 1e-4 * shadow);
      made.targets[0].shades = false;
      CHECK(ledger(traced(made), "shaded by spot").value == 0);
    }
  }
  // A pot hides as its outline does: 60° off the axis, a pot 0.2 m × 0.15 m: lid ellipse + side rectangle (closed form).
  Scene made =
      scene(leaning(point_sun(), degrees(30), 1), mirror(Flat{2, 2}), target(PotTarget{0.2, 0.15}, {0, 0, 0.4}), 1'000'000, 61);
  made.targets[0].shades = true;
  const TraceFigures figures = traced(made);
  const double outline = beam * (pi / 4 * 0.04 * std::cos(degrees(30)) + 0.2 * 0.15 * std::sin(degrees(30)));
  check_agrees("pot", ledger(figures, "shaded by spot"), outline, figures.replicates - 1, 1e-4 * outline);
}

TEST_CASE("direct light: what each shape shows the sun" * doctest::test_suite("slow")) {
  // Closed forms, e = aim error: ball π r²; tube w · L · cos of the lean along its axis; pot: side w · h · sin e, its lid does
  // not count, its base looks down; disk: the front looks away from the sun, turned over it faces it.
  const double e = degrees(35);
  const auto direct = [&](const TargetShape& shape, double side, const Matrix3& turn = Matrix3::Identity()) {
    Scene made =
        scene(leaning(limb_sun(), e, side), mirror(Paraboloid{0.6, 1.2, 0}), target(shape, {0.1, 0.1, 2}), 1'000'000, 67);
    made.targets[0].shades = true;
    made.targets[0].pose.turn = turn;
    return traced(made);
  };
  const auto check = [&](const std::string& what, const TraceFigures& figures, double expected) {
    // 1e-3: light from the disc's edge that grazes round the outline, second order in 4.65 mrad, and the sampling of the outline.
    check_agrees(what, figures.targets[0].direct_power, expected, figures.replicates - 1, 1e-3 * expected);
    CHECK(figures.targets[0].direct_power.std_error.value_or(0) <= 0.01 * expected);
  };
  check("ball", direct(BallTarget{0.2}, 0.3), beam * pi * 0.01);
  check("tube, sun leans along it", direct(TubeTarget{0.1, 0.5}, degrees(90)), beam * 0.05 * std::cos(e));
  check("tube, sun leans across it", direct(TubeTarget{0.1, 0.5}, 0), beam * 0.05);
  check("pot", direct(PotTarget{0.2, 0.15}, 1.1), beam * 0.03 * std::sin(e));
  check("disk", direct(DiskTarget{0.2}, 1), 0);
  const Matrix3 over = Eigen::AngleAxisd(pi, Vector3::UnitX()).toRotationMatrix();
  check("disk turned over", direct(DiskTarget{0.2}, 1, over), beam * pi * 0.01 * std::cos(e));
  check("rectangle turned over", direct(RectangleTarget{0.2, 0.3}, 1, over), beam * 0.06 * std::cos(e));
}

TEST_CASE("reflectance is a weight, and the rest is absorbed by the mirror") {
  Scene made = scene(uniform_sun(), mirror(Paraboloid{0.6, 1.2, 0}), target(BallTarget{0.1}, {0, 0, 0.6}), 200'000, 71);
  made.reflectors[0].reflectance = 0.86;
  const TraceFigures figures = traced(made);
  const double all = beam * pi * 0.36;
  check_agrees("absorbed", ledger(figures, "absorbed by dish"), 0.14 * all, figures.replicates - 1);
  check_agrees("power", figures.targets[0].power, 0.86 * all, figures.replicates - 1);
  check_agrees("ledger", ledger(figures, "spot"), 0.86 * all, figures.replicates - 1);
  CHECK(figures.targets[0].intercept->value == testing::approx(1).epsilon(1e-9));  // of what left the mirror
  // mean_irradiance: over the ball's whole surface π w².
  check_agrees("mean", *figures.targets[0].mean_irradiance, 0.86 * all / (pi * 0.01), figures.replicates - 1);
}

TEST_CASE("two bounces: a corner of two flat mirrors sends the light back") {
  // Mirrors at ±45° about y meet at the vertex: axial light goes across and back up. Reflectance 0.8: 0.64 returns to a roof that
  // lets light in; half of the aperture power lies on each. Intercept counts against the first reflection: 0.8.
  Scene made = scene(point_sun(), mirror(Flat{1, 1}), target(RectangleTarget{3, 3}, {0, 0, 3}), 200'000, 73);
  made.reflectors.push_back(mirror(Flat{1, 1}));
  made.reflectors[1].name = "other";
  for (int i = 0; i < 2; ++i) {
    Reflector& half = made.reflectors[static_cast<std::size_t>(i)];
    const double sign = i == 0 ? 1 : -1;
    half.pose.turn = Eigen::AngleAxisd(-sign * degrees(45), Vector3::UnitY()).toRotationMatrix();
    half.pose.at = Vector3(sign * 0.5 * std::sqrt(0.5), 0, 0.5 * std::sqrt(0.5));
    half.reflectance = 0.8;
  }
  const TraceFigures figures = traced(made);
  const double all = beam * std::sqrt(2.0);
  check_agrees("aperture", figures.aperture_power, all, figures.replicates - 1, 1e-5 * all);
  check_agrees("power", figures.targets[0].power, 0.64 * all, figures.replicates - 1, 2e-5 * all);
  check_agrees("intercept", *figures.targets[0].intercept, 0.8, figures.replicates - 1, 2e-5);
  check_agrees("absorbed", ledger(figures, "absorbed by dish"), (0.1 + 0.08) * all, figures.replicates - 1, 2e-5 * all);
}
