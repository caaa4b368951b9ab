// SPDX-License-Identifier: MIT
// A project file becomes a scene.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "scenefile/document.h"
#include "scenefile/file_cache.h"
#include "scenefile/source.h"

namespace dishwright {

/// What the command line adds to a project file.
struct ReadOptions {
  std::vector<std::string> set;  ///< "KEY=VALUE" of each --set, the value as in the file but without quotes
  std::string as;                ///< --as: which source to trace where a file has several: "light", "sound", "radio", or empty
  std::shared_ptr<FileCache> cache =
      std::make_shared<FileCache>();  ///< copies share it: files beside the project file are read once
};

/// A project file that is read and parsed once. Scenes are made of it as often as wanted, whatever becomes of the file meanwhile.
class ProjectFile {
 public:
  /// Throws InputError for what cannot be read or is no TOML.
  explicit ProjectFile(const std::filesystem::path& path);
  /// The same for a text; `file_name` is shown in messages.
  ProjectFile(const std::string& text, const std::string& file_name);

  const Source& source() const { return source_; }
  /// The tree with the --set options in it. Throws InputError for those that name no value.
  Node document(const ReadOptions& options) const;
  /// The scene in SI; it has passed validate_scene. Throws InputError with all content problems at once.
  Scene scene(const ReadOptions& options) const;
  /// The same without validate_scene, for options that scene() has taken before.
  Scene scene_again(const ReadOptions& options) const;
  /// The words of --as that its sources answer to, each once: "light", "sound", "radio".
  std::vector<std::string> source_words(const ReadOptions& options) const;

 private:
  Scene make(const ReadOptions& options, bool checked) const;
  Source source_;
  std::filesystem::path folder_;  // files that it names are looked up here
  Node root_;
};

/// Reads a project file. The scene is in SI and has passed validate_scene. Throws InputError with all content problems at once
/// (only the first where TOML's own syntax is broken).
Scene read_scene(const std::filesystem::path& path, const ReadOptions& options);
/// The same for a text; `file_name` is shown in messages.
Scene read_scene_text(const std::string& text, const std::string& file_name, const ReadOptions& options);

}  // namespace dishwright
