// SPDX-License-Identifier: MIT
// Fuzz programs: inputs of a corpus, spoilt at random, must be answered or refused in words, in time, and never with a NaN.
//
//   dishwright_fuzz_NAME                      20 000 inputs
//   dishwright_fuzz_NAME --seconds 10         as many as fit (six times as long with DISHWRIGHT_FULL)
//   dishwright_fuzz_NAME --inputs 500 --seed 3
//   dishwright_fuzz_NAME --replay FILE        one input as it is; a fault keeps its input in fuzz_NAME_fault.* in the working
//   folder
// Ends with the line "N inputs, M faults" and code 1 where M is not 0.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

namespace dishwright::fuzz {

/// What is handed to the code under test.
struct Input {
  std::string ending;  ///< of the corpus file's name: ".csv"
  std::string bytes;
};

/// What was found wrong with an answer.
struct Fault : std::runtime_error {
  using std::runtime_error::runtime_error;
};

// ---- What each fuzz program defines ----

/// Its name, for files and messages.
extern const char* const name;
/// The files to begin with; folders are relative to the top of the tree.
std::vector<std::filesystem::path> corpus();
/// Pieces to put in.
std::vector<std::string> words();
/// Answers one input in the working folder, a scratch folder of its own. Throws Fault, or anything that must not get out.
void answer(const Input& input);

// ---- What the driver offers them ----

struct Ran {
  int code = 0;     ///< as main.cpp would exit
  std::string out;  ///< standard output
};

/// Runs the program with these words after its name. Throws Fault for an exception that main.cpp would call a fault of the
/// program, for an exit code that is none of the program's, and for "nan" or "inf" as a word of the output.
Ran run(const std::vector<std::string>& words);

/// All files below a folder of the tree whose names end so.
std::vector<std::filesystem::path> files_below(const std::string& folder, const std::string& ending);

/// A random whole number below `count`, the same for the same input on every machine.
std::size_t choice(const Input& input, std::size_t count);

}  // namespace dishwright::fuzz
