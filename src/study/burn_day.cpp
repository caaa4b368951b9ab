// SPDX-License-Identifier: MIT
#include "study/burn_day.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sky/clear_sky.h"

namespace dishwright {

std::vector<SunStep> sun_steps(const Scene& scene, double every, std::vector<SunPlace>& places) {
  constexpr double whole_day = 86400;
  const Outdoors& outdoors = *scene.outdoors;
  const Moment midnight = midnight_before(outdoors.time);
  std::vector<SunStep> steps;
  for (double clock = 0; clock < whole_day; clock += every) {
    const Moment moment = later(midnight, clock);
    const SunPlace sun = sun_place(moment, outdoors.site, outdoors.air);
    if (sun.apparent_elevation <= 0) continue;
    const double beam = outdoors.clear_sky ? clear_beam(sun, outdoors.site, outdoors.air, outdoors.turbidity) : scene.sun.beam;
    steps.push_back({moment.seconds, sun.direction(), beam});
    places.push_back(sun);
  }
  return steps;
}

BurnQuestion left_in_vehicle() {
  constexpr double above_seat = 0.1016, side = 0.7112, roof = 0.9144;
  BurnQuestion out;
  out.as = ParkedAs::in_vehicle;
  out.height = above_seat, out.wall = side, out.roof = roof;
  return out;
}

BurnDay burn_day(const Scene& scene, const BurnQuestion& question, int threads, const Watch& watch) {
  const Outdoors& outdoors = *scene.outdoors;
  BurnDay day;
  day.asked = question, day.day = outdoors.time, day.measured = !outdoors.clear_sky;
  day.sun = sun_day(outdoors.time, outdoors.site);
  day.parked.height = question.height, day.parked.wall = question.wall, day.parked.roof = question.roof;
  switch (question.as) {
    case ParkedAs::face_up:
    case ParkedAs::in_vehicle: break;  // x east, y north, z up
    case ParkedAs::leaning: day.parked.axes = standing_axes(outdoors, outdoors.sun); break;
    case ParkedAs::pointed: day.parked.axes = altitude_azimuth_axes(question.elevation, question.azimuth); break;
  }
  const Vector3 axis = day.parked.axes.col(2);
  day.elevation = std::asin(std::clamp(axis.z(), -1.0, 1.0));
  day.azimuth = std::fmod(std::atan2(axis.x(), axis.y()) + 2 * std::numbers::pi, 2 * std::numbers::pi);
  const std::vector<SunStep> suns = sun_steps(scene, question.every, day.places);
  day.steps = burn_track(scene, day.parked, suns, threads, watch);
  return day;
}

}  // namespace dishwright
