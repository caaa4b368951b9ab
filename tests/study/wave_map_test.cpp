// SPDX-License-Identifier: MIT
// Maps of sound and radio: their brightest place against the closed form, and their room.
#include "study/wave_map.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace dishwright;

namespace {

constexpr double focal_length = 0.4, radius = 0.5;

Scene radio_dish(const Vector3& feed_at) {
  Scene scene;
  Reflector dish;
  dish.name = "dish";
  dish.shape = Paraboloid{focal_length, 2 * radius, 0};
  scene.reflectors.push_back(dish);
  Target feed;
  feed.name = "feed";
  feed.shape = BallTarget{0.01};
  feed.pose.at = feed_at;
  feed.shades = false;
  scene.targets.push_back(feed);
  scene.radio = Radio{};
  scene.radio->frequencies = {3e9};
  return scene;
}

}  // namespace

TEST_CASE("wave map: the peak is the focus, as strong as the closed form") {
  const Scene scene = radio_dish({0, 0, focal_length});
  // Equal ways from all over the dish: 2 k f ln(1 + depth/f), the sum of the integral in wave/setup.h.
  const double wave_number = 2 * std::numbers::pi * 3e9 / light_speed, depth = radius * radius / (4 * focal_length);
  const double level = 20 * std::log10(2 * wave_number * focal_length * std::log(1 + depth / focal_length));
  for (const MapCut cut : {MapCut::focal, MapCut::axial}) {
    const WaveMap map = wave_map(WaveQuestion(scene, nullptr), cut);
    CHECK(map.convergence.reached);
    CHECK(map.peak == testing::approx(level).epsilon(2e-3));
    CHECK(std::abs(map.peak_x) < 0.003);
    CHECK(map.whole);
  }
}

TEST_CASE("wave map: it stays clear of a mirror that is near, and settles") {
  // 0.3 m from the axis and 6 cm over the sheet: a map as wide as the spot would go through it.
  const Scene scene = radio_dish({0.3, 0, 0.12});
  const auto height_above = [](const Vector3& place) { return place.z() - place.head<2>().squaredNorm() / (4 * focal_length); };
  for (const MapCut cut : {MapCut::focal, MapCut::axial}) {
    const WaveMap map = wave_map(WaveQuestion(scene, nullptr), cut);
    CHECK(map.plane.half_width > 0.01);
    double least = 1;
    for (const Vector3& place : map.plane.places()) {
      if (place.head<2>().norm() <= radius) least = std::min(least, height_above(place));
    }
    CHECK(least > 0.005);
    CHECK(map.convergence.reached);
    CHECK(map.convergence.points < 70'000);
  }
}
