// SPDX-License-Identifier: MIT
// docs/scene-file.md, written from the key table, the shapes and the table of finishes.
#pragma once

#include <string>

namespace dishwright {

/// The whole page in Markdown. A test compares it with docs/scene-file.md and rewrites that on request.
std::string scene_file_reference();

}  // namespace dishwright
