// SPDX-License-Identifier: MIT
#include "study/caught_share.h"

#include <vector>

#include "study/walk_paths.h"

namespace dishwright {

namespace {

struct Weights {
  std::int64_t left = 0, landed = 0;
};

/// Whole-number sums by replicate; slot 0 is the first target's.
class ShareEnds : public RayEnds {
 public:
  explicit ShareEnds(std::uint32_t replicates) : rows_(replicates) {}
  void begin(std::uint32_t replicate) override { replicate_ = replicate; }
  void started(int /*paths*/) override {}
  void left_mirrors(double weight) override { rows_[replicate_].left += static_cast<std::int64_t>(weight); }
  void scored(int slot, double weight) override {
    if (slot == 0) rows_[replicate_].landed += static_cast<std::int64_t>(weight);
  }
  void landed(int /*surface*/, const WeightedPoints& /*points*/) override {}
  void crossed(int /*target*/, const WeightedPoints& /*points*/) override {}
  const std::vector<Weights>& rows() const { return rows_; }

 private:
  std::uint32_t replicate_ = 0;
  std::vector<Weights> rows_;
};

}  // namespace

Estimate caught_share(const Scene& scene, std::uint64_t paths, int threads, Watch& watch, GeometryCache* geometries) {
  const TraceContext context = context_of(scene, geometries);
  const PathPlan plan = PathPlan::of(scene.trace.seed, paths);
  std::vector<Weights> rows(plan.replicates);
  on_threads(threads, [&] {
    walk_replicates<ShareEnds>(
        context, plan, 0, plan.replicates, watch, [&] { return ShareEnds(plan.replicates); },
        [&](const ShareEnds& ends) {
          for (std::size_t r = 0; r < rows.size(); ++r) {
            rows[r].left += ends.rows()[r].left;
            rows[r].landed += ends.rows()[r].landed;
          }
        });
  });
  Weights all;
  for (const Weights& row : rows) all.left += row.left, all.landed += row.landed;
  return jackknifed("1", static_cast<int>(rows.size()), [&](int r) {
    const Weights without = r < 0 ? Weights{} : rows[static_cast<std::size_t>(r)];
    const std::int64_t left = all.left - without.left;
    return left > 0 ? static_cast<double>(all.landed - without.landed) / static_cast<double>(left) : 0.0;
  });
}

}  // namespace dishwright
