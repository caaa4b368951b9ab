// SPDX-License-Identifier: MIT
#include "scene/outdoors.h"

#include <Eigen/Geometry>
#include <cmath>

#include "scene/scene.h"
#include "sky/clear_sky.h"

namespace dishwright {

namespace {

constexpr double rounding = 1e-12;  // of an angle [rad]

/// The smallest rotation that takes one unit vector to another; none where they are opposite.
Matrix3 turn_between(const Vector3& from, const Vector3& to) {
  const Vector3 axis = from.cross(to);
  const double sine = axis.norm();
  if (sine < rounding) return Matrix3::Identity();
  return Eigen::AngleAxisd(std::atan2(sine, from.dot(to)), axis / sine).toRotationMatrix();
}

/// Toward what the mount was set.
Vector3 set_toward(const Outdoors& outdoors, const SunPlace& sun) {
  const Mount& mount = outdoors.mount;
  if (mount.parked()) return earth_direction(*mount.elevation, *mount.azimuth);
  return outdoors.aimed_at ? outdoors.aimed_at->direction() : sun.direction();
}

}  // namespace

Matrix3 altitude_azimuth_axes(double elevation, double azimuth) {
  const Vector3 z = earth_direction(elevation, azimuth);
  // Upward along the upright circle: the same azimuth, a quarter turn higher.
  const Vector3 y(-std::sin(elevation) * std::sin(azimuth), -std::sin(elevation) * std::cos(azimuth), std::cos(elevation));
  Matrix3 axes;
  axes << y.cross(z), y, z;
  return axes;
}

Matrix3 mount_axes(const Mount& mount, const Vector3& toward) {
  if (mount.kind == MountKind::altitude_azimuth)
    return altitude_azimuth_axes(std::asin(std::clamp(toward.z(), -1.0, 1.0)), std::atan2(toward.x(), toward.y()));
  const Vector3 y = earth_direction(mount.axis_tilt, mount.axis_azimuth);
  Vector3 z = toward - toward.dot(y) * y;
  // Light along the axis itself: no turn about it helps, so it looks up.
  if (z.norm() < 1e-9) z = Vector3::UnitZ() - y.z() * y;
  if (z.norm() < 1e-9) z = Vector3::UnitY();
  z.normalize();
  Matrix3 axes;
  axes << y.cross(z), y, z;
  return axes;
}

Matrix3 standing_axes(const Outdoors& outdoors, const SunPlace& sun) {
  const Matrix3 meant = mount_axes(outdoors.mount, set_toward(outdoors, sun));
  return meant * turn_between(far_direction(outdoors.set_error, outdoors.set_direction), Vector3::UnitZ());
}

Vector3 sun_in_frame(const Outdoors& outdoors, const SunPlace& sun) {
  return standing_axes(outdoors, sun).transpose() * sun.direction();
}

void set_direction(Sun& sun, const Vector3& direction) {
  const double aside = std::hypot(direction.x(), direction.y());
  sun.aim_error = std::atan2(aside, direction.z());
  sun.aim_direction = std::atan2(direction.y(), direction.x());
  if (sun.aim_error < rounding) sun.aim_error = sun.aim_direction = 0;
}

void settle_sun(Outdoors& outdoors, Sun& sun) {
  outdoors.set_error = sun.aim_error, outdoors.set_direction = sun.aim_direction;
  outdoors.sun = sun_place(outdoors.time, outdoors.site, outdoors.air);
  outdoors.aimed_at.reset();
  const std::optional<Moment>& aimed = outdoors.mount.aimed;
  if (aimed && aimed->seconds != outdoors.time.seconds) outdoors.aimed_at = sun_place(*aimed, outdoors.site, outdoors.air);
  if (outdoors.clear_sky) sun.beam = clear_beam(outdoors.sun, outdoors.site, outdoors.air, outdoors.turbidity);
  // On the sun it is just as it was set, to the last bit.
  const bool on_it = outdoors.mount.kind == MountKind::altitude_azimuth && !outdoors.mount.parked() && !outdoors.aimed_at;
  if (!on_it) set_direction(sun, sun_in_frame(outdoors, outdoors.sun));
}

double drift_angle(const Outdoors& outdoors) {
  if (!outdoors.aimed_at) return 0;
  const Vector3 a = outdoors.aimed_at->direction(), b = outdoors.sun.direction();
  return std::atan2(a.cross(b).norm(), a.dot(b));
}

}  // namespace dishwright
