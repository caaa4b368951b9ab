// SPDX-License-Identifier: MIT
// Writes the manual page and the completion of three shells from the program's own command line.
// The build runs it: dishwright_manual FOLDER
#include <cstdio>
#include <exception>

#include "base/files.h"
#include "command/completion.h"
#include "command/manual_page.h"
#include "command/program.h"

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fputs("usage: dishwright_manual FOLDER\n", stderr);
    return 2;
  }
  try {
    const dishwright::ProgramWords program = dishwright::program_words();
    dishwright::WholeFiles files(argv[1]);
    files.add("dishwright.1", dishwright::manual_page(program));
    files.add("dishwright.bash", dishwright::bash_completion(program));
    files.add("dishwright.zsh", dishwright::zsh_completion(program));
    files.add("dishwright.fish", dishwright::fish_completion(program));
    files.commit();
    return 0;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "error: %s\n", error.what());
    return 3;
  }
}
