// SPDX-License-Identifier: MIT
#include "command/page_figures.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <sstream>
#include <stdexcept>

namespace dishwright::testing {

namespace {

bool is_digit(std::string_view text, std::size_t at) {
  return at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0;
}

bool is_letter(std::string_view text, std::size_t at) {
  return at < text.size() && std::isalpha(static_cast<unsigned char>(text[at])) != 0;
}

std::size_t behind_digits(std::string_view text, std::size_t at) {
  while (is_digit(text, at)) ++at;
  return at;
}

double whole(std::string_view text, std::size_t from, std::size_t end) {
  return std::stod(std::string(text.substr(from, end - from)));
}

/// "3/8" at `at`: its value, and 1 over the lower number; moves `at` behind it.
std::optional<std::pair<double, double>> fraction_at(std::string_view text, std::size_t& at) {
  const std::size_t slash = behind_digits(text, at);
  if (slash == at || slash >= text.size() || text[slash] != '/' || !is_digit(text, slash + 1)) return {};
  const std::size_t end = behind_digits(text, slash + 1);
  const double below = whole(text, slash + 1, end);
  const double above = whole(text, at, slash);
  at = end;
  return std::pair(above / below, 1 / below);
}

constexpr std::string_view anything = "…";

/// A piece of a pattern: words, a hole for a number, one for a number that is passed over, or one for anything.
struct Piece {
  enum class Kind { words, number, passed, anything } kind = Kind::words;
  std::string words;
  double factor = 1;
};

std::vector<Piece> pieces_of(const std::string& pattern) {
  std::vector<Piece> pieces;
  const auto add_words = [&](const std::string& words) {
    if (pieces.empty() || pieces.back().kind != Piece::Kind::words) pieces.push_back({});
    pieces.back().words += words;
  };
  for (std::size_t i = 0; i < pattern.size();) {
    const std::size_t close = pattern.find('}', i);
    const std::string hole = pattern[i] == '{' && close != std::string::npos ? pattern.substr(i + 1, close - i - 1) : " ";
    if (hole.empty() || hole == "-" || is_digit(hole, 0) || is_digit(hole, 1)) {
      const bool passed = hole == "-";
      pieces.push_back({passed ? Piece::Kind::passed : Piece::Kind::number, "", hole.empty() || passed ? 1 : std::stod(hole)});
      i = close + 1;
    } else if (pattern.compare(i, anything.size(), anything) == 0) {
      pieces.push_back({Piece::Kind::anything, "", 1});
      i += anything.size();
    } else {
      add_words(pattern.substr(i++, 1));
    }
  }
  if (pieces.empty() || pieces.front().kind != Piece::Kind::words)
    throw std::runtime_error("begin with words to look for: " + pattern);
  return pieces;
}

/// The numbers, if the pieces stand at `at`.
std::optional<std::vector<ReadNumber>> match(const std::vector<Piece>& pieces, std::string_view text, std::size_t at) {
  std::vector<ReadNumber> numbers;
  bool skip = false;
  for (const Piece& piece : pieces) {
    if (piece.kind == Piece::Kind::anything) {
      skip = true;
    } else if (piece.kind != Piece::Kind::words) {
      std::optional<ReadNumber> number = number_at(text, at);
      if (!number) return {};
      at = number->end;
      number->value *= piece.factor;
      if (piece.kind == Piece::Kind::number) numbers.push_back(*number);
    } else {
      const std::size_t found = skip ? text.find(piece.words, at) : at;
      if (found == std::string::npos || text.compare(found, piece.words.size(), piece.words) != 0) return {};
      at = found + piece.words.size();
      skip = false;
    }
  }
  return numbers;
}

constexpr std::array<std::string_view, 33> units = {
    "%",       "°",       "dBi", "dBm",     "dB",  "kW/m²",  "W/m²",        "mW",         "W",     "mrad",   "in",
    "ft",      "mm",      "m",   "km",      "mph", "GHz",    "MHz",         "kHz",        "Hz",    "min",    "mins",
    "minutes", "seconds", "s",   "degrees", "deg", "degree", "wavelengths", "wavelength", "times", "petals", "points"};

/// How long the unit is that begins at `at`; 0: there is none.
std::size_t unit_at(std::string_view text, std::size_t at) {
  std::size_t longest = 0;
  for (const std::string_view unit : units) {
    if (text.compare(at, unit.size(), unit) != 0) continue;
    const std::size_t end = at + unit.size();
    if (is_letter(text, end - 1) && (is_letter(text, end) || is_digit(text, end))) continue;
    longest = std::max(longest, unit.size());
  }
  return longest;
}

/// Behind "12" and what may stand between it and its unit: a blank, a hyphen, "± 3 ".
std::size_t behind_blank(std::string_view text, std::size_t at) {
  return at < text.size() && (text[at] == ' ' || text[at] == '-') ? at + 1 : at;
}

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

/// A command of ours, without the note behind it; empty if the code is something else.
std::string command_in(const std::string& code) {
  const std::string line = trimmed(code.substr(0, code.find("  #")));
  return line.starts_with("build/dishwright ") || line.starts_with("dishwright ") ? line : "";
}

/// Takes the code between backticks and the targets of links out of a line of running text.
std::string without_code(const std::string& line, std::vector<std::string>& commands) {
  std::string kept;
  for (std::size_t i = 0; i < line.size();) {
    const std::size_t tick = line[i] == '`' ? line.find('`', i + 1) : std::string::npos;
    const std::size_t close = line.compare(i, 2, "](") == 0 ? line.find(')', i) : std::string::npos;
    if (tick != std::string::npos) {
      if (const std::string command = command_in(line.substr(i + 1, tick - i - 1)); !command.empty()) commands.push_back(command);
      kept += '`';
      i = tick + 1;
    } else if (close != std::string::npos) {
      kept += ']';
      i = close + 1;
    } else {
      kept += line[i++];
    }
  }
  return kept;
}

}  // namespace

std::optional<ReadNumber> number_at(std::string_view text, std::size_t at) {
  ReadNumber number{at, at, 0, 0.5};
  const bool minus = at < text.size() && text[at] == '-';
  std::size_t i = at + (minus || (at < text.size() && text[at] == '+') ? 1 : 0);
  const std::size_t end = behind_digits(text, i);
  if (end == i) return {};
  if (const auto bare = fraction_at(text, i)) {
    number.value = bare->first, number.half_step = bare->second / 2, number.end = i;
  } else {
    number.value = whole(text, i, end), number.end = end;
    std::size_t behind = end + 1;
    if (end < text.size() && text[end] == '.' && is_digit(text, behind)) {
      number.end = behind_digits(text, behind);
      number.value = whole(text, i, number.end);
      number.half_step = 0.5 * std::pow(10.0, -static_cast<double>(number.end - behind));
    } else if (end < text.size() && text[end] == ' ') {
      if (const auto more = fraction_at(text, behind))
        number.value += more->first, number.half_step = more->second / 2, number.end = behind;
    }
    // 3460 is meant to the nearest ten.
    if (number.end == end && number.value >= 1000 && std::fmod(number.value, 10) == 0) number.half_step = 5;
  }
  if (minus) number.value = -number.value;
  return number;
}

std::vector<std::vector<ReadNumber>> places_of(const std::string& words, std::string_view text) {
  const std::vector<Piece> pieces = pieces_of(words);
  std::vector<std::vector<ReadNumber>> places;
  for (std::size_t at = text.find(pieces.front().words); at != std::string::npos; at = text.find(pieces.front().words, at + 1)) {
    if (const auto numbers = match(pieces, text, at)) places.push_back(*numbers);
  }
  return places;
}

std::string on_one_line(const std::string& text) {
  std::istringstream stream(text);
  std::string all;
  for (std::string word; stream >> word;) all += (all.empty() ? "" : " ") + word;
  return all;
}

PageText read_page(const std::string& markdown) {
  PageText page;
  std::istringstream stream(markdown);
  bool fenced = false, blank_before = true, indented = false;
  std::string prose;
  for (std::string line; std::getline(stream, line);) {
    const bool fence = trimmed(line).starts_with("```");
    // Four blanks make a block of code where an empty line stands before; in a list they go on with its text.
    indented = line.starts_with("    ") && (indented || blank_before);
    if (fence) fenced = !fenced;
    if (!fence && (fenced || indented)) {
      if (const std::string command = command_in(line); !command.empty()) page.block_commands.push_back(command);
    } else if (!fence) {
      prose += without_code(line, page.inline_commands) + "\n";
    }
    blank_before = trimmed(line).empty();
  }
  page.prose = on_one_line(prose);
  return page;
}

std::vector<Figure> figures_of(std::string_view prose) {
  std::vector<Figure> figures;
  for (std::size_t at = 0; at < prose.size();) {
    const bool inside = at > 0 && (is_letter(prose, at - 1) || prose[at - 1] == '/' || is_digit(prose, at - 1));
    const std::optional<ReadNumber> number = inside ? std::nullopt : number_at(prose, at);
    if (!number) {
      ++at;
      continue;
    }
    std::size_t unit = behind_blank(prose, number->end);
    // "839.91 ± 0.01 W": the unit is that of both.
    constexpr std::string_view more_or_less = " ± ";
    if (prose.compare(number->end, more_or_less.size(), more_or_less) == 0) {
      if (const auto error = number_at(prose, number->end + more_or_less.size())) unit = behind_blank(prose, error->end);
    }
    if (const std::size_t length = unit_at(prose, unit))
      figures.push_back({*number, std::string(prose.substr(at, unit + length - at))});
    at = number->end;
  }
  return figures;
}

std::vector<PageClaims> read_claims(const std::string& list) {
  std::vector<PageClaims> pages;
  std::istringstream stream(list);
  for (std::string line; std::getline(stream, line);) {
    if (line.empty() || line[0] == '#') continue;
    const std::size_t blank = line.find(' '), arrow = line.find(" <- ");
    const std::string first = line.substr(0, blank), rest = trimmed(line.substr(blank));
    const bool known_page = !pages.empty(), known_source = known_page && !pages.back().sources.empty();
    if (first == "page") {
      pages.push_back({rest, {}, {}});
    } else if (known_page && (first == "run" || first == "unshown" || first == "dear" || first == "skip")) {
      pages.back().sources.push_back({rest, first != "unshown", first == "dear", first != "skip", {}});
    } else if (known_page && first == "given") {
      // "given 48 in; 24 in (sizes of the dish)"
      std::istringstream figures(rest.substr(0, rest.find(" (")));
      for (std::string figure; std::getline(figures, figure, ';');) pages.back().given.push_back(trimmed(figure));
    } else if (known_source && line.starts_with("  ") && arrow != std::string::npos) {
      pages.back().sources.back().claims.push_back({trimmed(line.substr(0, arrow)), trimmed(line.substr(arrow + 4))});
    } else {
      throw std::runtime_error("page_figures.txt: not understood: " + line);
    }
  }
  return pages;
}

}  // namespace dishwright::testing
