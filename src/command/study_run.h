// SPDX-License-Identifier: MIT
// One run of a command that computes: what is the same in all of them.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "base/files.h"
#include "base/progress.h"
#include "command/common_options.h"
#include "command/output.h"
#include "command/progress.h"

namespace dishwright {

/// What differs from command to command once its project file is read. `Findings` is what the study finds.
template <class Findings>
struct StudySteps {
  std::function<Findings()> solve;                                 ///< the long work; a progress line is shown meanwhile
  std::function<std::string(const Findings&, WholeFiles&)> write;  ///< adds the files, and says which
  std::function<std::string(const Findings&)> json, text;          ///< what is printed
  std::function<std::string(const Findings&)> answer;              ///< the last on the screen, after the list of files
  bool keeps_what_is_done = false;                                 ///< solve() ends early when asked to, with what it has by then
};

/// Makes sure that the results can be kept, solves, puts all files in place (or none) and prints: the text, the list of the
/// files and the answer, or the JSON. Gives the findings, which decide the exit code. Throws what the steps throw, WriteError,
/// and Interrupted where the user has asked to stop.
template <class Findings>
Findings run_study(const StudySteps<Findings>& steps, const OutputOptions& output, const std::filesystem::path& folder,
                   Watch& watch) {
  WholeFiles files(folder);
  end_if_stopped(watch);
  if (output.writes()) files.prepare();
  Findings found = [&] {
    const Progress progress(watch);
    return steps.solve();
  }();
  std::string written;
  if (output.writes()) {
    written = steps.write(found, files);
    if (!steps.keeps_what_is_done) end_if_stopped(watch);
    files.commit();
  }
  watch.keeps = false;  // it is kept
  print(output.json ? steps.json(found) : steps.text(found) + written + steps.answer(found));
  return found;
}

}  // namespace dishwright
