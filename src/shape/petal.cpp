// SPDX-License-Identifier: MIT
#include "shape/petal.h"

#include <cmath>
#include <numbers>

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

}  // namespace dishwright
