// SPDX-License-Identifier: MIT
// Earth axes → mount → the scene's frame. Truth: right angles, and the sun's 15 degrees an hour at the equinox.
#include "scene/outdoors.h"

#include <doctest/doctest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "approx.h"
#include "scene/scene.h"

using dishwright::earth_direction;
using dishwright::Moment;
using dishwright::Mount;
using dishwright::MountKind;
using dishwright::Outdoors;
using dishwright::Sun;
using dishwright::Vector3;

namespace {

constexpr double degree = std::numbers::pi / 180;

Moment clock_at(const char* text) { return std::get<Moment>(dishwright::parse_moment(text)); }

/// 40 deg N on the Greenwich meridian, at the March equinox of 2026 (declination 0 at 14:46 UTC).
Outdoors equinox(const char* time) {
  Outdoors outdoors;
  outdoors.site = {40 * degree, 0, 0};
  outdoors.time = clock_at(time);
  return outdoors;
}

bool same(const Vector3& a, const Vector3& b, double within = 1e-12) { return (a - b).norm() < within; }

}  // namespace

TEST_CASE("outdoors: axes of an altitude-azimuth mount") {
  const auto south = dishwright::altitude_azimuth_axes(30 * degree, 180 * degree);
  CHECK(same(south.col(0), {1, 0, 0}));  // x is east
  CHECK(same(south.col(1), {0, 0.5, std::sqrt(0.75)}));
  CHECK(same(south.col(2), {0, -std::sqrt(0.75), 0.5}));
  const auto east = dishwright::altitude_azimuth_axes(0, 90 * degree);
  CHECK(same(east.col(0), {0, 1, 0}));  // looking at it from the sun, from the east, north is at the right
  CHECK(same(east.col(1), {0, 0, 1}));
  // Straight up there is a side still: the one that it came from.
  const auto up = dishwright::altitude_azimuth_axes(90 * degree, 180 * degree);
  CHECK(same(up.col(1), {0, 1, 0}));
  for (const double azimuth : {10.0, 100.0, 200.0, 350.0}) {
    const auto axes = dishwright::altitude_azimuth_axes(25 * degree, azimuth * degree);
    CHECK(axes.determinant() == dishwright::testing::approx(1));
    CHECK(same(axes.col(2), earth_direction(25 * degree, azimuth * degree)));
    CHECK(same(dishwright::mount_axes({}, axes.col(2)).col(1), axes.col(1)));
  }
}

TEST_CASE("outdoors: a trough on a tilted axis turns the sun into its y-z plane") {
  Mount mount;
  mount.kind = MountKind::tilted_axis;
  // Level, north-south: a low sun in the east is met; the noon sun of 50 deg is 40 deg along it, which stays.
  auto axes = dishwright::mount_axes(mount, earth_direction(20 * degree, 90 * degree));
  CHECK(same(axes.transpose() * earth_direction(20 * degree, 90 * degree), {0, 0, 1}));
  CHECK(same(axes.col(1), {0, 1, 0}));
  axes = dishwright::mount_axes(mount, earth_direction(50 * degree, 180 * degree));
  CHECK(same(axes.transpose() * earth_direction(50 * degree, 180 * degree), {0, -std::cos(50 * degree), std::sin(50 * degree)}));
  CHECK(same(axes.col(2), {0, 0, 1}));
  // Along the earth's axis the equinox sun is met all day: tilt = latitude.
  mount.axis_tilt = 40 * degree;
  Outdoors outdoors = equinox("2026-03-20T10:00Z");
  outdoors.mount = mount;
  Sun sun;
  settle_sun(outdoors, sun);
  CHECK(sun.aim_error / degree < 0.15);                 // declination of that morning and the lift by the air
  CHECK(std::abs(std::cos(sun.aim_direction)) < 1e-6);  // along y
  // Level, east-west: the noon sun is met.
  mount.axis_tilt = 0, mount.axis_azimuth = 90 * degree;
  axes = dishwright::mount_axes(mount, earth_direction(50 * degree, 180 * degree));
  CHECK(same(axes.transpose() * earth_direction(50 * degree, 180 * degree), {0, 0, 1}));
  CHECK(same(axes.col(0), {0, -std::sin(50 * degree), -std::cos(50 * degree)}));
}

TEST_CASE("outdoors: aimed and left, the equinox sun drifts by 15 deg an hour, to the west") {
  Outdoors outdoors = equinox("2026-03-20T12:37:30Z");
  outdoors.mount.aimed = clock_at("2026-03-20T12:07:30Z");  // about noon there
  Sun sun;
  settle_sun(outdoors, sun);
  CHECK(dishwright::testing::off(sun.aim_error / degree, 7.5) < 0.03);
  CHECK(dishwright::testing::off(drift_angle(outdoors) / degree, 7.5) < 0.03);
  // The dish looks south, so its x is east: the sun goes to -x, and near noon hardly up or down.
  CHECK(std::cos(sun.aim_direction) < -0.99);
}

TEST_CASE("outdoors: the error of setting stays, and the drift is composed with it") {
  Outdoors outdoors = equinox("2026-03-20T09:00Z");
  Sun sun;
  sun.aim_error = 1 * degree, sun.aim_direction = 90 * degree;
  settle_sun(outdoors, sun);
  CHECK(sun.aim_error == 1 * degree);  // on the sun: to the last bit
  CHECK(sun.aim_direction == 90 * degree);
  // The same mount asked by way of its axes says the same.
  CHECK(same(sun_in_frame(outdoors, outdoors.sun), sun.direction(), 1e-12));
  outdoors.mount.aimed = outdoors.time;
  outdoors.time = clock_at("2026-03-20T09:20Z");
  settle_sun(outdoors, sun);
  const Vector3 set = dishwright::far_direction(1 * degree, 90 * degree);
  CHECK(dishwright::testing::off(std::acos(set.dot(sun.direction())), drift_angle(outdoors)) < 1e-9);
  CHECK(dishwright::testing::off(drift_angle(outdoors) / degree, 5) < 0.05);
}

TEST_CASE("outdoors: parked face up, the sun is as far from the axis as from overhead") {
  Outdoors outdoors = equinox("2026-03-20T12:07:30Z");
  outdoors.mount.elevation = 90 * degree, outdoors.mount.azimuth = 180 * degree;
  Sun sun;
  settle_sun(outdoors, sun);
  CHECK(dishwright::testing::off(sun.aim_error / degree, 40) < 0.06);  // noon: its latitude, less the lift and the declination
  CHECK(dishwright::testing::off(sun.aim_direction / degree, -90) < 0.3);  // y is north
}

TEST_CASE("outdoors: the beam of a clear sky follows the sun") {
  Outdoors outdoors = equinox("2026-03-20T12:07:30Z");
  outdoors.clear_sky = true;
  Sun noon, evening;
  settle_sun(outdoors, noon);
  outdoors.time = clock_at("2026-03-20T17:30Z");
  settle_sun(outdoors, evening);
  CHECK(noon.beam > 800);
  CHECK(noon.beam < 1000);
  CHECK(evening.beam < 0.6 * noon.beam);
}
