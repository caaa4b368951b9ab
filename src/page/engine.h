// SPDX-License-Identifier: MIT
// The engine behind the browser page: a project file's text in, figures and maps out. No screen, no command line, one thread. The
// same class is compiled for the machine, so that tests hold the two against each other.
#pragma once

#include <chrono>
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "page/answers.h"
#include "page/engine_answer.h"

namespace dishwright {

/// A file that the project file names: a profile, a mesh, readings.
struct NamedFile {
  std::string name;  ///< as the project file writes it, without folders that lead upward
  std::string bytes;
};

class Engine {
 public:
  /// `folder`: where the files that a project names are put, so that they are read as everywhere else; in the browser it lies in
  /// memory. `stopped` is asked now and then while the engine computes; where it says so the work ends.
  explicit Engine(std::filesystem::path folder, std::function<bool()> stopped = {});

  /// Reads a project file of up to 4 MB. JSON: {"scene": NUMBER, "title", "sources": ["light", …], "as": the first of several,
  /// "controls": {SOURCE: {"us": […], "si": […]}} (controls.h), "clock" (clock_json.h), "shapes": […], "targets": […],
  /// "reflectors": […], "oddities": […], "notes": […]} or {"problems": [{"file", "line", "column", "width", "source_line", "what",
  /// "why", "fix", "text"}]},
  /// "text" as the command line prints it. The last 16 scenes are kept.
  std::string read(const std::string& text, const std::string& file_name, const std::vector<NamedFile>& files);

  /// Solves what is asked of a scene, see Question. Never throws: problems, an interruption, and memory that is too small come
  /// back as {"problems": …}, {"stopped": true} and {"out_of_memory": true}.
  EngineAnswer solve(int scene, const std::string& question);

  /// Ends the work at its next block; of use to `stopped` and to other threads.
  void cancel() { watch_.stop = true; }

 private:
  using Clock = std::chrono::steady_clock;
  std::filesystem::path put_files(int number, const std::vector<NamedFile>& files) const;

  std::filesystem::path folder_;
  std::map<int, Project> projects_;
  int last_ = 0;
  Watch watch_;
  std::optional<Clock::time_point> ends_;
};

}  // namespace dishwright
