// SPDX-License-Identifier: MIT
// Runs the built program through /bin/sh in a folder of its own, as a user would.
#pragma once

#include <doctest/doctest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>
#include <string>

#include "folders.h"
#include "scratch.h"
#include "test_files.h"

namespace dishwright::testing {

struct Ran {
  int code = -1;  ///< exit code; 128 + N after signal N, as the shell tells it
  std::string out, err;
};

/// A fresh folder with an empty working folder in it; removed at the end.
class Shell {
 public:
  Shell() { std::filesystem::create_directory(here()); }

  /// The folder that commands run in.
  std::filesystem::path here() const { return scratch_.path / "here"; }

  /// Runs shell text; "$DW" is the program, "$SCENES" the folder of examples, "$BUILD" that of the build. Must not close its own
  /// redirections.
  Ran run(const std::string& text) const {
    std::ofstream(scratch_.path / "script") << "DW='" << program_file().string() << "'\nSCENES='" << source_folder().string()
                                            << "/scenes'\nBUILD='" << program_file().parent_path().string() << "'\n"
                                            << "cd '" << here().string() << "' || exit 99\n"
                                            << text << "\n";
    const std::string top = "'" + scratch_.path.string() + "/";
    const int status = std::system(
        ("/bin/sh " + top + "script' </dev/null >" + top + "out' 2>" + top + "err'").c_str());  // NOLINT(cert-env33-c)
    Ran ran;
    ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    ran.out = file_content(scratch_.path / "out");
    ran.err = file_content(scratch_.path / "err");
    if (ran.err.find("Sanitizer") != std::string::npos)
      FAIL_CHECK(ran.err);  // whoever looks at the exit code only would not know why
    return ran;
  }

  /// Everything below the working folder, as relative paths; folders end in a slash.
  std::set<std::string> files() const {
    std::set<std::string> found;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(here())) {
      found.insert(entry.path().lexically_relative(here()).string() +
                   (entry.symlink_status().type() == std::filesystem::file_type::directory ? "/" : ""));
    }
    return found;
  }

  void write(const std::string& name, const std::string& content) const {
    std::ofstream(here() / name, std::ios::binary) << content;
  }

 private:
  Scratch scratch_;
};

inline bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace dishwright::testing
