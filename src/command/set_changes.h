// SPDX-License-Identifier: MIT
// What --set changed: the file's own values beside the new ones.
#pragma once

#include <string>
#include <vector>

#include "report/compare/before_after.h"
#include "scenefile/read_scene.h"

namespace dishwright {

/// Each "KEY=VALUE" that changes a value, in their order; of equal keys the last. Not of [trace], which is the same on both
/// sides.
std::vector<SetChange> set_changes(const ProjectFile& file, const std::vector<std::string>& set);

}  // namespace dishwright
