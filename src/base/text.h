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
/// The text on one line, fit for a terminal: control characters (line ends, escape sequences, those of U+0080 to U+009F),
/// characters that turn the direction of the text about them, and bytes that are not UTF-8 become "?". Tabs stay.
std::string printable(std::string_view text);
/// The same for a text of many lines, whose line ends stay.
std::string printable_lines(std::string_view text);
/// A text of JSON with what printable() replaces written as \u and four hex digits instead: the same values, fit for a terminal.
/// JSON text is UTF-8, and its line ends stand between its values only.
std::string printable_json(std::string_view json);
/// A word as one types it into a shell so that it arrives as it is: in quotes where it needs them, and never like an option. For
/// names of files: ./ goes before a dash.
std::string shell_word(std::string_view file);
/// The same, cut to `most` characters with "…".
std::string clipped(std::string_view text, int most);
/// Number of characters (code points) of a UTF-8 text.
int character_count(std::string_view text);

}  // namespace dishwright
