// SPDX-License-Identifier: MIT
// Closed forms of the further shapes: cone, catenary, petals, tiles, offset dish, dish with a second mirror. Point sun on the
// axis.
#include <algorithm>

#include "../trace/sample_shapes.h"
#include "scenes.h"
#include "shape/facets.h"
#include "trace/path_history.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

double distance_from_line(const Vector3& point, const Vector3& from, const Vector3& along) {
  return (point - from).cross(along).norm();
}

/// The first reflection at `surface` of those among the first paths of a scene that get so far.
std::vector<Step> reflections(const Scene& made, std::uint64_t paths, const std::string& surface = "dish") {
  std::vector<Step> found;
  for (const PathHistory& story : replay_paths(made, paths)) {
    const auto wanted = [&](const Step& step) { return step.kind == StepKind::reflected && step.surface == surface; };
    const auto step = std::find_if(story.steps.begin(), story.steps.end(), wanted);
    if (step != story.steps.end()) found.push_back(*step);
  }
  return found;
}

/// Where a ray in a plane with the axis meets it [m].
double axis_crossing(const Step& step) {
  const double r = std::hypot(step.point.x(), step.point.y());
  const double outward = (step.direction.x() * step.point.x() + step.direction.y() * step.point.y()) / r;
  return step.point.z() - r * step.direction.z() / outward;
}

Scene axial(const ReflectorShape& shape, const TargetShape& goal = BallTarget{1e-3}, double height = 5,
            std::uint64_t paths = 200'000) {
  return scene(point_sun(), mirror(shape), target(goal, Vector3(0, 0, height)), paths, 61);
}

}  // namespace

TEST_CASE("offset dish: every axial ray meets the focus") {
  for (const OffsetParaboloid& dish : {OffsetParaboloid{0.5, 0.03, 0.8, 0}, OffsetParaboloid{1, 0.4, 1.5, 0.2}}) {
    const std::vector<Step> rays = reflections(axial(dish), 100);
    CHECK(rays.size() > 80);
    for (const Step& step : rays) {
      CHECK(distance_from_line(Vector3(0, 0, dish.focal_length), step.point, step.direction) < 1e-6);
      const double off = std::hypot(step.point.x(), step.point.y() - dish.clearance - dish.width / 2);
      CHECK(off <= dish.width / 2 * (1 + 1e-6));
    }
    // The outline seen along the axis is the cutting circle.
    const TraceFigures figures = traced(axial(dish));
    check_agrees("aperture", figures.aperture_power,
                 1000 * pi / 4 * (dish.width * dish.width - dish.hole_width * dish.hole_width), figures.replicates - 1);
  }
}

// A cone z = k r, k = tan β, turns every axial ray by 2β toward the axis: from the radius r it meets the axis at r (tan β + cot
// 2β) = r/sin 2β. Light in a ring dr is ∝ r dr, so power per length of axis grows evenly with z up to R/sin 2β.
TEST_CASE("cone: its light is a line on the axis, r/sin 2β high, and crosses a plane where the angles say") {
  for (const double k : {0.2, 0.6}) {
    const double beta = std::atan(k), rim = 0.5;
    const Cone cone{k * rim, 2 * rim, 0};
    const std::vector<Step> rays = reflections(axial(cone), 100);
    CHECK(rays.size() > 80);
    for (const Step& step : rays) {
      const double r = std::hypot(step.point.x(), step.point.y());
      CHECK(std::abs(axis_crossing(step) - r / std::sin(2 * beta)) < 1e-6);
      CHECK(std::abs(step.direction.x() * step.point.y() - step.direction.y() * step.point.x()) < 1e-9);
    }
    // A disk of radius a at the height h catches the radii r with |r − (h − k r) tan 2β| <= a, by area r²/R².
    const double t = std::tan(2 * beta), h = 0.6 * rim / std::sin(2 * beta), a = 0.08;
    const double from = std::max(0.0, (h * t - a) / (1 + k * t)), to = std::min(rim, (h * t + a) / (1 + k * t));
    const TraceFigures figures = traced(axial(cone, DiskTarget{2 * a}, h));
    check_agrees("disk", *figures.targets[0].intercept, (to * to - from * from) / (rim * rim), figures.replicates - 1);
  }
}

// z = a (cosh(r/a) − 1) has the slope s = sinh(r/a); an axial ray turns by 2 atan s and meets the axis at z + r (1 − s²)/(2 s).
TEST_CASE("catenary: axial rays meet the axis where its slope says; near the vertex at a/2") {
  const double width = 1.2, depth = 0.25;
  // a (cosh(R/a) − 1) = depth, by halving.
  const double a = root_of(0.1, 10, [&](double p) { return depth - p * (std::cosh(width / 2 / p) - 1); });
  const std::vector<Step> rays = reflections(axial(Catenary{width, depth, 0}), 200);
  CHECK(rays.size() > 150);
  for (const Step& step : rays) {
    const double r = std::hypot(step.point.x(), step.point.y()), s = std::sinh(r / a);
    CHECK(std::abs(step.point.z() - a * (std::cosh(r / a) - 1)) < 1e-9);
    CHECK(std::abs(axis_crossing(step) - (step.point.z() + r * (1 - s * s) / (2 * s))) < 1e-6);
  }
  const std::vector<Step> middle = reflections(axial(Catenary{0.02, 0.01 * 0.01 / 2 / a, 0}), 20);
  for (const Step& step : middle) CHECK(std::abs(axis_crossing(step) / (a / 2) - 1) < 1e-3);
}

// z = d (1 − (1 − q)²), q = r²/R², has the slope s = 4 d r (1 − q)/R².
TEST_CASE("pressed sheet: axial rays turn by twice its slope, at the flat rim not at all; its focus is R²/(8 d)") {
  const double rim = 0.6, depth = 0.1;
  const std::vector<Step> rays = reflections(axial(Pressed{2 * rim, depth, 0}), 200);
  CHECK(rays.size() > 150);
  double farthest = 0;
  for (const Step& step : rays) {
    const double r = std::hypot(step.point.x(), step.point.y()), q = r * r / (rim * rim),
                 s = 4 * depth * r * (1 - q) / (rim * rim);
    farthest = std::max(farthest, r);
    CHECK(std::abs(step.point.z() - depth * (1 - (1 - q) * (1 - q))) < 1e-9);
    // Toward the flat rim the meeting place runs away: judged by the slope that it tells.
    const double drop = axis_crossing(step) - step.point.z(), tangent = r / drop;  // of twice the slope's angle
    CHECK(std::abs(tangent - 2 * s / (1 - s * s)) < 1e-6);
  }
  CHECK(farthest > 0.97 * rim);
  // Its focus is where that place tends to toward the middle: z + r (1 − s²)/(2 s) with s = 4 d r/R².
  CHECK(own_focus(Pressed{2 * rim, depth, 0})->z() == testing::approx(rim * rim / (8 * depth)));
}

// Across-width law. A petal is straight across (v), so an axial ray keeps its v: with the middle lines on the parabola it meets
// the focal plane at u = 0 and its own v. The petal's image is a line across it, as long as the petal is wide: 2b = 2 R sin(π/N)
// where the circular rim cuts its seams. At v the petal is √(R² − v²) − v cot α long (α = π/N), so the share of the light within
// |v| <= a of the N crossing lines is
//   [a √(R² − a²) + R² asin(a/R) − a² cot α] / (α R²).
// With the seams on the curve the same holds at the height f cos² α, for each petal is a cylinder of that focal length.
TEST_CASE("petals: the light of a petal is a line as long as the petal is wide" * doctest::test_suite("slow")) {
  const double f = 0.6, rim = 0.6;
  for (const bool seams_on_curve : {false, true}) {
    for (const int count : {3, 8, 12, 24}) {
      CAPTURE(count);
      const double alpha = pi / count, cosine = std::cos(alpha), height = seams_on_curve ? f * cosine * cosine : f;
      if (seams_on_curve && count == 3) continue;  // deeper than its focus is high
      const Petals petals{f, 2 * rim, count, seams_on_curve, 0};
      const auto share = [&](double a) {
        return (a * std::sqrt(rim * rim - a * a) + rim * rim * std::asin(a / rim) - a * a / std::tan(alpha)) /
               (alpha * rim * rim);
      };
      for (const Step& step : reflections(axial(petals), 60)) {
        const Vector3 end = step.point + step.direction * (height - step.point.z()) / step.direction.z();
        const double middle = std::round(std::atan2(step.point.y(), step.point.x()) / (2 * alpha)) * 2 * alpha;
        const Vector3 u(std::cos(middle), std::sin(middle), 0), v(-std::sin(middle), std::cos(middle), 0);
        CHECK(std::abs(end.dot(u)) < 1e-6);
        CHECK(std::abs(end.dot(v) - step.point.dot(v)) < 1e-6);
      }
      const double b = rim * std::sin(alpha);
      for (const double part : {0.2, 0.5, 0.8, 1.0 + 1e-6}) {
        const TraceFigures figures = traced(axial(petals, DiskTarget{2 * b * part}, height, 50'000));
        check_agrees("share", *figures.targets[0].intercept, part > 1 ? 1 : share(b * part), figures.replicates - 1);
      }
      const TraceFigures figures = traced(axial(petals, DiskTarget{2 * b}, height));
      const double ninety = root_of(0, b, [&](double a) { return share(a) - 0.9; });
      check_agrees("90 % width", *figures.targets[0].spot_width_90, 2 * ninety, figures.replicates - 1, 2e-3 * ninety);
    }
  }
}

// An aimed round tile of diameter t, turned by i, throws a cylinder of light that cuts a level plane in an ellipse: t across and
// t cos i/cos 2i along. The circle of diameter t lies in it, so it holds cos 2i/cos i of the tile's light, which is ∝ cos i.
TEST_CASE("aimed tiles, point sun: the spot is the tile" * doctest::test_suite("slow")) {
  Facets facets;
  facets.frame = FacetFrame::paraboloid;
  facets.focal_length = 0.6;
  facets.width = 1;
  facets.tile = 0.06;
  facets.gap = 0.004;
  facets.tile_shape = TileShape::round;
  facets.aim_at_target = true;
  facets.aim_point = Vector3(0, 0, 0.7);
  double inside = 0, all = 0, longest = 1;
  const double step = facets.tile + facets.gap;
  for (int row = -20; row <= 20; ++row) {
    for (int column = -20; column <= 20; ++column) {
      const double x = step * (column + (row % 2 == 0 ? 0 : 0.5)), y = step * row * std::sqrt(3.0) / 2, r = std::hypot(x, y);
      if (r > facets.width / 2) continue;
      const double twice = std::atan2(r, 0.7 - r * r / (4 * 0.6));  // 2 i
      inside += std::cos(twice);
      all += std::cos(twice / 2);
      longest = std::max(longest, std::cos(twice / 2) / std::cos(twice));
    }
  }
  const TraceFigures circle = traced(axial(facets, DiskTarget{facets.tile}, 0.7));
  check_agrees("circle", *circle.targets[0].intercept, inside / all, circle.replicates - 1);
  check_agrees("aperture", circle.aperture_power, 1000 * pi / 4 * facets.tile * facets.tile * all, circle.replicates - 1);
  CHECK(traced(axial(facets, DiskTarget{facets.tile * longest * (1 + 1e-5)}, 0.7)).targets[0].intercept->value > 1 - 1e-9);
  CHECK(traced(axial(facets, DiskTarget{facets.tile * longest * (1 - 1e-2)}, 0.7)).targets[0].intercept->value < 1 - 1e-6);
}

// One square tile of side t under a uniform sun of half angle δ, a strip of width t at the height h: the sun's image, a disk of
// radius ρ = h tan δ, shifts the tile's image by s; |s| of it falls beside the strip: 1 − E|s|/t = 1 − 4 ρ/(3 π t), for ρ <= t. A
// strip t + 2ρ wide catches all. (The image of the disc at tan δ is even to δ², 2e-5.)
TEST_CASE("one flat tile under the sun: spot = tile + sun image" * doctest::test_suite("slow")) {
  Facets facets;
  facets.frame = FacetFrame::flat;
  facets.width = 0.04;
  facets.tile = 0.05;
  facets.gap = 0.01;
  const double h = 2, rho = h * std::tan(sun_angle);
  for (const TileShape shape : {TileShape::square, TileShape::hexagon}) {
    facets.tile_shape = shape;
    Scene made = axial(facets, RectangleTarget{facets.tile + 2 * rho * (1 + 1e-6), 1}, h);
    made.sun = uniform_sun();
    CHECK(traced(made).targets[0].intercept->value > 1 - 1e-9);
    made.targets[0].shape = RectangleTarget{(facets.tile + 2 * rho) * 0.97, 1};
    CHECK(traced(made).targets[0].intercept->value < 1 - 1e-6);
  }
  facets.tile_shape = TileShape::square;
  Scene made = axial(facets, RectangleTarget{facets.tile, 1}, h);
  made.sun = uniform_sun();
  const TraceFigures figures = traced(made);
  check_agrees("strip", *figures.targets[0].intercept, 1 - 4 * rho / (3 * pi * facets.tile), figures.replicates - 1, 1e-4);
}

// One level tile, point sun: the light beside it is its outline. A hexagon w across its flats (which face ±x) is 2 (w − |x|)/√3
// long at x, so a strip |x| <= c holds (8/3) (c/w − c²/(2 w²)) of it; a strip |y| <= c within its flats 4 c/(√3 w); a circle of
// half the radius a quarter of a round tile; strips of half the side half of a square.
TEST_CASE("light leaves a tile evenly" * doctest::test_suite("slow")) {
  const double w = 0.05;
  const auto share = [&](TileShape tile, const TargetShape& goal, double expected) {
    CAPTURE(expected);
    Facets facets;
    facets.frame = FacetFrame::flat;
    facets.width = 0.04;
    facets.tile = w;
    facets.gap = 0.01;
    facets.tile_shape = tile;
    const TraceFigures figures = traced(axial(facets, goal, 1));
    check_agrees("share", *figures.targets[0].intercept, expected, figures.replicates - 1);
  };
  share(TileShape::hexagon, RectangleTarget{w / 2, 1}, 8.0 / 3 * (1.0 / 4 - 1.0 / 32));
  share(TileShape::hexagon, RectangleTarget{w / 4, 1}, 8.0 / 3 * (1.0 / 8 - 1.0 / 128));
  share(TileShape::hexagon, RectangleTarget{1, w / 2}, 1 / std::sqrt(3.0));
  share(TileShape::round, DiskTarget{w / 2}, 0.25);
  share(TileShape::round, RectangleTarget{w / 2, 1}, 1.0 / 3 + std::sqrt(3.0) / 2 / pi);  // of a circle, within half its radius
  share(TileShape::square, RectangleTarget{w / 2, 1}, 0.5);
  share(TileShape::square, RectangleTarget{1, w / 2}, 0.5);
}

// A floor of level tiles under a point sun sends each half of the light up over each half of the floor, whichever part of the
// paths the last, short block of a replicate has.
TEST_CASE("short blocks of paths have their own share of the tiles") {
  Facets facets;
  facets.frame = FacetFrame::flat;
  facets.width = 1, facets.tile = 0.05, facets.gap = 0.01;
  for (const std::uint64_t paths : {32U * 513U, 32U * 520U, 32U * 900U}) {
    CAPTURE(paths);
    for (const Vector3& middle : {Vector3(1, 0, 1), Vector3(-1, 0, 1), Vector3(0, 1, 1), Vector3(0, -1, 1)}) {
      const TraceFigures figures = traced(scene(point_sun(), mirror(facets), target(RectangleTarget{2, 2}, middle), paths));
      check_agrees("share", *figures.targets[0].intercept, 0.5, figures.replicates - 1);
      CHECK(std::abs(figures.targets[0].intercept->value - 0.5) < 0.002);
    }
  }
}

TEST_CASE("second mirrors: every ray goes through the far focus") {
  for (const TwoMirrors& pair : {convex_second(0.6), concave_second(0.6)}) {
    Scene made = axial(Paraboloid{0.6, 1.2, 0.12});
    Reflector second = mirror(pair.second);
    second.name = "second";
    second.pose = pair.pose;
    made.reflectors.push_back(second);
    made.targets[0] = target(DiskTarget{0.02}, pair.far_focus);
    made.targets[0].pose.turn = Eigen::DiagonalMatrix<double, 3>(1, -1, -1);  // its front looks up
    const std::vector<Step> rays = reflections(made, 300, "second");
    CHECK(rays.size() > 60);
    for (const Step& step : rays) CHECK(distance_from_line(pair.far_focus, step.point, step.direction) < 1e-6);
    const TraceFigures figures = traced(made);
    CHECK(figures.targets[0].power.value > 100);
    CHECK(figures.targets[0].spot_rms_radius->value < 1e-6);
    // All that leaves the second mirror arrives: what it got is the light of the dish within its outline.
    check_agrees("back of second", ledger(figures, "back of second"), 1000 * pi / 4 * std::pow(rim_width(pair.second), 2),
                 figures.replicates - 1);
  }
}
