// SPDX-License-Identifier: MIT
// A project file becomes a scene.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "scenefile/file_shelf.h"

namespace dishwright {

/// What the command line adds to a project file.
struct ReadOptions {
  std::vector<std::string> set;  ///< "KEY=VALUE" of each --set, the value as in the file but without quotes
  std::string as;                ///< --as: which source to trace where a file has several: "light", "sound", "radio", or empty
  std::shared_ptr<FileShelf> shelf =
      std::make_shared<FileShelf>();  ///< copies share it: files beside the project file are read once
};

/// Reads a project file. The scene is in SI and has passed check_sense. Throws InputError with all content problems at once
/// (only the first where TOML's own syntax is broken).
Scene read_scene(const std::filesystem::path& path, const ReadOptions& options);
/// The same for a text; `file_name` is shown in messages.
Scene read_scene_text(const std::string& text, const std::string& file_name, const ReadOptions& options);

/// The words of --as that the sources in a project file answer to, each once: "light", "sound", "radio". Throws InputError for what is no TOML.
std::vector<std::string> source_words(const std::filesystem::path& path, const ReadOptions& options);

}  // namespace dishwright
