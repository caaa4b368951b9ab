// SPDX-License-Identifier: MIT
#include "study/caught_share.h"

#include <algorithm>
#include <vector>

#include "study/walk_paths.h"

namespace dishwright {

namespace {

/// Whole-number sums of one replicate.
struct Weights {
  std::int64_t left = 0;
  std::vector<std::int64_t> landed;  ///< by target
};

class ShareEnds : public RayEnds {
 public:
  explicit ShareEnds(std::uint32_t replicates, std::size_t targets) : rows_(replicates) {
    for (Weights& row : rows_) row.landed.assign(targets, 0);
  }
  void begin(std::uint32_t replicate) override { replicate_ = replicate; }
  void started(int /*paths*/) override {}
  void left_mirrors(double weight) override { rows_[replicate_].left += static_cast<std::int64_t>(weight); }
  void scored(int slot, double weight) override {
    // Slots of targets come first.
    Weights& row = rows_[replicate_];
    const std::size_t target = static_cast<std::size_t>(slot);
    if (target < row.landed.size()) row.landed[target] += static_cast<std::int64_t>(weight);
  }
  void landed(int /*surface*/, const WeightedPoints& /*points*/) override {}
  void crossed(int /*target*/, const WeightedPoints& /*points*/) override {}
  const std::vector<Weights>& rows() const { return rows_; }

 private:
  std::uint32_t replicate_ = 0;
  std::vector<Weights> rows_;
};

void add(Weights& to, const Weights& from) {
  to.left += from.left;
  to.landed.resize(std::max(to.landed.size(), from.landed.size()), 0);
  for (std::size_t k = 0; k < from.landed.size(); ++k) to.landed[k] += from.landed[k];
}

/// By replicate.
std::vector<Weights> walked(const TraceContext& context, std::uint64_t paths, int threads, Watch& watch) {
  const PathPlan plan = PathPlan::of(context.scene.trace.seed, paths);
  std::vector<Weights> rows(plan.replicates);
  on_threads(threads, [&] {
    walk_replicates<ShareEnds>(
        context, plan, 0, plan.replicates, watch, [&] { return ShareEnds(plan.replicates, context.scene.targets.size()); },
        [&](const ShareEnds& ends) {
          for (std::size_t r = 0; r < rows.size(); ++r) add(rows[r], ends.rows()[r]);
        });
  });
  return rows;
}

/// Intercept of one target, by leaving out each replicate in turn.
Estimate share_of(const std::vector<Weights>& rows, const Weights& all, std::size_t target) {
  return jackknifed("1", static_cast<int>(rows.size()), [&](int r) {
    const std::int64_t left = all.left - (r < 0 ? 0 : rows[static_cast<std::size_t>(r)].left);
    const std::int64_t landed = all.landed[target] - (r < 0 ? 0 : rows[static_cast<std::size_t>(r)].landed[target]);
    return left > 0 ? static_cast<double>(landed) / static_cast<double>(left) : 0.0;
  });
}

Weights sum_of(const std::vector<Weights>& rows) {
  Weights all;
  for (const Weights& row : rows) add(all, row);
  return all;
}

}  // namespace

ShareAsked::ShareAsked(const Scene& scene, GeometryCache* geometries) : context_(context_of(scene, geometries)) {}

Estimate ShareAsked::caught(std::uint64_t paths, int threads, Watch& watch) const {
  const std::vector<Weights> rows = walked(context_, paths, threads, watch);
  return share_of(rows, sum_of(rows), 0);
}

std::vector<Estimate> caught_shares(const Scene& scene, std::uint64_t paths, int threads, Watch& watch) {
  const std::vector<Weights> rows = walked(context_of(scene, nullptr), paths, threads, watch);
  const Weights all = sum_of(rows);
  std::vector<Estimate> out;
  for (std::size_t k = 0; k < scene.targets.size(); ++k) out.push_back(share_of(rows, all, k));
  return out;
}

Estimate caught_share(const Scene& scene, std::uint64_t paths, int threads, Watch& watch, GeometryCache* geometries) {
  return ShareAsked(scene, geometries).caught(paths, threads, watch);
}

std::vector<double> landed_light(const Scene& scene, std::uint64_t paths, int threads, Watch& watch, GeometryCache* geometries) {
  const Weights all = sum_of(walked(context_of(scene, geometries), paths, threads, watch));
  return {all.landed.begin(), all.landed.end()};
}

}  // namespace dishwright
