// SPDX-License-Identifier: MIT
// Where a file is that was named without its ending or its folder.
#pragma once

#include <string>

namespace dishwright {

/// There is something of that name, be it a link that leads nowhere.
bool is_there(const std::string& name);

/// The project file that `name` may mean: the same with .toml, or an example of that name in ./scenes, beside the build or where
/// the program is installed. Empty where there is none.
std::string meant_project_file(const std::string& name);

}  // namespace dishwright
