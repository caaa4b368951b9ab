// SPDX-License-Identifier: MIT
// Functions on the vector lanes against those of the standard library in double.
#include "base/simd_math.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace dishwright;

namespace {

constexpr double turn = 2 * std::numbers::pi;
constexpr int many = 1 << 16;

struct alignas(64) Row {
  float value[many];
};

}  // namespace

TEST_CASE("sine and cosine of turns: error below 2e-7, both ends of the turn") {
  std::vector<float> u(many + 1), sine(many + 1), cosine(many + 1);
  for (int i = 0; i <= many; ++i) u[i] = static_cast<float>(i) / many;
  sincos_of_turns(u.data(), sine.data(), cosine.data(), many + 1);
  double worst = 0;
  for (int i = 0; i <= many; ++i) {
    const double angle = turn * static_cast<double>(u[i]);
    worst = std::max({worst, std::abs(sine[i] - std::sin(angle)), std::abs(cosine[i] - std::cos(angle))});
  }
  CHECK(worst < 2e-7);
  CHECK(sine[0] == 0);
  CHECK(cosine[0] == 1);
  CHECK(sine[many / 4] == 1);
  CHECK(cosine[many / 2] == -1);
}

TEST_CASE("azimuth in turns: error below 1e-7 for short and long arms, axes and the middle") {
  std::vector<double> x, y;
  for (int i = 0; i < many; ++i) {
    const double angle = turn * (i + 0.5) / many, r = std::pow(10.0, i % 13 - 6);
    x.push_back(r * std::cos(angle)), y.push_back(r * std::sin(angle));
  }
  std::vector<float> turns(x.size());
  turns_of(y.data(), x.data(), turns.data(), many);
  double worst = 0;
  for (int i = 0; i < many; ++i) worst = std::max(worst, std::abs(turns[i] - (i + 0.5) / many));
  CHECK(worst < 1e-7);
  const double axis_x[] = {1, 0, -1, 0, 0}, axis_y[] = {0, 1, 0, -1, 0};
  float on_axis[5];
  turns_of(axis_y, axis_x, on_axis, 5);
  for (int i = 0; i < 4; ++i) CHECK(on_axis[i] == 0.25F * static_cast<float>(i));
  CHECK(on_axis[4] >= 0);
  CHECK(on_axis[4] <= 1);
}

TEST_CASE("radius of a pair of normals: relative error below 1e-6") {
  static Row u, radius;
  for (int i = 0; i < many; ++i) u.value[i] = (static_cast<float>(i) + 0.5F) / many;
  normal_radius(u.value, radius.value, many);
  double worst = 0;
  for (int i = 0; i < many; ++i) {
    const double exact = std::sqrt(-2 * std::log(static_cast<double>(u.value[i])));
    worst = std::max(worst, std::abs(radius.value[i] / exact - 1));
  }
  CHECK(worst < 1e-6);
}
