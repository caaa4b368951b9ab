// SPDX-License-Identifier: MIT
#include "shape/petals.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <vector>

namespace dishwright {

namespace {

using std::numbers::pi;

/// Distance along the middle line of the petal at the place.
double along_middle(const Petals& petals, double x, double y) {
  const double azimuth = petal_azimuth(petals, petal_at(petals, x, y));
  return x * std::cos(azimuth) + y * std::sin(azimuth);
}

}  // namespace

double petal_coefficient(const Petals& petals) {
  const double c = petals.seams_on_curve ? std::cos(pi / petals.count) : 1;
  return 1 / (4 * petals.focal_length * c * c);
}

double petal_azimuth(const Petals& petals, int index) { return 2 * pi * index / petals.count; }

int petal_at(const Petals& petals, double x, double y) {
  const double turns = std::atan2(y, x) / (2 * pi) * petals.count;
  const int index = static_cast<int>(std::lround(turns));
  return (index % petals.count + petals.count) % petals.count;
}

double petal_height(const Petals& petals, double x, double y) {
  const double u = along_middle(petals, x, y);
  return petal_coefficient(petals) * u * u;
}

Vector3 petal_normal(const Petals& petals, double x, double y) {
  const double azimuth = petal_azimuth(petals, petal_at(petals, x, y));
  const double slope = 2 * petal_coefficient(petals) * along_middle(petals, x, y);
  return Vector3(-slope * std::cos(azimuth), -slope * std::sin(azimuth), 1).normalized();
}

double petal_depth(const Petals& petals) { return petal_coefficient(petals) * petals.width * petals.width / 4; }

HeightRange Petals::height_range() const { return {0, petal_depth(*this)}; }

Heights Petals::heights() const {
  // The way of each middle line is reckoned once: tracers ask for millions of places.
  std::vector<Eigen::Vector2d> ways;
  for (int petal = 0; petal < count; ++petal) {
    const double azimuth = petal_azimuth(*this, petal);
    ways.emplace_back(std::cos(azimuth), std::sin(azimuth));
  }
  return heights_from([petals = *this, ways = std::move(ways), steep = petal_coefficient(*this)](double x, double y) {
    const Eigen::Vector2d& way = ways[static_cast<std::size_t>(petal_at(petals, x, y))];
    const double u = x * way.x() + y * way.y();
    return HeightAt{steep * u * u, 2 * steep * u * way.x(), 2 * steep * u * way.y()};
  });
}

Patches Petals::patches() const {
  Patches all;
  const double k = petal_coefficient(*this), half = pi / count;
  for (int petal = 0; petal < count; ++petal) {
    const double azimuth = petal_azimuth(*this, petal);
    Matrix3 round;
    round << std::cos(azimuth), -std::sin(azimuth), 0, std::sin(azimuth), std::cos(azimuth), 0, 0, 0, 1;
    MirrorPatch patch;
    patch.at = [s = *this, k, half, round](double u, double v) {
      const double from = s.hole_width / 2, to = s.width / 2, r = from + (to - from) * u, angle = half * (2 * v - 1);
      const double x = r * std::cos(angle), slope = 2 * k * x, secant = std::sqrt(1 + slope * slope);
      return MirrorPoint{round * Vector3(x, r * std::sin(angle), k * x * x), round * Vector3(-slope / secant, 0, 1 / secant),
                         r * (to - from) * 2 * half * secant};
    };
    all.push_back(patch);
  }
  return all;
}

// A patch for each petal: the slope jumps from one to the next.
Patches Petals::flawed_patches(const Heights& surface) const {
  Patches all;
  const double half = pi / count, from = hole_width / 2, to = width / 2;
  for (int petal = 0; petal < count; ++petal) {
    MirrorPatch patch;
    patch.heights = true;
    patch.at = [=, middle = petal_azimuth(*this, petal)](double u, double v) {
      // Just within the seams: on one, either petal may answer.
      const double r = from + (to - from) * u, angle = middle + half * (1 - 1e-12) * (2 * v - 1);
      return point_over(*surface, r * std::cos(angle), r * std::sin(angle), r * (to - from) * 2 * half);
    };
    all.push_back(std::move(patch));
  }
  return all;
}

std::string Petals::details(const LengthWords& /*say*/) const {
  return fmt::format(", {} petals with the {} on the curve", count, seams_on_curve ? "seams" : "middle lines");
}

}  // namespace dishwright
