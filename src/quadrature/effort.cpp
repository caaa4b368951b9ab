// SPDX-License-Identifier: MIT
#include "quadrature/effort.h"

#include <algorithm>

#include "base/error.h"

namespace dishwright {

Effort::Effort(double most, Watch* watch, std::uint64_t span) : most_(most), watch_(watch), span_(span) {
  if (watch_ != nullptr) start_ = watch_->done.load();
}

void Effort::expect(double looks) {
  expected_ = spent_ + looks;
  if (expected_ > most_) throw TooMuch{expected_};
  look_up();
}

void Effort::look_up() {
  if (watch_ != nullptr && watch_->stopped()) throw Interrupted();
  if (spent_ > most_) throw TooMuch{std::max(spent_, expected_)};
  next_ = spent_ + often;
  if (watch_ == nullptr || !(expected_ > 0)) return;
  const double share = std::min(1.0, spent_ / expected_);
  watch_->done.store(start_ + static_cast<std::uint64_t>(share * static_cast<double>(span_)), std::memory_order_relaxed);
}

}  // namespace dishwright
