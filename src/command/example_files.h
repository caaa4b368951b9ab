// SPDX-License-Identifier: MIT
// Where a file is that was named without its ending or its folder.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace dishwright {

/// There is something of that name, be it a link that leads nowhere.
bool is_there(const std::string& name);

/// The project file that `name` may mean: the same with .toml, or an example of that name in ./scenes, beside the build or where
/// the program is installed. Empty where there is none.
std::string meant_project_file(const std::string& name);

/// Where a file that comes with the program may lie, the nearest first: beside it (in a build), or where the program is
/// installed.
std::vector<std::filesystem::path> program_files(const std::string& name);

/// The project files of the examples, by name; none where there is no such folder.
std::vector<std::filesystem::path> example_scenes();

}  // namespace dishwright
