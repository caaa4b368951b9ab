// SPDX-License-Identifier: MIT
// The inner loops of the wave sum, in float on the processor's vector lanes.
#pragma once

#include <vector>

#include "wave/setup.h"

namespace dishwright {

/// Samples in float about a reference: phases at the reference are in the amplitudes, so that only differences of ways are
/// computed in float, by the form that loses no digits: R − R0 = (2 d·V + d²)/(R + R0), V from the sample to the reference, d
/// from there to the place.
class LaneTerms {
 public:
  explicit LaneTerms(std::size_t count);
  void set(std::size_t j, Complex amplitude, const Vector3& to_reference, const Vector3& normal, double reference_way);
  /// Sum at the place `offset` from the reference [m]: a · n·(V + d)/R² · e^(2πi·per_metre·(R − R0)).
  Complex sum_at(const Vector3& offset, double per_metre) const;
  /// The same for `n` places, a block of samples after another, so that those of a large mirror are fetched once for all of them.
  /// The same bits.
  void sums_at(const Vector3* offsets, std::size_t n, double per_metre, Complex* sums) const;
  /// Sum in a direction that differs by `change` from the reference: a · (n·direction, or its sign) · e^(2πi·per_metre·change·V),
  /// V from the sample to the origin.
  Complex sum_toward(const Vector3& direction, const Vector3& change, double per_metre, bool sign_only) const;

 private:
  template <bool sign_only>
  Complex sum_toward(const Vector3& direction, const Vector3& change, double per_metre) const;
  Complex block_at(std::size_t from, std::size_t to, const Vector3& offset, double per_metre) const;
  static constexpr std::size_t block = 512;    // samples added up in float before the sum goes on in double
  static constexpr std::size_t together = 16;  // samples that fill whole lanes
  std::size_t count_;                          // a multiple of `together`; the rest is silent
  std::vector<float> re_, im_, vx_, vy_, vz_, nx_, ny_, nz_, way_;
};

}  // namespace dishwright
