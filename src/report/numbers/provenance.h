// SPDX-License-Identifier: MIT
// Where a result comes from: program, seed, paths and a short fingerprint of the scene, echoed in every output.
#pragma once

#include <cstdint>
#include <string>

#include "report/numbers/detail.h"

#include "result/figures.h"
#include "result/scene_digest.h"
#include "scene/scene.h"

namespace dishwright {

/// One line: version, seed, paths, sun or lamp, scene digest; with Detail::method also replicates, method, places on the mirror.
std::string settings_line(const Scene& scene, const TraceFigures& figures, const std::string& digest,
                          Detail detail = Detail::method);

/// "1 000 000".
std::string grouped_whole(std::uint64_t count);

}  // namespace dishwright
