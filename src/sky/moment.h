// SPDX-License-Identifier: MIT
// A moment as people write it: date, clock and the clock's offset from UTC [iso8601], "2026-06-21T10:30:00-05:00".
#pragma once

#include <string>
#include <string_view>
#include <variant>

namespace dishwright {

/// A moment and the clock it is told by.
struct Moment {
  double seconds = 0;  ///< UTC since 1970-01-01T00:00Z, leap seconds not counted [s]
  int offset = 0;      ///< of the clock ahead of UTC [min], -12 h to +14 h
};

/// Why a text is not a moment. The words complete "KEY = "TEXT" …".
struct BadMoment {
  std::string what, why, fix;
};

inline constexpr int first_year = 1950, last_year = 2100;  ///< by the clock; what the place of the sun was checked for

/// Reads YYYY-MM-DDThh:mm[:ss[.s…]] and Z or ±hh[[:]mm]; a blank may stand for the T.
std::variant<Moment, BadMoment> parse_moment(std::string_view text);

/// "2026-06-21T10:30-05:00": with seconds where there are any, to the millisecond. Reads back as the same moment.
std::string moment_text(const Moment& moment);
/// "2026-06-21", by the moment's own clock.
std::string date_text(const Moment& moment);
/// "10:30", by the moment's own clock, to the nearest minute.
std::string clock_text(const Moment& moment);
/// "UTC-05:00", or "UTC".
std::string offset_text(const Moment& moment);

/// The same clock, later by so many seconds.
Moment later(const Moment& moment, double seconds);
/// The midnight with which the moment's day begins, by its own clock.
Moment midnight_before(const Moment& moment);
/// Clock time of a moment [s], counted from the midnight with which the day of `first` begins; its own day where they are one.
double clock_seconds(const Moment& moment, const Moment& first);

/// Year, month and day by the moment's own clock.
struct Day {
  int year = 0, month = 1, day = 1;
};
Day day_of(const Moment& moment);
/// Noon by the clock on that day. The day must be one of the calendar.
Moment noon_on(const Day& day, int offset);

}  // namespace dishwright
