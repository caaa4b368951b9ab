// SPDX-License-Identifier: MIT
#include "base/nearest.h"

#include <algorithm>

namespace dishwright {

namespace {

constexpr std::size_t longest_word = 64;  // bytes; longer words are not compared

std::string lower(std::string_view word) {
  std::string text(word);
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  const std::size_t columns = b.size() + 1;
  std::vector<int> before_last(columns), last(columns), now(columns);
  for (std::size_t j = 0; j < columns; ++j) last[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = static_cast<int>(i);
    for (std::size_t j = 1; j < columns; ++j) {
      const int change = a[i - 1] == b[j - 1] ? 0 : 1;
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) now[j] = std::min(now[j], before_last[j - 2] + 1);
    }
    before_last = last;
    last = now;
  }
  return last[columns - 1];
}

std::string nearest_word(std::string_view word, const std::vector<std::string>& known) {
  if (word.empty() || word.size() > longest_word) return "";
  const std::string wanted = lower(word);
  const int allowed = std::max(1, static_cast<int>(word.size()) / 3);
  std::string best;
  int best_distance = allowed + 1;
  for (const std::string& candidate : known) {
    const int distance = edit_distance(wanted, lower(candidate));
    // A word of one or two letters is near only to its own capitals: any other change makes a different word.
    const bool too_short = word.size() <= 1 || candidate.size() <= 1;
    if (distance > 0 && too_short) continue;
    if (distance < best_distance) {
      best = candidate;
      best_distance = distance;
    }
  }
  return best;
}

}  // namespace dishwright
