// SPDX-License-Identifier: MIT
// A whole day over a parked dish: the sun of its place, and the track of its bright spot.
#pragma once

#include <string>
#include <vector>

#include "sky/sun_day.h"
#include "study/burn_track.h"

namespace dishwright {

/// How people leave a dish.
enum class ParkedAs {
  face_up,    ///< its axis to the zenith
  leaning,    ///< as its mount is parked or was aimed last
  pointed,    ///< at an elevation and azimuth that were asked for
  in_vehicle  ///< on its back on a seat, face up; sides and a roof close by; the glass taken as open
};

struct BurnQuestion {
  ParkedAs as = ParkedAs::face_up;
  double elevation = 0, azimuth = 0;      ///< of the axis, `pointed` [rad]
  double height = 0.9144, wall = 0.9144;  ///< as in ParkedDish [m]
  std::optional<double> roof;             ///< as in ParkedDish [m]
  double every = 900;                     ///< [s]
};

/// On the seat of a van: the vertex 4 in above it, sides 28 in and a roof 3 ft away (our choice, no source).
BurnQuestion left_in_vehicle();

struct BurnDay {
  BurnQuestion asked;
  double elevation = 0, azimuth = 0;  ///< of the mirror's z axis [rad]
  ParkedDish parked;
  Moment day;             ///< a time of it
  SunDay sun;             ///< of that day
  bool measured = false;  ///< the beam is the file's, the whole day; else that of a clear sky
  std::vector<BurnStep> steps;
  std::vector<SunPlace> places;  ///< of the sun, beside them
};

/// The sun every so many seconds by the clock while it is up on the day of the scene's time.
std::vector<SunStep> sun_steps(const Scene& scene, double every, std::vector<SunPlace>& places);
/// Of a scene with outdoors, on the day of its time. Throws what burn_track() throws.
BurnDay burn_day(const Scene& scene, const BurnQuestion& question, int threads, const Watch& watch);

}  // namespace dishwright
