// SPDX-License-Identifier: MIT
// Decimal numbers as std::from_chars reads them, which the browser compiler's library cannot do for them yet.
#pragma once

#include <charconv>

namespace dishwright {

/// std::from_chars for a double, in its general format: whatever the locale, no leading blank or plus sign, no base 16.
std::from_chars_result decimal_from(const char* first, const char* last, double& value);
/// The same by std::strtod alone, for a library without the other. Tests hold the two against each other.
std::from_chars_result decimal_by_strtod(const char* first, const char* last, double& value);

}  // namespace dishwright
