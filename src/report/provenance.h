// SPDX-License-Identifier: MIT
// Where a result comes from: program, seed, paths and a short fingerprint of the scene, echoed in every output.
#pragma once

#include <cstdint>
#include <string>

#include "scene/scene.h"
#include "tally/figures.h"

namespace dishwright {

/// 12 hex digits that change when any value of the scene changes. Two project files that say the same in other words or units agree.
std::string scene_digest(const Scene& scene);

/// One line: version, seed, paths and replicates, method, sun or lamp, scene digest.
std::string settings_line(const Scene& scene, const TraceFigures& figures, const std::string& digest);

/// "1 000 000".
std::string grouped_whole(std::uint64_t count);

/// "limb-darkened", "uniform", "aureole": as in a project file.
std::string disc_word(DiscProfile profile);

}  // namespace dishwright
