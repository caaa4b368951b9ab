// SPDX-License-Identifier: MIT
// Where the scene stands on the earth, and where the sun is then: earth axes → mount → the scene's frame (decision 33).
//
// Earth axes: x east, y north, z up. Azimuth clockwise from true north, elevation above the horizon.
#pragma once

#include <optional>

#include "base/vector.h"
#include "sky/moment.h"
#include "sky/sun_place.h"

namespace dishwright {

struct Sun;

/// What carries the mirror.
enum class MountKind { altitude_azimuth, tilted_axis };

struct Mount {
  MountKind kind = MountKind::altitude_azimuth;
  std::optional<Moment> aimed;               ///< pointed at the sun of this time and not touched since; empty: it follows the sun
  std::optional<double> elevation, azimuth;  ///< both: parked there, wherever the sun is [rad]
  double axis_azimuth = 0;                   ///< tilted axis: the way its upper (+y) end points [rad]
  double axis_tilt = 0;                      ///< of that end above the level [rad], 0 … π/2
  bool parked() const { return elevation.has_value(); }
  bool follows() const { return !aimed && !parked(); }
};

/// A scene under the open sky. The first part is what the file says, the second what settle_sun() found.
struct Outdoors {
  Site site;
  std::optional<double> declination;  ///< of a compass needle, east of true north [rad]
  OpenAir air;
  Moment time;
  Mount mount;
  bool clear_sky = false;                   ///< the beam is that of a clear sky
  double turbidity = 3;                     ///< Linke's, for the clear sky [1]
  double set_error = 0, set_direction = 0;  ///< aim error as the mount was set, as Sun::aim_error and aim_direction [rad]

  SunPlace sun;                      ///< at `time`
  std::optional<SunPlace> aimed_at;  ///< the sun that the mount was set by, where that is another time
};

/// The scene's axes in earth axes, as columns x, y, z: a mount of this kind that points as well as it can toward the unit vector
/// `toward`.
Matrix3 mount_axes(const Mount& mount, const Vector3& toward);
/// The axes of an altitude-azimuth mount.
Matrix3 altitude_azimuth_axes(double elevation, double azimuth);

/// The scene's axes in earth axes as the mount stands while the sun is at `sun`: mount_axes() of what it was set by, turned by the
/// error with which it was set.
Matrix3 standing_axes(const Outdoors& outdoors, const SunPlace& sun);
/// Unit vector to the sun at `sun` in the scene's frame.
Vector3 sun_in_frame(const Outdoors& outdoors, const SunPlace& sun);
/// Writes a direction of the scene's frame into Sun::aim_error and aim_direction.
void set_direction(Sun& sun, const Vector3& direction);

/// Finds the places of the sun, and writes aim_error, aim_direction and, for a clear sky, the beam into `sun`, which held the error
/// of setting. The one home of the sun's direction in a scene (decision 33). A sun below the horizon has no beam under a clear
/// sky: check_outdoors() refuses it before.
void settle_sun(Outdoors& outdoors, Sun& sun);

/// The part of the sun's own aim error that the time since aiming made: angle from the sun that the mount was set by [rad].
double drift_angle(const Outdoors& outdoors);

}  // namespace dishwright
