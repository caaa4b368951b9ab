// SPDX-License-Identifier: MIT
// The nearest known word to a mistyped one, for "did you mean" remedies.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace dishwright {

/// Fewest insertions, deletions, changes and swaps of neighbours that turn `a` into `b` (restricted Damerau distance, bytes).
int edit_distance(std::string_view a, std::string_view b);

/// The known word nearest to `word`: equal but for capitals first, then within a third of its length. Empty where none is near.
std::string nearest_word(std::string_view word, const std::vector<std::string>& known);

}  // namespace dishwright
