// SPDX-License-Identifier: MIT
// Errors that the program reports in words. Library code throws; only main.cpp turns them into exit codes.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace dishwright {

/// One thing that is wrong with what the user gave. Grammar of a message: place; the problem with its value; why; what to write
/// instead.
struct Problem {
  std::string file;         ///< as the user named it; empty where there is no file (command line)
  int line = 0;             ///< 1-based; 0 = the whole file
  int column = 0;           ///< 1-based, in characters (code points, not bytes)
  int width = 1;            ///< how many characters the caret underlines
  std::string source_line;  ///< the text of that line, without its end
  std::string what;         ///< the problem with its value: `hole_width = "50 in" is wider than the dish (48 in)`
  std::string why;          ///< the reason or the allowed interval; may be empty
  std::string fix;          ///< what to write instead; may be empty
  std::string named_by{};   ///< where another file names this one, and by which key; empty where the user named it
  std::string key{};        ///< key of the project file that it is about, for whoever knows its place; may be empty
};

/// The text shown to the user for one problem: place, problem, the source line and a caret, why, fix, who named the file. Ends
/// with a newline. Whatever stands in the problem, each part is one line without control characters.
std::string describe(const Problem& problem);

/// Bad input: exit code 2. Carries all problems of a file at once.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Problem> problems);
  /// A problem without a place in a file (the command line).
  InputError(std::string what, std::string why, std::string fix, std::string key = "");
  const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

/// A result could not be written (full disk, no permission): exit code 3. No half file is left.
class WriteError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The user pressed Ctrl-C, or nobody reads what is printed: exit code 130. No half file is left.
class Interrupted : public std::runtime_error {
 public:
  Interrupted() : std::runtime_error("interrupted; nothing was written") {}
  using std::runtime_error::runtime_error;
};

}  // namespace dishwright
