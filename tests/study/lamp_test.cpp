// SPDX-License-Identifier: MIT
// Lamps against closed forms. In lumens throughout: the numbers are those of watts.
#include <Eigen/Geometry>

#include "approx.h"
#include "scenes.h"
#include "tally/uniformity.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double lumens = 800;

Scene lit(const LampShape& shape, const Vector3& at, const ReflectorShape& mirror_shape, const Target& screen,
          std::uint64_t paths = 400'000) {
  Scene made = scene(Sun{}, mirror(mirror_shape), screen, paths, 17);
  made.lamp = Lamp{shape, {at, Matrix3::Identity()}, lumens, true};
  return made;
}

Target screen_at(double z, double width) { return target(DiskTarget{width}, {0, 0, z}); }

int freedom(const TraceFigures& figures) { return figures.replicates - 1; }

}  // namespace

TEST_CASE("share caught from a small lamp at the focus: ball (1 − cos φ)/2, disk sin²φ, line by its sine law" *
          doctest::test_suite("slow")) {
  for (const double rim : {degrees(20), degrees(60), degrees(85)}) {
    const auto caught = [&](const LampShape& shape, const Matrix3& turn = Matrix3::Identity()) {
      Scene made = lit(shape, {0, 0, 1}, dish_of(rim), screen_at(10, 20));
      made.lamp->pose.turn = turn;
      return traced(made);
    };
    // Lamps 0.2 mm large at 1 m: what their size changes is below 1e-6.
    const TraceFigures ball = caught(BallLamp{2e-4}), disk = caught(DiskLamp{2e-4}), line = caught(LineLamp{2e-4});
    const TraceFigures upright = caught(LineLamp{2e-4}, Eigen::AngleAxisd(pi / 2, Vector3::UnitX()).toRotationMatrix());
    check_agrees("ball", *ball.caught_share, (1 - std::cos(rim)) / 2, freedom(ball), 1e-6);
    check_agrees("disk", *disk.caught_share, std::sin(rim) * std::sin(rim), freedom(disk), 1e-6);
    // Intensity ∝ sin of the angle to y, in all π²: sin = √(1 − sin²θ sin²φ) at θ from −z.
    const double cone = integral(0, rim, 400, [](double angle) {
      return std::sin(angle) *
             integral(0, 2 * pi, 400, [&](double side) { return std::sqrt(1 - std::pow(std::sin(angle) * std::sin(side), 2)); });
    });
    check_agrees("line", *line.caught_share, cone / (pi * pi), freedom(line), 1e-5);
    check_agrees("line along the axis", *upright.caught_share, (rim - std::sin(rim) * std::cos(rim)) / pi, freedom(upright),
                 1e-6);
  }
  // A hub hole takes its own cone out: tan(φ/2) = r/(2 f).
  const double rim = 2 * std::atan(0.5), hole = 2 * std::atan(0.1);
  const TraceFigures holed = traced(lit(BallLamp{2e-4}, {0, 0, 1}, Paraboloid{1, 2, 0.4}, screen_at(10, 20)));
  check_agrees("hole", *holed.caught_share, (std::cos(hole) - std::cos(rim)) / 2, freedom(holed), 1e-6);
}

TEST_CASE("the far beam of a ball at the focus: widths by the size of the lamp as each spot of the mirror sees it") {
  // From a mirror point at distance ρ = 2 f/(1 + cos φ) the ball is an even disc of half-angle asin(r/ρ) about the axis; each dφ
  // has sin φ dφ of the light. The dish is 1.46 m, the beam 80 m wide: what the width of the dish adds is of second order, below
  // 1e-3.
  constexpr double radius = 0.02, far = 2000;
  const double rim = degrees(40);
  const TraceFigures figures = traced(lit(BallLamp{2 * radius}, {0, 0, 1}, dish_of(rim), screen_at(far, 300)));
  const auto within = [&](double half_width) {
    const double sine = std::sin(std::atan(half_width / far));
    return integral(0, rim, 2000,
                    [&](double angle) {
                      const double most = radius * (1 + std::cos(angle)) / 2;
                      return std::sin(angle) * std::min(1.0, std::pow(sine / most, 2));
                    }) /
           (1 - std::cos(rim));
  };
  const auto width = [&](double share) { return 2 * root_of(0, 100, [&](double r) { return within(r) - share; }); };
  const TargetFigures& spot = figures.targets.at(0);
  REQUIRE((spot.spot_width_50 && spot.spot_width_90 && spot.peak_irradiance));
  check_agrees("50 %", *spot.spot_width_50, width(0.5), freedom(figures), 1e-3 * width(0.5));
  check_agrees("90 %", *spot.spot_width_90, width(0.9), freedom(figures), 1e-3 * width(0.9));
  // Near the axis: 2 r/f, the rule of thumb, holds within what the rim's longer way takes off.
  CHECK(width(0.9) / far < 2 * radius);
  CHECK(width(0.9) / far > 2 * radius * std::cos(rim / 2) * std::cos(rim / 2) * std::sqrt(0.9));

  // In the middle of the beam the whole aperture shines with the lamp's own radiance Φ/(4 π² r²): E = L π (D/2)²/d².
  const double aperture = pi * std::pow(2 * std::tan(rim / 2), 2);
  const double expected = lumens / (4 * pi * pi * radius * radius) * aperture / (far * far);
  check_agrees("centre", *spot.peak_irradiance, expected, figures.replicates - 1, 1e-3 * expected);
  CHECK(spot.peak_irradiance->unit == "lm/m2");
  CHECK(spot.power.unit == "lm");
  CHECK(!spot.peak_concentration);
  check_agrees("caught light is all on the screen", spot.power, lumens * figures.caught_share->value, freedom(figures),
               1e-5 * lumens);
}

TEST_CASE("straight light: the inverse square law, and two round plates" * doctest::test_suite("slow")) {
  // A point at distance d whose plane leans by β sees Φ cos β/(4 π d²) from an even ball of any size (reciprocity: a Lambert ball
  // looks like the disc of its outline), so a disk on the axis gets Φ (1 − cos ψ)/2 with tan ψ = its radius/distance: exact for
  // the large ball too.
  for (const double width : {0.001, 0.8}) {
    const TraceFigures figures = traced(lit(BallLamp{width}, {0, 0, 1}, Flat{0.01, 0.01}, screen_at(3, 2), 1'000'000));
    const TargetFigures& spot = figures.targets.at(0);
    check_agrees("ball", spot.direct_power, lumens * (1 - std::cos(std::atan(0.5))) / 2, freedom(figures));
    check_agrees("ledger", ledger(figures, "straight to spot"), spot.direct_power.value, freedom(figures));
    check_agrees("total", *spot.total_power, spot.direct_power.value + spot.power.value, freedom(figures));
  }
  // A small far screen: a quarter of the light at twice the distance.
  const auto small = [](double d) {
    return traced(lit(BallLamp{0.05}, {0, 0, 0.5}, Flat{0.01, 0.01}, screen_at(0.5 + d, 0.4), 4'000'000)).targets.at(0);
  };
  const double area = pi * 0.04;
  check_agrees("2 m", small(2).direct_power, lumens * area / (4 * pi * 4), 31, 0.005 * lumens * area / (16 * pi));
  check_agrees("4 m", small(4).direct_power, lumens * area / (4 * pi * 16), 31, 0.005 * lumens * area / (64 * pi));

  // A disk of radius a turned up toward a coaxial disk of radius b at distance h: share = (X − √(X² − 4 (b/a)²))/2 with
  // X = 1 + (h² + b²)/a² (radiation between coaxial discs, in every handbook of heat transfer, e.g. Incropera, Table 13.2).
  constexpr double a = 0.3, b = 0.5, h = 0.4;
  Scene plates = lit(DiskLamp{2 * a}, {0, 0, 1}, Flat{0.01, 0.01}, screen_at(1 + h, 2 * b), 1'000'000);
  plates.lamp->pose.turn = Eigen::AngleAxisd(pi, Vector3::UnitX()).toRotationMatrix();
  const TraceFigures figures = traced(plates);
  const double x = 1 + (h * h + b * b) / (a * a), share = (x - std::sqrt(x * x - 4 * b * b / (a * a))) / 2;
  check_agrees("plates", figures.targets.at(0).direct_power, lumens * share, freedom(figures));
  check_agrees("the rest", ledger(figures, "missed the mirrors"), lumens * (1 - share), freedom(figures));
  // A disk shines from its front only.
  plates.lamp->pose.turn = Matrix3::Identity();
  CHECK(traced(plates).targets.at(0).direct_power.value == 0);
}

TEST_CASE("a ball lamp in the centre of a bowl: all its light comes back to it") {
  // Reflection in a sphere keeps a ray's distance from the centre, at most the lamp's radius; its square is even from 0 to that.
  constexpr double radius = 0.05;
  const auto back = [&](double target_radius) {
    return traced(lit(BallLamp{2 * radius}, {0, 0, 1}, SphereBowl{1, 1.2, 0}, target(BallTarget{2 * target_radius}, {0, 0, 1})));
  };
  const TraceFigures around = back(1.02 * radius), inside = back(0.6 * radius);
  check_agrees("around the lamp", *around.targets.at(0).intercept, 1, freedom(around), 1e-9);
  check_agrees("inside it", *inside.targets.at(0).intercept, 0.36, freedom(inside));
  CHECK(ledger(around, "missed").value == 0);
  // What does not go to the bowl ends on the target's inside; what goes there is let through.
  check_agrees("its inside", ledger(around, "back of spot"), lumens * (1 - around.caught_share->value), freedom(around), 1e-9);
}

TEST_CASE("evenness: 25 equal parts; a Lambert disk over a large plane mirror" * doctest::test_suite("slow")) {
  const UniformityCircle circle{true, 0.3, -0.2, 2};
  std::array<int, UniformityCircle::parts> counts{};
  int inside = 0;
  for (int i = 0; i < 1000; ++i) {
    for (int j = 0; j < 1000; ++j) {
      const int part = circle.part(0.3 + (i - 499.5) / 250, -0.2 + (j - 499.5) / 250);
      if (part < 0) continue;
      ++counts.at(static_cast<std::size_t>(part));
      ++inside;
    }
  }
  CHECK(inside == testing::approx(pi / 4 * 1e6).epsilon(1e-3));
  for (const int count : counts) CHECK(count == testing::approx(inside / 25.0).epsilon(0.01));
  CHECK(circle.part(0.3 + 2.001, -0.2) == -1);

  // Seen as its image 1.5 m below the screen: E ∝ 1/(1 + (r/H)²)², half the light within r = H. The mean over that circle is half
  // of the middle, the outer ring (0.8 to 1) has (1/1.64 − 1/2)/0.36 of it: evenness 0.60976. The pilot knows the circle to 1 %:
  // 0.006.
  const TraceFigures figures = traced(lit(DiskLamp{2e-3}, {0, 0, 0.5}, Flat{60, 60}, screen_at(1, 40), 1'000'000));
  REQUIRE(figures.targets.at(0).evenness);
  check_agrees("evenness", *figures.targets[0].evenness, (1 / 1.64 - 0.5) / 0.36 / 0.5, figures.replicates / 2 - 1, 0.006);
  check_agrees("half-light circle", *figures.targets[0].spot_width_50, 3, freedom(figures), 2e-3);
  // A screen smaller than the circle has none, nor has a ball.
  CHECK(!traced(lit(DiskLamp{2e-3}, {0, 0, 0.5}, Flat{60, 60}, screen_at(1, 2.8))).targets.at(0).evenness);
  CHECK(!traced(lit(DiskLamp{2e-3}, {0, 0, 0.5}, Flat{60, 60}, target(BallTarget{1}, {0, 0, 2}))).targets.at(0).evenness);
  // Under the sun nobody asks.
  Scene sunny = lit(DiskLamp{2e-3}, {0, 0, 0.5}, Paraboloid{1, 1, 0}, screen_at(1, 1));
  sunny.lamp.reset();
  const TraceFigures by_day = traced(sunny);
  CHECK(!by_day.targets.at(0).evenness);
  CHECK(!by_day.caught_share);
  CHECK(!by_day.targets.at(0).total_power);
}
