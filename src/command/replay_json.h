// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "trace/path_history.h"

namespace dishwright {

/// One path as a JSON object: {"path", "seed", "power": Q, "steps": [{"kind", "surface", "face", "point" [m], "own_point" [m],
/// "normal", "tilted_normal", "direction", "power_share"}]}. Ends with a newline.
std::string replay_json(const PathHistory& story);

}  // namespace dishwright
