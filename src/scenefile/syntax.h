// SPDX-License-Identifier: MIT
// Broken TOML, in our own plain words. The library stops at the first error, so there is one.
#pragma once

#include <string_view>

#include "scenefile/source.h"

namespace dishwright {

/// The problem at `at`, told from the text of the line and from what the library says (`told` only steers the choice of words).
Problem explain_syntax(const Source& source, const Place& at, std::string_view told);

/// Throws InputError where brackets or dotted keys nest deeper than any project file needs: the library's recursion is not
/// bounded for dotted keys.
void check_nesting(const Source& source);

}  // namespace dishwright
