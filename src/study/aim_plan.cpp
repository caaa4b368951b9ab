// SPDX-License-Identifier: MIT
#include "study/aim_plan.h"

#include <algorithm>
#include <cmath>

#include "sky/clear_sky.h"
#include "study/light_figures.h"
#include "study/mirror_best.h"

namespace dishwright {

namespace {

double beam_at(const Outdoors& outdoors, const Moment& time) {
  return clear_beam(sun_place(time, outdoors.site, outdoors.air), outdoors.site, outdoors.air, outdoors.turbidity);
}

/// Where the beam falls below what is enough, between a time when it is and one when it is not.
Moment beam_edge(const Outdoors& outdoors, Moment enough_at, Moment little_at, double enough) {
  while (std::abs(enough_at.seconds - little_at.seconds) > 30) {
    const Moment middle{(enough_at.seconds + little_at.seconds) / 2, enough_at.offset};
    (beam_at(outdoors, middle) >= enough ? enough_at : little_at) = middle;
  }
  return enough_at;
}

}  // namespace

AimRow aim_row(const Outdoors& outdoors, const Moment& time) {
  AimRow row;
  row.time = time;
  row.sun = sun_place(time, outdoors.site, outdoors.air);
  row.up = row.sun.apparent_elevation > 0;
  const Vector3 sun = row.sun.direction();
  const Matrix3 axes = mount_axes(outdoors.mount, sun);
  const Vector3 z = axes.col(2);
  row.elevation = std::asin(std::clamp(z.z(), -1.0, 1.0));
  row.azimuth = std::atan2(z.x(), z.y());
  if (outdoors.mount.kind == MountKind::tilted_axis) {
    const Matrix3 upright = mount_axes(outdoors.mount, Vector3::UnitZ());
    row.turn = std::atan2(z.dot(upright.col(0)), z.dot(upright.col(2)));
    row.left_over = std::asin(std::clamp(sun.dot(axes.col(1)), -1.0, 1.0));
  }
  row.clear_beam = clear_beam(row.sun, outdoors.site, outdoors.air, outdoors.turbidity);
  return row;
}

SunHours sun_hours(const Outdoors& outdoors, const Moment& day, double enough) {
  SunHours hours;
  hours.day = sun_day(day, outdoors.site);
  const Moment noon = hours.day.noon;
  if (hours.day.never_up || beam_at(outdoors, noon) < enough) return hours;
  // The beam grows until noon and falls behind it. A midnight sun that is strong enough has no edge.
  constexpr double half_day = 43200;
  const Moment before = later(noon, -half_day), after = later(noon, half_day);
  hours.from = beam_at(outdoors, before) >= enough ? before : beam_edge(outdoors, noon, before, enough);
  hours.to = beam_at(outdoors, after) >= enough ? after : beam_edge(outdoors, noon, after, enough);
  return hours;
}

Scene aimed_scene(Scene scene) {
  Outdoors& outdoors = *scene.outdoors;
  outdoors.mount.elevation.reset(), outdoors.mount.azimuth.reset();
  outdoors.mount.aimed = outdoors.time;
  scene.sun.aim_error = scene.sun.aim_direction = 0;
  settle_sun(outdoors, scene.sun);
  // Figures to two digits are enough: no more paths than that needs, and none where smooth images serve.
  constexpr std::uint64_t most_paths = 65'536;
  scene.trace.paths = std::min(scene.trace.paths, most_paths);
  scene.trace.accuracy.reset();
  if (scene.trace.method == Method::rays) scene.trace.method = Method::automatic;
  return scene;
}

AimPlan aim_plan(const Scene& asked, std::size_t target, const AimQuestion& question, int threads, Watch& watch) {
  AimPlan plan;
  plan.scene = aimed_scene(asked);
  const Scene& scene = plan.scene;
  plan.target = scene.targets[target].name;
  plan.enough = question.enough;
  const Outdoors& outdoors = *scene.outdoors;
  plan.now = aim_row(outdoors, outdoors.time);
  const auto steps = static_cast<int>(std::floor((question.to.seconds - question.from.seconds) / question.every + 1e-6));
  for (int k = 0; k <= steps; ++k) plan.rows.push_back(aim_row(outdoors, later(question.from, k * question.every)));
  plan.today = sun_hours(outdoors, outdoors.time, question.enough);
  const int year = day_of(outdoors.time).year;
  for (int month = 1; month <= 12; ++month)
    plan.months.push_back(sun_hours(outdoors, noon_on({year, month, 21}, outdoors.time.offset), question.enough));
  plan.figures = light_figures(scene, LightMap::none, threads, watch);
  plan.figures.mirror_best = mirror_best(scene, threads, watch);
  plan.re_aim = re_aim(scene, target, question.kept, threads, watch);
  if (question.parked) plan.parked = burn_day(asked, *question.parked, threads, watch);
  return plan;
}

}  // namespace dishwright
