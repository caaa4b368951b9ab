// SPDX-License-Identifier: MIT
#include "survey/repeats.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "approx.h"
#include "base/error.h"
#include "effort.h"
#include "survey/survey.h"
#include "survey/synthetic.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254;

double bowl(double x, double y) { return (x * x + y * y) / (4 * 24 * inch) - 6 * inch; }

const std::vector<double> rings = {4 * inch, 8 * inch, 12 * inch, 16 * inch, 20 * inch, 23.5 * inch};

/// The places read `times` times, each time with its own scatter.
SurveyPoints read_again(int times, double scatter, unsigned seed) {
  SurveyPoints out;
  for (int k = 0; k < times; ++k) {
    SurveyPoints once = survey_of(ring_places(rings, 12), bowl);
    add_noise(once, scatter, seed * 100 + static_cast<unsigned>(k));
    out.points.insert(out.points.end(), once.points.begin(), once.points.end());
  }
  out.under_rim = true;
  for (std::size_t i = 0; i < out.points.size(); ++i) out.rows.push_back(static_cast<int>(i) + 2);
  return out;
}

Survey found(const SurveyPoints& points) { return survey_points(points, ShapeKind::paraboloid, false); }

}  // namespace

TEST_CASE("a place read more than once is one place, the mean of its readings") {
  const SurveyPoints points = read_again(3, 0.02 * inch, 1);
  const Survey survey = found(points);
  const std::size_t places = points.points.size() / 3;
  CHECK(survey.points.points.size() == places);
  CHECK(survey.repeats.read == 3 * places);
  CHECK(survey.repeats.repeated == places);
  for (std::size_t k = 0; k < places; ++k) {
    const Vector3 mean = (points.points[k] + points.points[k + places] + points.points[k + 2 * places]) / 3;
    CHECK((survey.points.points[k] - mean).norm() < 1e-12);
    CHECK(survey.points.counts[k] == 3);
  }
}

TEST_CASE("the scatter of the repeats is the noise, with its degrees of freedom") {
  // s² of m readings at each of n places is distributed as chi-square with n (m − 1) degrees of freedom: mean sigma², standard
  // deviation sigma² sqrt(2 / freedom).
  const double sigma = 0.03 * inch;
  double mean = 0;
  const int surveys = repeats(40);
  double freedom = 0;
  for (int k = 0; k < surveys; ++k) {
    const Survey survey = found(read_again(2, sigma, static_cast<unsigned>(k) + 7));
    freedom = survey.repeats.freedom;
    mean += survey.repeats.scatter * survey.repeats.scatter / (sigma * sigma) / surveys;
    // The mean of two readings has half of that variance, and it is what the map takes for its noise.
    CHECK(survey.map.reading_scatter == testing::approx(survey.repeats.scatter / std::sqrt(2.0)).epsilon(1e-9));
    // A true dish: the mean square slope is zero within its error.
    const double slope = survey.map.rms.value, error = survey.map.rms.std_error.value_or(0);
    CHECK(slope * slope <= 3.3 * ((slope + error) * (slope + error) - slope * slope));
  }
  CHECK(freedom == 73);
  CHECK(std::abs(mean - 1) < 3.3 * std::sqrt(2 / freedom / surveys));
}

TEST_CASE("repeats tell noise from a rough skin: waves too short for the readings are not taken for noise") {
  // Roughness of 1/16 in from place to place, read twice to 0.01 in. Without repeats all of it passes for scatter of the
  // readings.
  SurveyPoints rough = survey_of(ring_places(rings, 12), bowl);
  add_noise(rough, inch / 16, 3);
  SurveyPoints twice = rough;
  twice.points.insert(twice.points.end(), rough.points.begin(), rough.points.end());
  add_noise(twice, 0.01 * inch, 8);
  const Survey once = found(rough), known = found(twice);
  CHECK(known.map.reading_scatter == testing::approx(0.01 * inch / std::sqrt(2.0)).epsilon(0.25));
  CHECK(once.map.reading_scatter > 4 * known.map.reading_scatter);
  CHECK(known.map.rms.value > 3 * known.map.rms.std_error.value_or(0));
}

TEST_CASE("copies say nothing of the noise, and rounding stays") {
  SurveyPoints once = survey_of(ring_places(rings, 12), bowl);
  add_noise(once, 0.03 * inch, 5);
  SurveyPoints copied = once;
  copied.points.insert(copied.points.end(), once.points.begin(), once.points.end());
  const Survey a = found(once), b = found(copied);
  CHECK(b.repeats.alike);
  CHECK(b.points.noise.freedom == 0);
  CHECK(b.map.reading_scatter == testing::approx(a.map.reading_scatter).epsilon(1e-6));
  CHECK(b.figures.focal_length.value == testing::approx(a.figures.focal_length.value).epsilon(1e-6));
  CHECK(b.figures.focal_length.std_error.value() == testing::approx(a.figures.focal_length.std_error.value()).epsilon(1e-3));
  // Rule in sixteenths, repeats that differ at a few places only: the noise is not less than rounding makes.
  for (Vector3& point : copied.points) point.z() = std::round(point.z() / inch * 16) / 16 * inch;
  for (const std::size_t i : {3U, 17U, 33U, 40U, 51U, 66U}) copied.points[i].z() += inch / 16;
  copied.step = inch / 16;
  const Survey rounded = found(copied);
  CHECK_FALSE(rounded.repeats.alike);
  CHECK(rounded.repeats.scatter < inch / 16 / std::sqrt(12.0));
  CHECK(rounded.points.least_noise() > 0.85 * inch / 16 / std::sqrt(12.0));
  CHECK(rounded.points.least_noise() <= 1.0001 * inch / 16 / std::sqrt(12.0));
}

TEST_CASE("near repeats: float noise of grids, a clock typed as 11.99, the middle at all hours") {
  SurveyPoints points = survey_of(ring_places(rings, 12), bowl);
  const std::size_t places = points.points.size();
  for (std::size_t i = 0; i < places; ++i) {
    Vector3 again = points.points[i];
    again.x() += 1e-7 * std::sin(3.0 * static_cast<double>(i));
    again.y() -= 1e-7 * std::cos(5.0 * static_cast<double>(i));
    points.points.push_back(again);
  }
  // 0.01 h on the outermost ring.
  const double angle = 11.99 / 12 * 2 * std::numbers::pi, rim = 23.5 * inch;
  points.points.emplace_back(rim * std::sin(angle), rim * std::cos(angle), bowl(0, rim));
  for (int hour = 0; hour < 12; ++hour) points.points.emplace_back(0, 0, bowl(0, 0));
  CHECK(place_groups(points).size() == places);
  // Places that somebody reads 1/2 in apart stay apart.
  CHECK(place_groups(survey_of(grid_places(0.5 * inch, 6 * inch), bowl)).empty());
  CHECK(same_place(48 * inch, 61) == testing::approx(inch / 8));
  CHECK(same_place(0.1, 2500) == testing::approx(2e-4));
}

TEST_CASE("one wild reading of three at a place is set aside and named") {
  SurveyPoints points = read_again(3, 0.01 * inch, 2);
  points.points[20].z() -= 10 * inch;
  const Survey survey = found(points);
  REQUIRE(survey.repeats.wild.size() == 1);
  CHECK(survey.repeats.wild[0].row == 22);
  CHECK(survey.repeats.wild[0].set_aside);
  CHECK(survey.repeats.wild[0].off == testing::approx(-10 * inch).epsilon(0.01));
  CHECK(survey.points.counts[20] == 2);
  CHECK(survey.set_aside.empty());
  CHECK(survey.points.points[20].z() == testing::approx(bowl(points.points[20].x(), points.points[20].y())).epsilon(0.01));
  CHECK(survey.repeats.scatter == testing::approx(0.01 * inch).epsilon(0.2));
}

TEST_CASE("two readings that disagree: the places around decide") {
  SurveyPoints points = read_again(2, 0.01 * inch, 4);
  points.points[30].z() += inch / 2;
  const Survey survey = found(points);
  REQUIRE(survey.repeats.wild.size() == 1);
  CHECK(survey.repeats.wild[0].row == 32);
  CHECK(survey.repeats.wild[0].set_aside);
  CHECK(survey.points.counts[30] == 1);
  // Both are off: nothing says which is right, and they are named.
  points.points[30].z() += inch / 4, points.points[30 + points.points.size() / 2].z() -= inch;
  const Survey both = found(points);
  REQUIRE(both.repeats.wild.size() == 1);
  CHECK_FALSE(both.repeats.wild[0].set_aside);
}

TEST_CASE("clouds: corners that triangles share are one place; walls are no repeats") {
  SurveyPoints soup;
  for (int i = -20; i < 20; ++i) {
    for (int j = -20; j < 20; ++j) {
      const auto corner = [](int a, int b) { return Vector3(0.03 * a, 0.03 * b, (0.0009 * (a * a + b * b)) / 2.4); };
      for (const Vector3& p :
           {corner(i, j), corner(i + 1, j), corner(i + 1, j + 1), corner(i, j), corner(i + 1, j + 1), corner(i, j + 1)})
        soup.points.push_back(p);
    }
  }
  const Survey survey = found(soup);
  CHECK(survey.points.points.size() == 41 * 41);
  CHECK(survey.repeats.alike);
  CHECK(survey.figures.focal_length.value == testing::approx(0.6).epsilon(1e-9));
  CHECK(survey.map.rms.value < 1e-6);
  SurveyPoints wall;
  for (int k = 0; k < 100; ++k) wall.points.emplace_back(0.01 * (k % 10), 0, 0.02 * (k / 10));
  CHECK(place_groups(wall).empty());
}

TEST_CASE("too few places, however often they are read") {
  SurveyPoints points;
  points.under_rim = true;
  for (int k = 0; k < 40; ++k) points.points.emplace_back(0.1 * (k % 3), 0.1 * (k % 2), bowl(0.1 * (k % 3), 0.1 * (k % 2)));
  CHECK_THROWS_AS(found(points), InputError);
  for (Vector3& point : points.points) point = Vector3(0.1, 0.2, 0.3);
  CHECK_THROWS_AS(found(points), InputError);
}

TEST_CASE("many readings of few places do not crash: each place 1 to 30 times") {
  for (int times = 2; times <= 30; times += 7) {
    SurveyPoints points = read_again(times, 0.02 * inch, 9);
    const Survey survey = found(points);
    CHECK(survey.map.rms.value < 0.01);
    CHECK(std::isfinite(survey.map.spacing));
  }
}
