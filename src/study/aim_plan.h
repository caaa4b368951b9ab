// SPDX-License-Identifier: MIT
// Where to point a dish, now and through a lesson, and when its place has sun enough.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "result/figures.h"
#include "scene/scene.h"
#include "sky/sun_day.h"
#include "study/burn_day.h"
#include "study/re_aim.h"

namespace dishwright {

/// How to stand at one time.
struct AimRow {
  Moment time;
  SunPlace sun;
  bool up = true;         ///< the sun is above the horizon
  double elevation = 0;   ///< of the mirror's z axis [rad]
  double azimuth = 0;     ///< of it, from true north [rad]
  double turn = 0;        ///< of a tilted axis: about it, from upright toward the mirror's +x [rad]
  double left_over = 0;   ///< of a tilted axis: the sun's angle along the trough, which no turn takes away [rad]
  double clear_beam = 0;  ///< of a clear sky [W/m²]
};

/// The sun of one day.
struct SunHours {
  SunDay day;
  std::optional<Moment> from, to;  ///< while a clear sky's beam is enough; empty where it never is
  double hours() const { return from && to ? (to->seconds - from->seconds) / 3600 : 0; }
};

struct AimPlan {
  Scene scene;         ///< with outdoors
  std::string target;  ///< whose light is counted
  AimRow now;          ///< at the scene's time
  std::vector<AimRow> rows;
  double enough = 600;  ///< beam that counts as enough [W/m²]
  SunHours today;
  std::vector<SunHours> months;   ///< the 21st of each month of the same year
  std::optional<ReAim> re_aim;    ///< empty where the target catches no light
  TraceFigures figures;           ///< of the dish aimed at the sun, for the cautions
  std::optional<BurnDay> parked;  ///< where it was asked for
};

/// The turns of a lesson.
struct AimQuestion {
  Moment from, to;                     ///< [from, to]
  double every = 600;                  ///< [s], > 0
  double enough = 600;                 ///< [W/m²]
  double kept = 0.9;                   ///< part of the share that has to stay [1]
  std::optional<BurnQuestion> parked;  ///< the burn track of a dish that is left so
};

AimRow aim_row(const Outdoors& outdoors, const Moment& time);
/// Hours with a clear sky's beam of at least `enough`, by turbidity and air of the scene; to 30 s.
SunHours sun_hours(const Outdoors& outdoors, const Moment& day, double enough);
/// The same scene with its mount just aimed at the sun of its time, without error; by quadrature where that is
/// quicker, else with 65 536 paths at most.
Scene aimed_scene(Scene scene);
/// `scene` is aimed first. Throws what re_aim() throws.
AimPlan aim_plan(const Scene& scene, std::size_t target, const AimQuestion& question, int threads, Watch& watch);

}  // namespace dishwright
