// SPDX-License-Identifier: MIT
// One thread's account of a trace: whole-number sums by replicate, merged at the end in any order.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

#include "base/bits.h"
#include "tally/exact_sum.h"
#include "tally/face_counts.h"
#include "tally/pilot.h"
#include "tally/uniformity.h"
#include "trace/ray_ends.h"

namespace dishwright {

/// Spot-size bins: squared distance, 128 to an octave, by the leading bits of a float.
struct RadialBins {
  std::uint32_t first = 0, count = 0;  ///< float bits >> 16 of the first bin
  static RadialBins around(double r50, double r90);
  std::uint32_t bin(float squared) const {
    const std::uint32_t bits = bits_as<std::uint32_t>(squared) >> kept_bits;
    return std::clamp(bits, first, first + count - 1) - first;
  }
  static constexpr unsigned kept_bits = 16;  ///< sign, exponent and 7 bits of the fraction
  /// Lower edge of a bin, a squared distance [m²].
  double edge(std::uint32_t bin) const;
};

/// What is counted and how finely; shared by all threads.
struct TallyPlan {
  const Scene* scene = nullptr;
  const SurfaceList* list = nullptr;
  std::uint32_t replicates = 0;
  std::vector<TargetScale> scales;     ///< by target
  std::vector<RadialBins> radial;      ///< by target; count 0 for tube and ball
  std::vector<bool> plate;             ///< by target: has moments
  std::vector<UniformityCircle> even;  ///< by target
  std::vector<FaceCounts> charts;
  std::vector<std::vector<int>> chart_of_surface;  ///< by surface: its chart, or none
};

TallyPlan make_tally_plan(const Scene& scene, const SurfaceList& list, std::uint32_t replicates, std::vector<TargetScale> scales);

class TallyCounts : public RayEnds {
 public:
  explicit TallyCounts(const TallyPlan& plan);
  void begin(std::uint32_t replicate) override { replicate_ = replicate; }
  void started(int paths) override { row().started += paths; }
  void reached_mirrors(double weight) override { row().reached += static_cast<std::int64_t>(weight); }
  void left_mirrors(double weight) override { row().left += static_cast<std::int64_t>(weight); }
  void scored(int slot, double weight) override {
    row().slots[static_cast<std::size_t>(slot)] += static_cast<std::int64_t>(weight);
  }
  void landed(int surface, const WeightedPoints& points) override;
  void crossed(int target, const WeightedPoints& points) override;
  /// Adds another thread's account to this one.
  void merge(const TallyCounts& other);

  /// Sums of one replicate.
  struct Row {
    std::int64_t started = 0;           ///< paths
    std::int64_t reached = 0;           ///< weight of a lamp's light that met a bright side first
    std::int64_t left = 0;              ///< weight that left mirrors at first reflections
    std::vector<std::int64_t> slots;    ///< weight by ledger line
    std::vector<UniformityParts> even;  ///< weight by part of the half-light circle, by target
    std::vector<std::array<ExactSum, 3>>
        moments;  ///< Σ share·x, Σ share·y, Σ share·r² in TargetScale::scale about TargetScale::centre, by target
    std::vector<std::vector<std::int64_t>> radial;  ///< by target and bin
  };
  const std::vector<Row>& rows() const { return rows_; }
  const std::vector<std::int64_t>& map(std::size_t chart) const { return maps_[chart]; }
  /// Weight in the window about the brightest place, by replicate, row and column (PeakWindow); empty where no light came.
  const std::vector<std::int64_t>& window(std::size_t target) const { return windows_[target]; }

 private:
  Row& row() { return rows_[replicate_]; }
  void add_crossed(int target, const WeightedPoints& points);
  void add_moments(std::size_t target, const WeightedPoints& points);
  void add_even_parts(std::size_t target, const WeightedPoints& points);
  void add_window(std::size_t target, const WeightedPoints& points);
  const TallyPlan& plan_;
  std::uint32_t replicate_ = 0;
  std::vector<Row> rows_;
  std::vector<std::vector<std::int64_t>> maps_;     // by chart
  std::vector<std::vector<std::int64_t>> windows_;  // by target
};

}  // namespace dishwright
