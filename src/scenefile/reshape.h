// SPDX-License-Identifier: MIT
// One project file, its first reflector bent to other shapes of the same width and focal length.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "scenefile/read_scene.h"

namespace dishwright {

/// The scene of a file with its first reflector in another shape.
struct Reshaped {
  std::string shape;  ///< "arc trough"
  std::string
      rule;  ///< how its curve follows from the file's: "radius = 2 × focal length"; "as in the file" for the file's own shape
  Scene scene;  ///< its notes say what was changed
};

/// Reads the file once for each of `shapes`. All that is not the curve stays: width, place, finish, slope error, sun, targets,
/// seed. A target "at focus of" the reflector goes along to the new shape's focus; where that has none it stays where it was. A
/// --set of a key that only some of the shapes have changes those. Throws InputError with all problems at once: also for a shape
/// that is unknown or named twice, and where the new shape lacks a key that the file uses.
std::vector<Reshaped> read_reshaped(const std::filesystem::path& path, const ReadOptions& options,
                                    const std::vector<std::string>& shapes);
/// The same for a text; `file_name` is shown in messages.
std::vector<Reshaped> read_reshaped_text(const std::string& text, const std::string& file_name, const ReadOptions& options,
                                         const std::vector<std::string>& shapes);

/// Shapes that a reflector can be bent to.
std::vector<std::string> reshape_words();
/// "  sphere      radius = 2 × focal length", a line each, for help and docs.
std::string reshape_rules();

}  // namespace dishwright
