// SPDX-License-Identifier: MIT
// Moments as people write them [iso8601]; seconds by the calendar of the computer's own clock (date -u -d … +%s).
#include "sky/moment.h"

#include <doctest/doctest.h>

#include <string>

#include "approx.h"

using dishwright::BadMoment;
using dishwright::Moment;
using dishwright::parse_moment;

using dishwright::testing::off;

namespace {

double seconds(const char* text) { return std::get<Moment>(parse_moment(text)).seconds; }
std::string fault(const char* text) {
  const auto parsed = parse_moment(text);
  const auto* bad = std::get_if<BadMoment>(&parsed);
  return bad == nullptr ? "" : bad->what;
}

}  // namespace

TEST_CASE("moment: what ISO 8601 allows") {
  CHECK(seconds("1970-01-01T00:00:00Z") == 0);
  CHECK(seconds("2026-06-21T10:30:00-05:00") == 1782055800);
  CHECK(seconds("2026-06-21T10:30-05:00") == 1782055800);
  CHECK(seconds("2026-06-21 10:30-0500") == 1782055800);
  CHECK(seconds("2026-06-21T21:00+05:30") == 1782055800);
  CHECK(seconds("2026-06-21T10:30-05") == 1782055800);
  CHECK(off(seconds("2026-06-21T15:30:00.25Z"), 1782055800.25) < 1e-6);
  CHECK(seconds("1950-03-01T00:00Z") == -626054400);
  CHECK(seconds("2100-02-28T12:00Z") == 4107499200);
}

TEST_CASE("moment: what is no moment, and why") {
  CHECK(fault("2026-06-21T10:30") == "has no offset from UTC");
  CHECK(fault("2026-06-21T10:30:00") == "has no offset from UTC");
  for (const char* text : {"", "10:30", "noon", "2026-06-21", "2026-06-21T10", "2026-06-21T10:30-5", "2026-06-21T10:30 EST",
                           "21.6.2026T10:30Z", "2026-06-21T10:30Z2", "2026-06-21T10:30-05:99"})
    CHECK_MESSAGE(fault(text) == "is not a time", text);
  CHECK(fault("2026-02-30T10:30Z") == "names no moment");
  CHECK(fault("2100-02-29T10:30Z") == "names no moment");
  CHECK(fault("2026-06-21T24:00Z") == "names no moment");
  CHECK(fault("2026-06-21T10:30-13:00") == "has an offset that no clock has");
  CHECK(fault("1949-06-21T10:30Z") == "is out of range");
  CHECK(fault("2101-06-21T10:30Z") == "is out of range");
}

TEST_CASE("moment: its text reads back as the same moment") {
  for (const char* text :
       {"2026-06-21T10:30-05:00", "2026-06-21T10:30:15+05:30", "1969-12-31T23:59:59.500Z", "2024-02-29T00:00Z"}) {
    const Moment moment = std::get<Moment>(parse_moment(text));
    CHECK(moment_text(moment) == text);
    CHECK(seconds(moment_text(moment).c_str()) == moment.seconds);
  }
  const Moment late = std::get<Moment>(parse_moment("2026-06-21T23:59:40-05:00"));
  CHECK(clock_text(late) == "00:00");
  CHECK(date_text(late) == "2026-06-21");
  CHECK(clock_seconds(later(late, 3600), late) == 24 * 3600 + 3580);
  CHECK(midnight_before(late).seconds == seconds("2026-06-21T00:00-05:00"));
  CHECK(dishwright::noon_on({2026, 6, 21}, -300).seconds == seconds("2026-06-21T12:00-05:00"));
}
