// SPDX-License-Identifier: MIT
// UTF-8 texts from outside, made fit for a message.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace dishwright {

/// Bytes of the UTF-8 character at `at`; 0 where it is not one (RFC 3629: no overlong forms, no surrogates, up to U+10FFFF).
std::size_t character_size(std::string_view text, std::size_t at);
/// The code point of one whole UTF-8 character; the byte itself of anything else.
char32_t code_point(std::string_view character);
/// The line (1-based) of the first byte that is not UTF-8; 0 where all is.
int first_line_not_utf8(std::string_view text);
/// The text with control characters replaced by "?", fit for a terminal.
std::string printable(std::string_view text);
/// The same, cut to `most` characters with "…".
std::string clipped(std::string_view text, int most);
/// Number of characters (code points) of a UTF-8 text.
int character_count(std::string_view text);

}  // namespace dishwright
