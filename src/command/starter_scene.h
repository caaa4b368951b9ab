// SPDX-License-Identifier: MIT
// `dishwright new`: a first project file, with a word on every key.
#pragma once

#include <string>

namespace dishwright {

/// The text of a commented starter project file with the title `name`. It reads without error.
std::string starter_scene(const std::string& name);

}  // namespace dishwright
