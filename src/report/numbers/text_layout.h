// SPDX-License-Identifier: MIT
// Laying out plain text for a terminal: widths in characters (code points), padding, wrapping.
#pragma once

#include <string>
#include <string_view>

namespace dishwright {

/// Widest line that the program prints [characters].
inline constexpr int text_width = 80;

/// Columns that a UTF-8 text takes on a terminal: none for a combining mark, two for a wide (East Asian) character, else one.
int characters(std::string_view text);
/// Spaces before (right) or behind (left) until the text is `width` characters wide; longer texts stay as they are.
std::string flush_right(const std::string& text, int width);
std::string flush_left(const std::string& text, int width);
/// Breaks at spaces so that no line is wider than text_width; `first` goes before the first line, `rest` before the others.
/// A number stays with its ± and unit; words longer than a line stay whole. Ends with a newline.
std::string wrapped(std::string_view text, const std::string& first = "", const std::string& rest = "");
/// With a capital in front.
std::string capital(std::string text);
/// Two sentences with a blank between them where both are there.
std::string joined_sentences(const std::string& first, const std::string& second);
/// "  label  text", the text from column `width` on and wrapped there; a label that would run into it has a line of its own.
std::string labelled(const std::string& label, std::string_view text, int width);

}  // namespace dishwright
