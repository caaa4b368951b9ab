// SPDX-License-Identifier: MIT
#include "scenefile/syntax.h"

#include <fmt/format.h>

#include <algorithm>

namespace dishwright {

namespace {

/// What the messages say apart from the place.
struct Words {
  std::string what, why, fix;
  int column = 0;  // 0: where the library stopped
  int width = 1;
};

/// A line cut into key and value.
struct Line {
  std::string text;   // at most 500 characters, tabs as they are
  std::string key;    // trimmed text before the first "=" outside quotes; the whole line where there is none
  std::string value;  // trimmed text after it, without comment
  bool has_equals = false;
  int key_column = 1, value_column = 1;
};

bool has(std::string_view text, std::string_view part) { return text.find(part) != std::string_view::npos; }
bool starts(std::string_view text, std::string_view part) { return text.substr(0, part.size()) == part; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

std::string trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return "";
  return std::string(text.substr(from, text.find_last_not_of(" \t") - from + 1));
}

/// Bytes before a comment: the first # outside of quotes.
std::size_t comment_start(std::string_view text) {
  char quote = '\0';
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (quote != '\0') {
      if (text[i] == quote) quote = '\0';
    } else if (text[i] == '"' || text[i] == '\'') {
      quote = text[i];
    } else if (text[i] == '#') {
      return i;
    }
  }
  return text.size();
}

Line cut(std::string_view whole_line) {
  Line line;
  line.text = std::string(whole_line.substr(0, 500));
  const std::string_view text(line.text);
  const std::size_t equals = text.find('=');
  line.has_equals = equals != std::string_view::npos;
  const std::size_t key_end = line.has_equals ? equals : text.size();
  line.key = trimmed(text.substr(0, key_end));
  const std::size_t key_start = std::min(text.find_first_not_of(" \t"), text.size());
  line.key_column = character_count(text.substr(0, key_start)) + 1;
  if (!line.has_equals) return line;
  const std::string_view rest = text.substr(equals + 1);
  const std::size_t value_start = std::min(rest.find_first_not_of(" \t"), rest.size());
  line.value_column = character_count(text.substr(0, equals + 1 + value_start)) + 1;
  line.value = trimmed(rest.substr(0, comment_start(rest)));
  return line;
}

/// The value in straight quotes, as TOML needs it.
std::string in_quotes(std::string_view value) {
  std::string out = "\"";
  for (const char c : value) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return clipped(out, 60) + "\"";
}

int width_of(const std::string& text) { return std::max(1, character_count(text)); }

const char* const general_why = "a project file has lines KEY = VALUE, tables in [ ], and comments after #";

/// A table or key that is already there. `first` = its line, 0 where it was not found.
int first_line_of(const Source& source, int last, const std::string& wanted, bool header) {
  for (int n = header ? 1 : last - 1; n >= 1 && n < last; n += header ? 1 : -1) {
    const Line line = cut(source.line(n));
    const bool is_header = starts(line.key, "[");
    if (!header && is_header) return 0;
    if (line.key.substr(0, comment_start(line.key)) == wanted && (header || line.has_equals)) return n;
  }
  return 0;
}

Words given_twice(const Source& source, const Place& at, const Line& line) {
  const bool header = starts(line.key, "[");
  const std::string shown = trimmed(line.key.substr(0, comment_start(line.key)));
  const int first = first_line_of(source, at.line, shown, header);
  Words words;
  words.column = line.key_column;
  words.width = width_of(shown);
  words.what = fmt::format("{}{} is given twice", header ? "the table " : "", clipped(shown, 60));
  words.why = first > 0 ? fmt::format("it stands on line {} already", first)
                        : "a name stands for one thing in a file: one value, or one table";
  words.fix = header ? "put all its keys under one header, or give the second one another name" : "keep one of the two";
  return words;
}

Words broken_header(const Line& line) {
  Words words;
  const std::string shown = line.has_equals ? line.text : line.key;
  words.column = line.key_column;
  words.width = width_of(trimmed(shown));
  // Words with anything between them become one dotted name.
  std::string name;
  for (const char c : line.key) {
    const bool in_name = is_letter(c) || is_digit(c) || c == '_' || c == '-';
    if (in_name) name += c;
    if (!in_name && !name.empty() && name.back() != '.') name += '.';
    if (c == ']') break;
  }
  if (!name.empty() && name.back() == '.') name.pop_back();
  const bool good = !name.empty();
  words.what = "this table header cannot be read";
  words.why = "a header is a name in [ ], alone on its line; a name is made of letters, digits, - and _";
  words.fix = fmt::format("write [{}]", good ? clipped(name, 60) : "reflector.dish");
  return words;
}

Words broken_key(const Line& line) {
  Words words;
  words.column = line.key_column;
  words.width = width_of(line.key);
  if (!line.has_equals) {
    const std::size_t colon = line.key.find(':');
    words.what = "this line has no =";
    words.why = general_why;
    words.fix = "write KEY = VALUE, or put # before a comment";
    const std::size_t gap = line.key.find(' ');
    const std::string after_gap = gap == std::string::npos ? "" : trimmed(line.key.substr(gap));
    if (starts(after_gap, "\"") && is_letter(line.key.front())) {
      words.fix = fmt::format("write {} = {}", clipped(line.key.substr(0, gap), 40), clipped(after_gap, 60));
    }
    if (colon != std::string::npos && colon > 0 && is_letter(line.key.front())) {
      words.fix = fmt::format("write {} = {}", clipped(trimmed(line.key.substr(0, colon)), 40),
                              clipped(trimmed(line.key.substr(colon + 1)), 60));
    }
    return words;
  }
  if (line.key.empty()) {
    words.what = "there is no key before the =";
    words.why = general_why;
    words.fix = "write the key first, such as width = \"48 in\"";
    return words;
  }
  words.what = fmt::format("\"{}\" is not a key that can be read", clipped(line.key, 40));
  words.why = "a key is one word of letters, digits, - and _, with = after it";
  words.fix = "write it like focal_length = \"24 in\"";
  std::string joined = line.key;
  std::replace(joined.begin(), joined.end(), ' ', '_');
  const bool word =
      std::all_of(joined.begin(), joined.end(), [](char c) { return is_letter(c) || is_digit(c) || c == '_' || c == '-'; });
  if (word && !line.value.empty()) words.fix = fmt::format("write {} = {}", clipped(joined, 40), clipped(line.value, 60));
  return words;
}

Words broken_list(const Line& line, std::string_view told) {
  Words words;
  words.what = has(told, "end-of-file") ? "a list in [ ] is not closed before the file ends" : "this list cannot be read";
  words.why = "a list has commas between its values and ] at its end";
  words.fix = "write it like at = [\"0 in\", \"0 in\", \"24 in\"]";
  if (line.key.find('[') == 0 || (line.has_equals && !has(line.value, "["))) {
    words.what = "a list above this line is not closed";
    words.column = line.key_column;
    words.width = width_of(trimmed(line.text));
  }
  if (has(told, "end-of-file")) {
    words.column = line.key_column;
    words.width = width_of(trimmed(line.text));
  }
  return words;
}

/// A value that begins with a quote.
Words broken_text(const Line& line, std::string_view told) {
  Words words;
  words.column = line.value_column;
  words.width = width_of(line.value);
  const std::string inside = line.value.size() > 1 ? line.value.substr(1) : "";
  if (has(told, "escape sequence")) {
    words.what = fmt::format("{} = {} has a backslash that means nothing", line.key, clipped(line.value, 60));
    words.why = "inside \" \" a backslash starts a code such as \\\"";
    words.fix = "write \\\" for an inch mark, and \\\\ for a backslash";
  } else if (has(told, "comment or whitespace")) {
    words.what = fmt::format("{} = {} goes on after the closing quote", line.key, clipped(line.value, 60));
    words.why = "the text ends at the second quote mark";
    words.fix = "put a comment after #, or take the rest of the line out";
    const std::size_t second = inside.find('"');
    if (second != std::string::npos && second > 0 && is_digit(inside[second - 1])) {
      words.why = "the inch mark \" ends the text too early";
      words.fix = fmt::format("write in for inches, as in {} = \"2 ft 6 in\", or write \\\" for the mark", line.key);
    }
  } else if (has(told, "control") && line.value.size() > 1 && line.value.back() == line.value.front()) {
    words.what = fmt::format("{} = {} holds a control character", line.key, clipped(line.value, 60));
    words.why = "only printed characters and tabs may stand in a text";
    words.fix = "delete the value and type it again";
  } else if (has(told, "control") || has(told, "end-of-file")) {
    words.what = fmt::format("{} = {} is not closed", line.key, clipped(line.value, 60));
    words.why = "a text needs the same quote mark at its end, on the same line";
    std::string text = inside;
    while (!text.empty() && (text.back() == '"' || text.back() == '\'')) text.pop_back();
    words.fix = fmt::format("write {} = {}", line.key, in_quotes(text));
  } else {
    words.what = fmt::format("{} = {} cannot be read", line.key, clipped(line.value, 60));
    words.why = general_why;
    words.fix = "write the text in straight quotes: \"24 in\"";
  }
  return words;
}

bool consists_of(std::string_view text, std::string_view signs) {
  return text.find_first_not_of(signs) == std::string_view::npos && std::any_of(text.begin(), text.end(), is_digit);
}

/// "1,000,000": at most three digits before the first comma, three after each.
bool has_thousands_commas(std::string_view text) {
  std::size_t comma = text.find(',');
  if (comma == 0 || comma > 3) return false;
  while (comma != std::string_view::npos) {
    text.remove_prefix(comma + 1);
    comma = text.find(',');
    if (std::min(comma, text.size()) != 3) return false;
  }
  return true;
}

/// Digits, points and signs that TOML does not take as a number.
Words broken_number(const Line& line) {
  Words words;
  words.column = line.value_column;
  words.width = width_of(line.value);
  const std::string shown = clipped(line.value, 60);
  const std::string_view value(line.value);
  words.what = fmt::format("{} = {} is not a number that can be read", line.key, shown);
  words.why = "a number has digits on both sides of its point and single _ between digits";
  words.fix = fmt::format("write it like {0} = 1_000_000 or {0} = 0.5", line.key);
  if (consists_of(value, "0123456789,") && has(value, ",")) {
    std::string better = shown;
    std::replace(better.begin(), better.end(), ',', has_thousands_commas(value) ? '_' : '.');
    words.what = fmt::format("{} = {} has a comma in its number", line.key, shown);
    words.why = "thousands take _ or nothing between them, decimals take a point";
    if (has_thousands_commas(value) || value.find(',') == value.rfind(','))
      words.fix = fmt::format("write {} = {}", line.key, better);
  } else if (consists_of(value, "0123456789") && value.front() == '0') {
    const std::size_t first = std::min(value.find_first_not_of('0'), value.size() - 1);
    words.what = fmt::format("{} = {} starts with a zero", line.key, shown);
    words.why = "a number has no zero in front";
    words.fix = fmt::format("write {} = {}", line.key, clipped(value.substr(first), 60));
  } else if (consists_of(value, "0123456789_+-") && value.size() >= 19 && !has(value, "__")) {
    words.what = fmt::format("{} = {} is too large", line.key, shown);
    words.why = "whole numbers go up to 9_223_372_036_854_775_807";
    words.fix = "write a smaller number";
  }
  return words;
}

/// A value without quotes: a number, a word, or a quantity whose quotes were forgotten.
Words broken_value(const Line& line) {
  Words words;
  words.column = line.value_column;
  words.width = width_of(line.value);
  const std::string shown = clipped(line.value, 60);
  const char first = line.value.front();
  if (consists_of(line.value, "0123456789_,.eE+-")) return broken_number(line);
  const bool number_like = is_digit(first) || first == '-' || first == '+' || first == '.';
  const auto in_quantity = [](char c) {
    return is_letter(c) || c == '"' || c == '\'' || c == '%' || c == '/' || c == ' ' || (c & '\x80') != 0;
  };
  if (number_like && std::any_of(line.value.begin(), line.value.end(), in_quantity)) {
    words.what = fmt::format("{} = {} has no quotes", line.key, shown);
    words.why = "a number with a unit is written in quotes";
    words.fix = fmt::format("write {} = {}", line.key, in_quotes(line.value));
    return words;
  }
  if (number_like) {
    words.what = fmt::format("{} = {} is not a number that can be read", line.key, shown);
    words.why = "a number has digits, a point for decimals and _ between thousands";
    words.fix = fmt::format("write it like {0} = 1_000_000 or {0} = 0.5", line.key);
    return words;
  }
  std::string lower = line.value.substr(0, 10);
  std::transform(lower.begin(), lower.end(), lower.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (lower == "true" || lower == "yes" || lower == "on" || lower == "false" || lower == "no" || lower == "off") {
    words.what = fmt::format("{} = {} is not true or false", line.key, shown);
    words.why = "yes and no are written as true and false, in small letters";
    words.fix = fmt::format("write {} = {}", line.key, lower == "true" || lower == "yes" || lower == "on" ? "true" : "false");
    return words;
  }
  words.what = fmt::format("{} = {} has no quotes", line.key, shown);
  words.why = "a word or name is written in quotes";
  words.fix = fmt::format("write {} = {}", line.key, in_quotes(line.value));
  return words;
}

Words curly_quotes(const Line& line) {
  Words words;
  words.column = line.value_column;
  words.width = width_of(line.value);
  std::string inside = line.value;
  for (const char* mark : {"“", "”", "„", "‘", "’", "«", "»"}) {
    for (std::size_t i = inside.find(mark); i != std::string::npos; i = inside.find(mark))
      inside.erase(i, std::string_view(mark).size());
  }
  words.what = fmt::format("{} = {} has curly quotes", line.key, clipped(line.value, 60));
  words.why = "word processors bend quote marks; a project file needs straight ones";
  words.fix = fmt::format("write {} = {}", line.key, in_quotes(inside));
  return words;
}

bool starts_with_curly_quote(std::string_view value) {
  for (const char* mark : {"“", "”", "„", "‘", "’", "«"}) {
    if (starts(value, mark)) return true;
  }
  return false;
}

/// A character above ASCII that stands outside of quotes and comments.
Words stray_character(const Source& source, const Place& at, const Line& line) {
  const std::string sign = source.slice(at.line, at.column, at.column + 1);
  const bool hard_space = sign == "\u00a0" || sign == "\u202f" || sign == "\u2009";
  if (!hard_space && line.has_equals && at.column < line.value_column) return broken_key(line);
  const bool bare_value = line.has_equals && !line.value.empty() && !has("\"'[{", line.value.substr(0, 1));
  if (!hard_space && bare_value) return starts_with_curly_quote(line.value) ? curly_quotes(line) : broken_value(line);
  Words words;
  words.what = hard_space ? "a hard space (from a web page or word processor) stands here"
                          : fmt::format("{} stands outside of quotes", sign);
  words.why = "outside of quotes and comments there are only plain letters, digits and signs";
  words.fix = hard_space ? "delete it and type a plain space" : "put the value in straight quotes, or put # before a comment";
  return words;
}

Words choose_words(const Source& source, const Place& at, const Line& line, std::string_view told) {
  if (told == outside_of_quotes) return stray_character(source, at, line);
  const bool in_list = has(told, "parsing array"), in_braces = has(told, "inline table");
  if (has(told, "cannot redefine") || has(told, "cannot insert")) return given_twice(source, at, line);
  if (in_list) return broken_list(line, told);
  if (in_braces)
    return {"this table in { } cannot be read", "it has commas between its keys and } at its end",
            "write the keys on lines of their own under a [table] header", 0, 1};
  if (starts(line.key, "[")) return broken_header(line);
  if (starts(line.key, "#"))
    return {"this comment holds a control character", "only printed characters and tabs may stand in a comment",
            "delete the line and type it again", 0, 1};
  const bool key_itself = !line.has_equals || has(told, "expected '='") || has(told, "parsing key:") || has(told, "root table");
  if (key_itself) return broken_key(line);
  if (line.value.empty()) {
    Words words{fmt::format("{} has no value", clipped(line.key, 60)), general_why,
                fmt::format("write a value after the =, or take the line out"), line.key_column, 1};
    words.width = width_of(line.key);
    return words;
  }
  const char first = line.value.front();
  if (first == '"' || first == '\'') return broken_text(line, told);
  if (first == '[' || first == '{')
    return {"there is something after the closing bracket", "a value ends its line",
            "put a comment after #, or take the rest of the line out", 0, 1};
  return broken_value(line);
}

}  // namespace

Problem explain_syntax(const Source& source, const Place& at, std::string_view told) {
  const Line line = cut(source.line(at.line));
  Words words = choose_words(source, at, line, told);
  Place place = at;
  if (words.column > 0) place.column = words.column;
  place.width = words.width;
  return source.problem(place, printable(words.what), printable(words.why), printable(words.fix));
}

}  // namespace dishwright
