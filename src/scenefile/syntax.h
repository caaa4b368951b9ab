// SPDX-License-Identifier: MIT
// Broken TOML, in our own plain words. The library stops at the first error, so there is one.
#pragma once

#include <optional>
#include <string_view>

#include "scenefile/source.h"

namespace dishwright {

/// The problem at `at`, told from the text of the line and from what the library says (`told` only steers the choice of words).
Problem explain_syntax(const Source& source, const Place& at, std::string_view told);

/// What the library must not see: brackets or dotted keys nested deeper than any project file needs, characters above ASCII
/// outside of quotes and comments, texts in three quote marks. Empty where there is none of them.
std::optional<Problem> prescan(const Source& source);
/// `told` of a character above ASCII that stands outside of quotes.
constexpr std::string_view outside_of_quotes = "outside of quotes";

}  // namespace dishwright
