// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "trace/story.h"

namespace dishwright {

/// One path as a JSON object: {"path", "seed", "power": Q, "steps": [{"kind", "surface", "face", "point" [m], "own_point" [m], "normal",
/// "tilted_normal", "direction", "power_share"}]}. Ends with a newline.
std::string replay_json(const PathStory& story);

}  // namespace dishwright
