// SPDX-License-Identifier: MIT
// What README.md and docs/ claim, held against what their commands print. page_figures.txt says which words of a page come from
// which command.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dishwright::testing {

/// A number as it stands in a text: "-25.5", "9/64", "7 23/64".
struct ReadNumber {
  std::size_t at = 0, end = 0;  ///< first character, and the one behind the last
  double value = 0;
  double half_step = 0;  ///< how far a number may lie from it that is rounded to it: half of its last digit or fraction
};

/// The number that begins at `at`, if one does.
std::optional<ReadNumber> number_at(std::string_view text, std::size_t at);

/// Words with holes: {} stands for a number, {100} for one that the page gives 100 times as large, {-} for one that is passed
/// over, … for anything up to the words that follow. Gives the numbers of each place where they stand in the text.
/// Throws std::runtime_error where the pattern begins with a hole.
std::vector<std::vector<ReadNumber>> places_of(const std::string& words, std::string_view text);

/// A page: its running text without code and targets of links, on one line; the commands in it.
struct PageText {
  std::string prose;
  std::vector<std::string> block_commands;   ///< lines of code blocks that begin with the program, in their order
  std::vector<std::string> inline_commands;  ///< the same between backticks in a line
};
PageText read_page(const std::string& markdown);

/// A figure is a number with a unit: those that stand in a text.
struct Figure {
  ReadNumber number;
  std::string words;  ///< with its unit
};
std::vector<Figure> figures_of(std::string_view prose);

/// Runs of blanks and line ends as one blank each.
std::string on_one_line(const std::string& text);

/// "PAGE WORDS <- OUTPUT WORDS"
struct Claim {
  std::string page, output;
};
struct Source {
  std::string command;
  bool shown = true;  ///< stands on the page; else it is only known to the list
  bool dear = false;  ///< run with --full only
  bool run = true;    ///< else it is left out, for a reason beside it in the list
  std::vector<Claim> claims;
};
struct PageClaims {
  std::string name;
  std::vector<Source> sources;
  std::vector<std::string> given;  ///< figures that no command prints: sizes of an example, definitions, sums by hand
};

/// Reads page_figures.txt. Throws std::runtime_error with the line that is not understood.
std::vector<PageClaims> read_claims(const std::string& list);

/// Runs the commands of a page in a copy of scenes/ and checks it: every command works, claims hold, no figure is left over.
void check_page(const std::string& name);

}  // namespace dishwright::testing
