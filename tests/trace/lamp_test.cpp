// SPDX-License-Identifier: MIT
// Where a lamp's paths start and which way they go, against the laws in trace/lamp.h, checked at the surface: place, angle from
// the normal, azimuths, and that they do not depend on one another.
//
// Plain random numbers go in, so that the usual tests hold. 24 tests at 1e-4 each: fewer than 3 in 1000 seeds fail by chance.
#include "trace/lamp.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <memory>
#include <numbers>
#include <random>
#include <vector>

using namespace dishwright;

namespace {

constexpr double turn = 2 * std::numbers::pi;
constexpr int blocks = 200;
constexpr double level = 1e-4;

struct OwnRay {
  Vector3 from, along;
};

// Rays of a turned and shifted lamp, taken back into its own frame.
std::vector<OwnRay> rays_of(const LampShape& shape, unsigned seed) {
  Lamp lamp;
  lamp.shape = shape;
  lamp.pose.at = Vector3(1, -2, 0.5);
  lamp.pose.turn = Eigen::AngleAxisd(0.8, Vector3(1, 2, -0.5).normalized()).toRotationMatrix();
  lamp.power = 1;
  std::mt19937_64 random(seed);
  const auto draws = std::make_unique<DrawBlock>();
  const auto rays = std::make_unique<RayBlock>();
  std::vector<OwnRay> out;
  for (int b = 0; b < blocks; ++b) {
    for (auto& purpose : *draws) {
      for (float& value : purpose) value = (static_cast<float>(random() >> 41U) + 0.5F) * 0x1p-23F;
    }
    start_from_lamp(lamp, block_size, *draws, *rays);
    REQUIRE(rays->n == block_size);
    for (std::size_t i = 0; i < block_size; ++i) {
      CHECK(rays->weight[i] == full_weight);
      const Vector3 from(rays->ox[i], rays->oy[i], rays->oz[i]), along(rays->dx[i], rays->dy[i], rays->dz[i]);
      CHECK(std::abs(along.norm() - 1) < 1e-12);
      out.push_back({lamp.pose.turn.transpose() * (from - lamp.pose.at), lamp.pose.turn.transpose() * along});
    }
  }
  return out;
}

/// Kolmogorov's test that the numbers are even on (0, 1). 2 exp(−2 x²) = 1e-4 at x = 2.2253 (Kolmogorov's limit law, first term).
void check_even(const char* what, std::vector<double> sample) {
  std::sort(sample.begin(), sample.end());
  const double count = static_cast<double>(sample.size());
  double worst = 0;
  for (std::size_t i = 0; i < sample.size(); ++i) {
    worst = std::max(
        {worst, std::abs(sample[i] - static_cast<double>(i) / count), std::abs(sample[i] - static_cast<double>(i + 1) / count)});
  }
  INFO(what, ": ", worst * std::sqrt(count));
  CHECK(worst * std::sqrt(count) < 2.2253);
}

/// Chi-square test that two even numbers do not depend on each other: 8 × 8 cells.
void check_apart(const char* what, const std::vector<double>& a, const std::vector<double>& b) {
  constexpr int side = 8;
  std::vector<double> counts(side * side, 0);
  for (std::size_t i = 0; i < a.size(); ++i) {
    const int x = std::clamp(static_cast<int>(a[i] * side), 0, side - 1),
              y = std::clamp(static_cast<int>(b[i] * side), 0, side - 1);
    counts[static_cast<std::size_t>(y * side + x)] += 1;
  }
  const double expected = static_cast<double>(a.size()) / (side * side);
  double sum = 0;
  for (const double count : counts) sum += (count - expected) * (count - expected) / expected;
  const double limit = boost::math::quantile(boost::math::complement(boost::math::chi_squared(side * side - 1), level));
  INFO(what, ": ", sum, " against ", limit);
  CHECK(sum < limit);
}

double turns(double y, double x) {
  const double angle = std::atan2(y, x) / turn;
  return angle < 0 ? angle + 1 : angle;
}

}  // namespace

TEST_CASE("ball: even over its surface, the cosine law at every element") {
  constexpr double radius = 0.04;
  std::vector<double> height, side, cosine2, about, around_world;
  for (const OwnRay& ray : rays_of(BallLamp{2 * radius}, 1)) {
    CHECK(std::abs(ray.from.norm() - radius) < 1e-12);
    const Vector3 normal = ray.from / radius;
    const double cosine = normal.dot(ray.along);
    REQUIRE(cosine >= -1e-12);
    const Vector3 east = Vector3::UnitZ().cross(normal).normalized(), north = normal.cross(east);
    height.push_back((normal.z() + 1) / 2);
    side.push_back(turns(normal.y(), normal.x()));
    cosine2.push_back(cosine * cosine);
    about.push_back(turns(ray.along.dot(north), ray.along.dot(east)));
    around_world.push_back((ray.along.x() + 1) / 2);
  }
  check_even("height", height), check_even("side", side), check_even("cos²", cosine2), check_even("about the normal", about);
  check_even("seen from afar", around_world);
  check_apart("height, cos²", height, cosine2), check_apart("side, about", side, about),
      check_apart("cos², about", cosine2, about);
  check_apart("height, about", height, about);
}

TEST_CASE("disk: even over its area, the cosine law from its front only") {
  constexpr double radius = 0.04;
  std::vector<double> r2, side, sine2, about;
  for (const OwnRay& ray : rays_of(DiskLamp{2 * radius}, 2)) {
    CHECK(std::abs(ray.from.z()) < 1e-12);
    REQUIRE(ray.along.z() <= 0);
    r2.push_back(ray.from.squaredNorm() / (radius * radius));
    side.push_back(turns(ray.from.y(), ray.from.x()));
    sine2.push_back(1 - ray.along.z() * ray.along.z());
    about.push_back(turns(ray.along.y(), ray.along.x()));
  }
  check_even("r²", r2), check_even("side", side), check_even("sin²", sine2), check_even("about the normal", about);
  check_apart("r², sin²", r2, sine2), check_apart("side, about", side, about), check_apart("sin², about", sine2, about);
  check_apart("r², side", r2, side);
}

TEST_CASE("line: even along y, intensity as the sine of the angle to it") {
  constexpr double length = 0.2;
  std::vector<double> place, share, about;
  for (const OwnRay& ray : rays_of(LineLamp{length}, 3)) {
    CHECK(std::hypot(ray.from.x(), ray.from.z()) < 1e-12);
    place.push_back(ray.from.y() / length + 0.5);
    // Power ∝ sin θ · sin θ dθ: share below θ is (θ − sin θ cos θ)/π.
    const double angle = std::acos(std::clamp(ray.along.y(), -1.0, 1.0));
    share.push_back((angle - std::sin(angle) * std::cos(angle)) / std::numbers::pi);
    about.push_back(turns(ray.along.z(), ray.along.x()));
  }
  check_even("along", place), check_even("angle", share), check_even("about the line", about);
  check_apart("along, angle", place, share), check_apart("angle, about", share, about), check_apart("along, about", place, about);
}

TEST_CASE("the inverse of the line's law") {
  for (const double u : {0x1p-24, 1e-5, 0.01, 0.1, 0.25, 0.4999, 0.5, 0.75, 0.999, 1 - 0x1p-24}) {
    const double c = line_cosine(u);
    CHECK(std::abs(0.5 + (c * std::sqrt(1 - c * c) + std::asin(c)) / std::numbers::pi - u) < 1e-12);
  }
  CHECK(std::abs(line_cosine(0.5)) < 1e-12);
}
