// SPDX-License-Identifier: MIT
#include "scenefile/problems.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "base/error.h"

namespace dishwright {

namespace {

constexpr std::size_t most_reported = 100;

}  // namespace

std::string shown_set(const std::string& option) { return "--set " + clipped(option, 140); }

void Problems::add(const Place& place, const std::string& what, const std::string& why, const std::string& fix) {
  found_.push_back({place, at(place, printable(what), printable(why), printable(fix))});
}

Problem Problems::at(const Place& place, std::string what, std::string why, std::string fix) const {
  if (place.set < 0) return source_.problem(place, std::move(what), std::move(why), std::move(fix));
  const std::string shown = shown_set(set_[static_cast<std::size_t>(place.set)]);
  const int room = std::max(1, character_count(shown) - place.column + 1);
  return {"", 0, place.column, std::clamp(place.width, 1, room), shown, std::move(what), std::move(why), std::move(fix)};
}

void Problems::add_elsewhere(const Place& place, const std::string& key, Problem problem) {
  problem.named_by = place.set < 0 ? fmt::format("{}:{}:{}: {}", source_.file(), place.line, place.column, key)
                                   : shown_set(set_[static_cast<std::size_t>(place.set)]);
  found_.push_back({place, std::move(problem)});
}

void Problems::raise_if_any() {
  if (found_.empty()) return;
  const auto order = [](const Found& found) { return std::make_tuple(found.place.set, found.place.line, found.place.column); };
  std::stable_sort(found_.begin(), found_.end(), [&](const Found& a, const Found& b) { return order(a) < order(b); });
  std::vector<Problem> problems;
  for (const Found& found : found_) {
    if (problems.size() == most_reported) {
      problems.push_back(Problem{source_.file(), 0, 0, 1, "",
                                 fmt::format("{} more problems are not shown", found_.size() - most_reported), "",
                                 "mend these first"});
      break;
    }
    problems.push_back(found.problem);
  }
  throw InputError(std::move(problems));
}

}  // namespace dishwright
