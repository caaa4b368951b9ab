// SPDX-License-Identifier: MIT
// The studies that the page asks for, each as one answer.
#pragma once

#include <filesystem>
#include <memory>
#include <string>

#include "base/progress.h"
#include "page/engine_answer.h"
#include "page/question.h"
#include "scenefile/read_scene.h"
#include "study/light_figures.h"

namespace dishwright {

/// A project that was read.
struct Project {
  std::unique_ptr<ProjectFile> file;
  std::string text, name;        ///< name of the file
  std::filesystem::path folder;  ///< where the files lie that it names
  /// The surfaces of the last question: most of the controls of light leave them as they are.
  std::shared_ptr<GeometryCache> geometries = std::make_shared<GeometryCache>();
};

/// See Engine::read(). Throws InputError for mistakes of the file.
std::string project_json(const Project& project, int number);

/// The scene that a question is about, with its method, paths and shape. Throws InputError.
Scene asked_scene(const Project& project, const Question& question);

/// {STUDY: the object that the command line prints with --json, "maps": [{"name", "columns", "rows", "x_from", "x_to", "y_from",
/// "y_to", "round", "unit"}], and of a trace "view", "solid", "why", "words" where they are asked for}; for drift, burn, uses, form
/// and survey see further_answers.h, burn_answer.h and survey_answer.h. Throws InputError, Interrupted.
EngineAnswer answer(const Project& project, const Question& question, Watch& watch);

}  // namespace dishwright
