// SPDX-License-Identifier: MIT
#include "sky/moment.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <optional>

namespace dishwright {

namespace {

constexpr double day_seconds = 86400;
const char* const example = "write it like \"2026-06-21T10:30-05:00\"";

/// Takes the text from its beginning, piece by piece.
class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}
  bool done() const { return text_.empty(); }
  bool take(std::string_view any_of) {
    if (text_.empty() || any_of.find(text_.front()) == std::string_view::npos) return false;
    text_.remove_prefix(1);
    return true;
  }
  bool next_is(char c) const { return !text_.empty() && text_.front() == c; }
  /// A whole number of just so many digits.
  std::optional<int> digits(std::size_t count) {
    if (text_.size() < count) return std::nullopt;
    int value = 0;
    for (std::size_t k = 0; k < count; ++k) {
      if (text_[k] < '0' || text_[k] > '9') return std::nullopt;
      value = 10 * value + (text_[k] - '0');
    }
    text_.remove_prefix(count);
    return value;
  }
  /// What stands behind a decimal point.
  double fraction() {
    double value = 0, place = 0.1;
    for (; !text_.empty() && text_.front() >= '0' && text_.front() <= '9'; place /= 10, text_.remove_prefix(1))
      value += place * (text_.front() - '0');
    return value;
  }

 private:
  std::string_view text_;
};

double seconds_of(std::chrono::year_month_day day) {
  return day_seconds * static_cast<double>(std::chrono::sys_days(day).time_since_epoch().count());
}

std::chrono::year_month_day calendar_day(const Moment& moment) {
  const double days = std::floor((moment.seconds + 60.0 * moment.offset) / day_seconds);
  return {std::chrono::sys_days(std::chrono::days(static_cast<int>(days)))};
}

std::variant<Moment, BadMoment> no_time() {
  return BadMoment{"is not a time", "a time is a date, the letter T, a clock time and the clock's offset from UTC (ISO 8601)",
                   example};
}

/// The offset of the clock [min]; empty where it is none.
std::optional<int> read_offset(Reader& reader) {
  if (reader.take("Zz")) return 0;
  const bool west = reader.next_is('-');
  if (!reader.take("+-")) return std::nullopt;
  const auto hours = reader.digits(2);
  if (!hours) return std::nullopt;
  int minutes = 0;
  if (reader.take(":") || !reader.done()) {
    const auto two = reader.digits(2);
    if (!two || *two > 59) return std::nullopt;
    minutes = *two;
  }
  return (west ? -1 : 1) * (60 * *hours + minutes);
}

}  // namespace

std::variant<Moment, BadMoment> parse_moment(std::string_view text) {
  const std::size_t from = text.find_first_not_of(' ');
  if (from == std::string_view::npos) return no_time();
  text = text.substr(from, text.find_last_not_of(' ') - from + 1);
  Reader reader(text);
  const auto year = reader.digits(4);
  if (!year || !reader.take("-")) return no_time();
  const auto month = reader.digits(2);
  if (!month || !reader.take("-")) return no_time();
  const auto day = reader.digits(2);
  if (!day || !reader.take("Tt ")) return no_time();
  const auto hour = reader.digits(2);
  if (!hour || !reader.take(":")) return no_time();
  const auto minute = reader.digits(2);
  if (!minute) return no_time();
  double second = 0;
  if (reader.take(":")) {
    const auto whole = reader.digits(2);
    if (!whole) return no_time();
    second = *whole;
    if (reader.take(".,")) second += reader.fraction();
  }
  if (reader.done())
    return BadMoment{"has no offset from UTC", "one clock time is a different moment in every time zone",
                     fmt::format("write \"{}-05:00\", with your clock's offset from UTC (Z for UTC itself)", text)};
  const std::optional<int> offset = read_offset(reader);
  if (!offset || !reader.done()) return no_time();
  const std::chrono::year_month_day date{std::chrono::year(*year), std::chrono::month(static_cast<unsigned>(*month)),
                                         std::chrono::day(static_cast<unsigned>(*day))};
  if (!date.ok() || *hour > 23 || *minute > 59 || second >= 60)
    return BadMoment{"names no moment", "there is no such day in the calendar, or no such time on a clock", example};
  if (*offset < -12 * 60 || *offset > 14 * 60)
    return BadMoment{"has an offset that no clock has", "clocks are from 12 h behind UTC to 14 h ahead of it", example};
  if (*year < first_year || *year > last_year)
    return BadMoment{"is out of range", fmt::format("the sun's place is worked out from {} to {}", first_year, last_year),
                     example};
  return Moment{seconds_of(date) + 3600.0 * *hour + 60.0 * *minute + second - 60.0 * *offset, *offset};
}

Day day_of(const Moment& moment) {
  const std::chrono::year_month_day day = calendar_day(moment);
  return {static_cast<int>(day.year()), static_cast<int>(static_cast<unsigned>(day.month())),
          static_cast<int>(static_cast<unsigned>(day.day()))};
}

Moment noon_on(const Day& day, int offset) {
  const std::chrono::year_month_day date{std::chrono::year(day.year), std::chrono::month(static_cast<unsigned>(day.month)),
                                         std::chrono::day(static_cast<unsigned>(day.day))};
  return {seconds_of(date) + day_seconds / 2 - 60.0 * offset, offset};
}

Moment later(const Moment& moment, double seconds) { return {moment.seconds + seconds, moment.offset}; }

Moment midnight_before(const Moment& moment) { return {seconds_of(calendar_day(moment)) - 60.0 * moment.offset, moment.offset}; }

double clock_seconds(const Moment& moment, const Moment& first) { return moment.seconds - midnight_before(first).seconds; }

std::string date_text(const Moment& moment) {
  const Day day = day_of(moment);
  return fmt::format("{:04}-{:02}-{:02}", day.year, day.month, day.day);
}

std::string clock_text(const Moment& moment) {
  const Moment rounded = {60 * std::floor(moment.seconds / 60 + 0.5), moment.offset};
  const int minutes = static_cast<int>(std::lround(clock_seconds(rounded, rounded) / 60));
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

std::string offset_text(const Moment& moment) {
  if (moment.offset == 0) return "UTC";
  const int minutes = std::abs(moment.offset);
  return fmt::format("UTC{}{:02}:{:02}", moment.offset < 0 ? '-' : '+', minutes / 60, minutes % 60);
}

std::string moment_text(const Moment& moment) {
  const Moment rounded = {std::floor(1000 * moment.seconds + 0.5) / 1000, moment.offset};
  const double clock = clock_seconds(rounded, rounded);
  const int minutes = static_cast<int>(std::floor(clock / 60));
  const int milliseconds = static_cast<int>(std::lround(1000 * (clock - 60.0 * minutes)));
  std::string out = fmt::format("{}T{:02}:{:02}", date_text(rounded), minutes / 60, minutes % 60);
  if (milliseconds % 1000 != 0) {
    out += fmt::format(":{:02}.{:03}", milliseconds / 1000, milliseconds % 1000);
  } else if (milliseconds != 0) {
    out += fmt::format(":{:02}", milliseconds / 1000);
  }
  return out + (moment.offset == 0 ? "Z" : offset_text(moment).substr(3));
}

}  // namespace dishwright
