// SPDX-License-Identifier: MIT
// How much work a quadrature has done, how much it may do, and whether somebody stops it.
#pragma once

#include <cstdint>

#include "base/progress.h"

namespace dishwright {

/// Work is counted in looks: one Gaussian of one image at one place, about a nanosecond [1]. Counts, not clocks, decide what is
/// too long, so that the same scene is always solved in the same way.
class Effort {
 public:
  /// Thrown where the work would be more than the most that is allowed.
  struct TooMuch {
    double looks;  ///< what it would take, as far as is known
  };

  /// Endless, unwatched.
  Effort() = default;
  /// `most` looks at most; `watch` may be null. The whole work counts as `span` units of watch->done.
  Effort(double most, Watch* watch, std::uint64_t span);

  /// Says what all the rest will take. Throws TooMuch where that is more than what is left.
  void expect(double looks);
  /// Counts work that is about to be done. Throws TooMuch, and Interrupted when watch->stop is set.
  void spend(double looks) {
    spent_ += looks;
    if (spent_ > next_) look_up();
  }
  double left() const { return most_ - spent_; }
  double spent() const { return spent_; }

 private:
  static constexpr double often = 2e5;  // looks between two glances at the watch
  void look_up();
  double most_ = 1e300, spent_ = 0, expected_ = 0, next_ = often;
  Watch* watch_ = nullptr;
  std::uint64_t start_ = 0, span_ = 0;
};

}  // namespace dishwright
