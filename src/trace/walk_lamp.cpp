// SPDX-License-Identifier: MIT
// The first flight of a lamp's light: to a mirror, straight to a target, or out of the scene.
#include <algorithm>
#include <limits>

#include "trace/lamp.h"
#include "trace/walk.h"

namespace dishwright {

namespace {

/// TallyCounts the light that ends before it meets a mirror on lines of its own; it enters no map and no spot width.
class StraightLight : public RayEnds {
 public:
  StraightLight(const SurfaceList& list, RayEnds& ends) : list_(list), ends_(ends) {}
  void begin(std::uint32_t /*replicate*/) override {}
  void started(int /*paths*/) override {}
  void left_mirrors(double /*weight*/) override {}
  void scored(int slot, double weight) override {
    const bool on_target = static_cast<std::size_t>(slot) < list_.direct_slot.size();
    const int own = on_target ? list_.direct_slot[static_cast<std::size_t>(slot)] : slot;
    ends_.scored(slot == list_.missed_slot ? list_.unmet_slot : own, weight);
  }
  void landed(int /*surface*/, const WeightedPoints& /*points*/) override {}
  void crossed(int /*target*/, const WeightedPoints& /*points*/) override {}

 private:
  const SurfaceList& list_;
  RayEnds& ends_;
};

constexpr std::uint32_t nobody = std::numeric_limits<std::uint32_t>::max();  // lane of a ray that is set aside

}  // namespace

// Each ray goes to the first thing it meets; but a target that does not shade lets through what is on its way to a mirror.
void Walk::leave_lamp(int n, RayEnds& ends) {
  start_from_lamp(*context_.scene.lamp, n, draws_, rays_);
  if (steps_ != nullptr) note_lamp();
  StraightLight straight(context_.list, ends);
  arrivals_->clear();
  std::swap(arrivals_, next_);  // settle() lets rays arrive in *next_
  if (context_.see_through) {
    context_.world.nearest(RayMask::way_in, rays_, std::numeric_limits<float>::infinity());
    BlockArray<std::uint8_t> to_mirror{};
    for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
      to_mirror[i] = rays_.surface[i] >= 0 && rays_.surface[i] < context_.list.reflector_count ? 1 : 0;
    }
    keep_only(to_mirror, 1);
    settle_direct(straight);
    keep_only(to_mirror, 0);
  }
  context_.world.nearest(RayMask::everything, rays_, std::numeric_limits<float>::infinity());
  settle_direct(straight);
  std::swap(arrivals_, next_);
  double reached = 0;
  for (std::size_t i = 0; i < static_cast<std::size_t>(arrivals_->n); ++i) reached += arrivals_->weight[i];
  ends.reached_mirrors(reached);
}

// The others stay where they are, without weight and unseen.
void Walk::keep_only(const BlockArray<std::uint8_t>& marks, std::uint8_t mark) {
  for (std::size_t i = 0; i < static_cast<std::size_t>(rays_.n); ++i) {
    const bool keep = marks[i] == mark;
    rays_.weight[i] = keep ? full_weight : 0;
    rays_.lane[i] = keep ? static_cast<std::uint32_t>(i) : nobody;
  }
}

// Crossings of planes by straight light do not count: only the first one after a mirror does.
void Walk::settle_direct(RayEnds& straight) {
  cross_planes(straight);
  std::fill_n(rays_.crossed.begin(), rays_.n, std::uint64_t{0});
  settle(straight);
}

void Walk::note_lamp() {
  Step step;
  step.kind = StepKind::from_lamp;
  const Pose& pose = context_.scene.lamp->pose;
  step.point = Vector3(rays_.ox[watched_], rays_.oy[watched_], rays_.oz[watched_]);
  step.own_point = pose.turn.transpose() * (step.point - pose.at);
  step.direction = Vector3(rays_.dx[watched_], rays_.dy[watched_], rays_.dz[watched_]);
  steps_->push_back(step);
}

}  // namespace dishwright
