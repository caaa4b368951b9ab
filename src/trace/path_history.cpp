// SPDX-License-Identifier: MIT
#include "trace/path_history.h"

#include <cmath>
#include <memory>
#include <numbers>

#include "trace/plan.h"
#include "trace/walk.h"

namespace dishwright {

namespace {

std::string owner_name(const Scene& scene, const Surface& surface) {
  const std::size_t k = static_cast<std::size_t>(surface.owner);
  return surface.is_mirror() ? scene.reflectors[k].name : scene.targets[k].name;
}

}  // namespace

void Walk::note(StepKind kind, int index, std::size_t ray, const Vector3& own_point, const Vector3& own_normal) {
  Step step;
  step.kind = kind;
  const Vector3 along(rays_.dx[ray], rays_.dy[ray], rays_.dz[ray]);
  step.power_share = rays_.weight[ray] / full_weight;
  if (kind == StepKind::missed) {
    step.direction = along;
    steps_->push_back(step);
    return;
  }
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  step.surface = owner_name(context_.scene, surface);
  if (surface.target_face) step.face = surface.target_face->name;
  step.own_point = own_point;
  step.point = surface.pose.turn * own_point + surface.pose.at;
  step.normal = (surface.pose.turn * own_normal).normalized();
  if (step.normal.dot(along) > 0) step.normal = -step.normal;
  steps_->push_back(step);
}

// Shading targets are quadrics.
void Walk::note_shaded(int index, std::size_t ray) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  const auto met = std::make_unique<Meetings>();
  const std::size_t k = ray;
  solve(surface,
        {rays_.ox.data() + k, rays_.oy.data() + k, rays_.oz.data() + k, rays_.dx.data() + k, rays_.dy.data() + k,
         rays_.dz.data() + k, rays_.distance.data() + k},
        1, *met);
  note(StepKind::shaded, index, ray, Vector3(met->x[0], met->y[0], met->z[0]), Vector3(met->nx[0], met->ny[0], met->nz[0]));
  steps_->back().power_share = 1;
}

void Walk::note_meetings(int index, const std::uint32_t* order, int count) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  const bool mirror = surface.is_mirror();
  for (int i = 0; i < count; ++i) {
    const std::size_t ray = order != nullptr ? order[i] : static_cast<std::size_t>(i);
    if (rays_.lane[ray] != watched_) continue;
    const std::size_t k = static_cast<std::size_t>(i);
    const bool front = met_.facing[k] < 0;
    if (mirror && front) continue;  // told when it is reflected
    const StepKind counted = !surface.counts() ? StepKind::lid : StepKind::target;
    // The plane of a plate or a base was solved without its normal.
    const bool planar = context_.plane_of[static_cast<std::size_t>(index)] >= 0;
    const Vector3 normal = planar ? Vector3(Vector3::UnitZ()) : Vector3(met_.nx[k], met_.ny[k], met_.nz[k]);
    note(front ? counted : StepKind::back, index, ray, Vector3(met_.x[k], met_.y[k], met_.z[k]), normal);
  }
}

void Walk::note_start() {
  Step step;
  for (const Arrivals::Group& group : arrivals_->groups) {
    const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(group.surface)];
    for (int i = group.begin; i < group.end; ++i) {
      const std::size_t k = static_cast<std::size_t>(i);
      if (arrivals_->lane[k] != watched_) continue;
      step.kind = StepKind::from_sun;
      step.surface = owner_name(context_.scene, surface);
      step.own_point = Vector3(arrivals_->x[k], arrivals_->y[k], arrivals_->z[k]);
      step.point = surface.pose.turn * step.own_point + surface.pose.at;
      step.direction = surface.pose.turn * Vector3(arrivals_->dx[k], arrivals_->dy[k], arrivals_->dz[k]);
      steps_->push_back(step);
      return;
    }
  }
  step.kind = StepKind::not_counted;
  step.power_share = 0;
  steps_->push_back(step);
}

void Walk::note_back(int index, std::size_t arrival) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  Step step;
  step.kind = StepKind::back;
  step.surface = owner_name(context_.scene, surface);
  step.own_point = Vector3(arrivals_->x[arrival], arrivals_->y[arrival], arrivals_->z[arrival]);
  step.point = surface.pose.turn * step.own_point + surface.pose.at;
  step.normal =
      -(surface.pose.turn * Vector3(arrivals_->nx[arrival], arrivals_->ny[arrival], arrivals_->nz[arrival])).normalized();
  steps_->push_back(step);
}

void Walk::note_reflections(int first_ray, const Arrivals::Group& group) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(group.surface)];
  for (int i = first_ray; i < rays_.n; ++i) {
    const std::size_t k = static_cast<std::size_t>(i);
    if (rays_.lane[k] != watched_) continue;
    Step step;
    step.kind = StepKind::reflected;
    step.surface = owner_name(context_.scene, surface);
    step.point = Vector3(rays_.ox[k], rays_.oy[k], rays_.oz[k]);
    step.own_point = surface.pose.turn.transpose() * (step.point - surface.pose.at);
    step.normal = Vector3(normals_.nx[k], normals_.ny[k], normals_.nz[k]);
    step.tilted_normal = Vector3(normals_.mx[k], normals_.my[k], normals_.mz[k]);
    step.direction = Vector3(rays_.dx[k], rays_.dy[k], rays_.dz[k]);
    step.power_share = rays_.weight[k] / full_weight;
    steps_->push_back(step);
  }
}

namespace {

PathHistory replay(const TraceContext& context, std::uint64_t path) {
  const TracePlan& wanted = context.scene.trace;
  const PathPlan plan = PathPlan::of(wanted.seed, wanted.paths);
  const PathPlan::Place place = plan.locate(path);
  const std::uint32_t in_block = place.index % block_size;
  PathBlock block = plan.block(place.replicate, place.index / block_size);
  block.n = in_block + 1;
  PathHistory story;
  story.path = path;
  story.seed = wanted.seed;
  story.unit = power_unit(context.scene);
  story.power = context.source_power() / static_cast<double>(wanted.paths);
  Walk walk(context);
  walk.watch(in_block, &story.steps);
  NoRayEnds ends;
  walk.block(wanted.seed, block, ends);
  return story;
}

}  // namespace

PathHistory replay_path(const Scene& scene, std::uint64_t path) { return replay(TraceContext(scene), path); }

std::vector<PathHistory> replay_paths(const Scene& scene, std::uint64_t count, SearchBy search) {
  const TraceContext context(scene, std::make_shared<const SceneGeometry>(scene, search));
  std::vector<PathHistory> stories;
  for (std::uint64_t path = 0; path < count; ++path) stories.push_back(replay(context, path));
  return stories;
}

}  // namespace dishwright
