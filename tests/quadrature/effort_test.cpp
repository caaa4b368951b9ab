// SPDX-License-Identifier: MIT
// The meter of the work: ends it at the limit or at a stop, and tells how far it is.
#include "quadrature/effort.h"

#include <doctest/doctest.h>

#include "approx.h"
#include "base/error.h"

using namespace dishwright;

TEST_CASE("work beyond the limit is refused ahead, or ended on the way") {
  Effort effort(1e7, nullptr, 0);
  CHECK_THROWS_AS(effort.expect(2e7), Effort::TooMuch);
  effort.expect(5e6);
  for (int k = 0; k < 9; ++k) effort.spend(1e6);
  CHECK(effort.left() == testing::approx(1e6));
  CHECK_THROWS_AS(effort.spend(2e6), Effort::TooMuch);
}

TEST_CASE("a stop is heard within a few hundred microseconds of work, and the share done rises to all") {
  Watch watch;
  watch.done = 100, watch.planned = 1100;
  Effort effort(1e9, &watch, 1000);
  effort.expect(1e7);
  std::uint64_t before = 0;
  for (int k = 0; k < 10; ++k) {
    effort.spend(1e6);
    CHECK(watch.done > before);
    CHECK(watch.done <= watch.planned);
    before = watch.done;
  }
  CHECK(watch.done == 1100);
  watch.stop = true;
  const auto work_on = [&effort] {
    for (int k = 0; k < 50; ++k) effort.spend(1e4);
  };
  CHECK_THROWS_AS(work_on(), Interrupted);
}
