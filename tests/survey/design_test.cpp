// SPDX-License-Identifier: MIT
// Readings held against designs that are no paraboloid. The surfaces are written out here, or solved for, not taken from shape/.
#include <doctest/doctest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "approx.h"
#include "base/error.h"
#include "effort.h"
#include "survey/design_error.h"
#include "survey/held_against.h"
#include "survey/pieces.h"
#include "survey/survey.h"
#include "survey/synthetic.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254, f = 24 * inch, width = 48 * inch, pi = std::numbers::pi;

Scene scene_of(const ReflectorShape& shape, const Flaws& flaws = {}) {
  Scene scene;
  scene.reflectors.emplace_back();
  scene.reflectors.front().shape = shape;
  scene.reflectors.front().flaws = flaws;
  return scene;
}

Meant meant_of(const ReflectorShape& shape, const Flaws& flaws = {}) { return held_against(scene_of(shape, flaws)).meant; }

/// Flat petals: u²/(4 f) along the middle line of each, the first along +x.
double petal_height(double x, double y, int count, double focal) {
  const double part = 2 * pi / count, middle = std::round(std::atan2(y, x) / part) * part;
  return std::pow(x * std::cos(middle) + y * std::sin(middle), 2) / (4 * focal);
}

const std::vector<double> rings = {4 * inch, 8 * inch, 12 * inch, 16 * inch, 20 * inch, 23.5 * inch};

SurveyPoints petal_readings(int count, int clocks, double focal, double scatter, unsigned seed) {
  SurveyPoints points =
      survey_of(ring_places(rings, clocks), [&](double x, double y) { return petal_height(x, y, count, focal) - 6 * inch; });
  if (scatter > 0) add_noise(points, scatter, seed);
  return points;
}

std::string error_of(const std::function<void()>& work) {
  try {
    work();
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("the foot on a design is the nearest point of it, and distances change as the numbers say") {
  PlacedShape shape;
  shape.kind = ShapeKind::meant, shape.meant = meant_of(Pressed{width, 6 * inch, 0}), shape.size = shape.meant->size;
  // z = d (1 − (1 − r²/R²)²), looked through densely.
  for (const Vector3& own : {Vector3(0.2, 0.1, 0.1), Vector3(-0.4, 0.1, 0.02), Vector3(0.05, -0.02, 0.03)}) {
    double least = 1e9;
    for (double x = -0.6; x < 0.6; x += 0.002) {
      for (double y = -0.6; y < 0.6; y += 0.002) {
        const double left = 1 - (x * x + y * y) / (width * width / 4);
        least = std::min(least, (Vector3(x, y, 6 * inch * (1 - left * left)) - own).norm());
      }
    }
    CHECK(std::abs(nearest_foot(shape, own).distance) == testing::approx(least).epsilon(1e-3));
  }
  shape.vertex = {0.01, -0.02, -0.15};
  const Vector3 point = shape.from_own({0.3, 0.2, own_height(shape, 0.3, 0.2) + 0.01});
  const FitVector slopes = distance_slopes(shape, nearest_foot(shape, shape.to_own(point)));
  for (int i = 0; i < fit_numbers; ++i) {
    constexpr double step = 1e-6;
    FitVector change = FitVector::Zero();
    change[i] = step;
    const PlacedShape plus = moved(shape, change), minus = moved(shape, -change);
    const double by = nearest_foot(plus, plus.to_own(point)).distance - nearest_foot(minus, minus.to_own(point)).distance;
    if (free_numbers(shape)[static_cast<std::size_t>(i)])
      CHECK(slopes[i] == testing::approx(by / (2 * step)).epsilon(1e-4).scale(1e-6));
  }
}

TEST_CASE("a dish of petals is fitted as petals: its own focal length, no residual, nothing set aside") {
  const Survey found = survey_design(petal_readings(12, 24, 25 * inch, 0, 1), meant_of(Petals{f, width, 12, false, 0}), false);
  CHECK(found.fit().shape.kind == ShapeKind::meant);
  CHECK(found.figures.focal_length.value == testing::approx(25 * inch).epsilon(1e-6));
  CHECK(found.fit().rms < 1e-8);
  CHECK(found.set_aside.empty());
  CHECK(found.map.rms.value < 1e-5);
  CHECK(found.fits.clear);
  // A paraboloid leaves the petals' flatness, which at the rim is 0.4 in from middle to seam.
  CHECK(found.fits.of(ShapeKind::paraboloid).rms > 0.05 * inch);
}

TEST_CASE("focal length and meeting place of petals: the ± covers" * doctest::test_suite("slow")) {
  const int surveys = repeats(160);
  const Meant design = meant_of(Petals{f, width, 12, false, 0});
  int focal = 0, meeting = 0;
  for (int k = 1; k <= surveys; ++k) {
    const Survey found = survey_design(petal_readings(12, 24, 25 * inch, 0.03 * inch, static_cast<unsigned>(k)), design, false);
    focal += std::abs(found.figures.focal_length.value - 25 * inch) <= *found.figures.focal_length.std_error ? 1 : 0;
    meeting += std::abs(found.figures.meeting[0].value) <= *found.figures.meeting[0].std_error ? 1 : 0;
  }
  for (const int count : {focal, meeting}) {
    CHECK(count >= surveys * (0.60 - share_allowance(0.60, surveys, 2.6)));
    CHECK(count <= surveys * (0.76 + share_allowance(0.76, surveys, 2.6)));
  }
}

TEST_CASE("what hides on petals: nothing between seams and middles, the flatness of a bowl where only hours were read") {
  const Meant design = meant_of(Petals{f, width, 12, false, 0});
  const Survey both = survey_design(petal_readings(12, 24, f, 0, 1), design, false);
  const Survey hours = survey_design(petal_readings(12, 12, f, 0, 1), design, false);
  REQUIRE(both.hidden.rings.size() == 6);
  REQUIRE(hours.hidden.rings.size() == 6);
  for (const HiddenRing& ring : both.hidden.rings) {
    CHECK(ring.pieces_shown);
    CHECK(ring.height < 1e-9);
  }
  const HiddenRing& rim = hours.hidden.rings.back();
  CHECK_FALSE(rim.pieces_shown);
  CHECK(rim.height == testing::approx(std::pow(2 * 23.5 * inch * std::sin(pi / 12), 2) / (16 * f)).epsilon(1e-6));
  // The waves may hang either way.
  const auto surface = heights_from([](double, double) { return HeightAt{}; });
  const double x = 20 * inch * std::cos(pi / 12), y = 20 * inch * std::sin(pi / 12);
  const double up = height_at(*with_hidden_waves(surface, hours.hidden, f, std::nullopt), x, y).height,
               down = height_at(*with_hidden_waves(surface, hours.hidden, f, std::nullopt, true), x, y).height;
  CHECK(up > 0.1 * inch);
  CHECK(down == -up);
}

TEST_CASE("a skin on ribs is held with its bays") {
  Flaws flaws;
  flaws.scallop = Scallop{12, 0.5 * inch};
  const auto skin = [](double x, double y) {  // docs/flaws.md: −depth (r/R)² sin²(ribs φ/2)
    const double r2 = x * x + y * y;
    return r2 / (4 * f) - 0.5 * inch * r2 / (width * width / 4) * std::pow(std::sin(6 * std::atan2(y, x)), 2) - 6 * inch;
  };
  const HeldAgainst held = held_against(scene_of(Paraboloid{f, width, 0}, flaws));
  REQUIRE(held.kind == ShapeKind::meant);
  const Survey found = survey_design(survey_of(ring_places(rings, 24), skin), held.meant, false);
  CHECK(found.fit().rms < 1e-8);
  CHECK(found.figures.focal_length.value == testing::approx(f).epsilon(1e-6));
  CHECK(found.hidden.rings.back().pieces_shown);
  // Other flaws of a file are not what is meant: a plain paraboloid stays one.
  Flaws twisted;
  twisted.twist = 0.01;
  CHECK(held_against(scene_of(Paraboloid{f, width, 0}, twisted)).kind == ShapeKind::paraboloid);
}

TEST_CASE("a cone is held as it is: too deep a one shows, and has no focal length") {
  const Meant design = meant_of(Cone{12 * inch, width, 0});
  const auto cone = [](double depth) {
    return survey_of(ring_places(rings, 12),
                     [depth](double x, double y) { return depth * std::hypot(x, y) / (width / 2) - 12 * inch; });
  };
  const Survey as_meant = survey_design(cone(12 * inch), design, false), deeper = survey_design(cone(13 * inch), design, false);
  CHECK_FALSE(as_meant.fit().shape.has_focus());
  CHECK(as_meant.fit().rms < 1e-7);
  // 1 in more at the rim: a straight line from the middle, less its mean, seen square to a slope of 1/2.
  CHECK(deeper.fit().rms > 0.15 * inch);
  CHECK(deeper.fit().rms < 0.4 * inch);
  CHECK(error_of([&] { survey_design(petal_readings(12, 24, 10 * f, 0, 1), design, false); }).find("not those of a cone") !=
        std::string::npos);
}

TEST_CASE("an offset dish is read in the plane of its rim") {
  const OffsetParaboloid shape{f, 2 * inch, 20 * inch, 0};
  const Meant design = meant_of(shape);
  // The plane through the far and the near edge, and its middle.
  const double near = 2 * inch, far = 22 * inch, middle = 12 * inch;
  const Vector3 low(0, near, near * near / (4 * f)), high(0, far, far * far / (4 * f));
  CHECK((design->from_rim({0, 0, 0}) - (low + high) / 2).norm() < 1e-12);
  CHECK((design->from_rim({0, (high - low).norm() / 2, 0}) - high).norm() < 1e-12);
  CHECK((design->from_rim({10 * inch, 0, 0}) - Vector3(10 * inch, middle, (low.z() + high.z()) / 2)).norm() < 1e-12);
  CHECK((design->to_rim(design->from_rim({0.1, -0.2, -0.03})) - Vector3(0.1, -0.2, -0.03)).norm() < 1e-12);
  // Depths by bisection down from that plane onto a dish of 25 in.
  const Vector3 along = (high - low).normalized(), up = Vector3::UnitX().cross(along);
  const auto depth = [&](double x, double y, double focal) {
    double from = -0.1, to = 0.5;
    for (int k = 0; k < 60; ++k) {
      const double d = (from + to) / 2;
      const Vector3 at = (low + high) / 2 + Vector3(x, 0, 0) + y * along - d * up;
      (at.z() > at.head<2>().squaredNorm() / (4 * focal) ? from : to) = d;
    }
    return from;
  };
  SurveyPoints points =
      survey_of(grid_places(1.5 * inch, 9.5 * inch), [&](double x, double y) { return -depth(x, y, 25 * inch); });
  const Survey found = survey_design(points, design, false);
  CHECK(found.figures.focal_length.value == testing::approx(25 * inch).epsilon(2e-3));
  CHECK(found.fit().rms < 1e-5);
  CHECK(found.map.samples.front().foot.y() > near);
}

TEST_CASE("petals that nobody read are named; shapes that cannot be surveyed are refused with what to do") {
  SurveyPoints some = petal_readings(12, 24, f, 0, 1);
  // Without the petals at 3 and at 6 o'clock.
  std::vector<Vector3> left;
  for (const Vector3& p : some.points) {
    const double angle = std::atan2(p.y(), p.x());
    if (p.head<2>().norm() > 0.01 && (std::abs(angle) < 0.27 || std::abs(angle + pi / 2) < 0.27)) continue;
    left.push_back(p);
  }
  some.points = left;
  some.rows.resize(left.size());
  const std::string unread = error_of([&] { survey_design(some, meant_of(Petals{f, width, 12, false, 0}), false); });
  CHECK(unread.find("no readings on 2 of the 12 petals") != std::string::npos);
  CHECK(unread.find("at 3 o'clock") != std::string::npos);
  CHECK(unread.find("at 6 o'clock") != std::string::npos);
  CHECK(error_of([] { held_against(scene_of(Flat{0.3, 0.3})); }).find("straightedge lies on a flat mirror") != std::string::npos);
  CHECK(error_of([] { held_against(scene_of(Mesh{})); }).find("triangles of a mesh") != std::string::npos);
  CHECK(error_of([] { held_against(scene_of(Measured{})); }).find("measured already") != std::string::npos);
  SurveyPoints cloud = petal_readings(12, 24, f, 0, 1);
  cloud.under_rim = false;
  CHECK(error_of([&] {
          survey_design(cloud, meant_of(Petals{f, width, 12, false, 0}), false);
        }).find("a cloud of points") != std::string::npos);
}

TEST_CASE("to sound and radio petals are off by their own flatness, an offset dish is not") {
  // z = k u² over a polar grid: what is left of the best a + b r², times the square of the normal's z.
  constexpr int radii = 200, angles = 90;
  double s0 = 0, s1 = 0, s2 = 0, t0 = 0, t1 = 0;
  const auto each = [&](const std::function<void(double, double, double)>& use) {
    for (int i = 0; i < radii; ++i) {
      for (int j = 0; j < angles; ++j) {
        const double r = width / 2 * std::sqrt((i + 0.5) / radii), angle = pi / 12 * (2 * (j + 0.5) / angles - 1);
        const double u = r * std::cos(angle), slope = u / (2 * f);
        use(r * r, u * u / (4 * f), 1 / (1 + slope * slope));
      }
    }
  };
  each([&](double r2, double z, double weight) {
    const double w = weight * weight;
    s0 += w, s1 += w * r2, s2 += w * r2 * r2, t0 += w * z, t1 += w * z * r2;
  });
  const double b = (t1 * s0 - t0 * s1) / (s2 * s0 - s1 * s1), a = (t0 - b * s1) / s0;
  double sum = 0;
  each([&](double r2, double z, double weight) { sum += std::pow(weight * (z - a - b * r2), 2) / (radii * angles); });
  CHECK(design_half_path(*meant_of(Petals{f, width, 12, false, 0})) == testing::approx(std::sqrt(sum)).epsilon(0.01));
  CHECK(std::sqrt(sum) > 0.05 * inch);
  CHECK(design_half_path(*meant_of(OffsetParaboloid{f, 2 * inch, 20 * inch, 0})) < 1e-9);
  const Survey found = survey_design(petal_readings(12, 24, f, 0, 1), meant_of(Petals{f, width, 12, false, 0}), false);
  CHECK(found.map.half_path_rms.value == testing::approx(std::sqrt(sum)).epsilon(0.02));
}

TEST_CASE("petals are numbered clockwise from 12 o'clock") {
  const std::vector<Piece> twelve = pieces_of(*meant_of(Petals{f, width, 12, false, 0}));
  REQUIRE(twelve.size() == 12);
  CHECK(twelve[0].middle == testing::approx(pi / 2).epsilon(1e-12));
  CHECK(twelve[3].middle == testing::approx(0).scale(1));
  CHECK(twelve[0].edge == testing::approx(pi / 2 - pi / 12).epsilon(1e-12));
  // Ten petals from +x: none stands at 12; the first clockwise of it is at 18 degrees short of it… 72 from +x.
  const std::vector<Piece> ten = pieces_of(*meant_of(Petals{f, width, 10, false, 0}));
  CHECK(ten[0].middle == testing::approx(72 * pi / 180).epsilon(1e-12));
}
