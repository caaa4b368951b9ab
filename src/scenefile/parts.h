// SPDX-License-Identifier: MIT
// The parts of a project file, one reader each. They report problems and put what is sound into the scene.
#pragma once

#include <string>

#include "scene/scene.h"
#include "scenefile/document.h"
#include "scenefile/problems.h"

namespace dishwright {

/// [sun], and which of several sources is traced; `as` is the --as option.
void read_sources(const Node& root, const std::string& as, Scene& scene, Problems& problems);
/// [trace].
void read_trace(const Node& root, Scene& scene, Problems& problems);
/// [reflector.NAME] …
void read_reflectors(const Node& root, Scene& scene, Problems& problems);
/// [target.NAME] …; call after read_reflectors.
void read_targets(const Node& root, Scene& scene, Problems& problems);

/// The tables [section.NAME] with a usable name, in file order; reports everything else that stands under `section`.
std::vector<const Node*> named_tables(const Node& root, const std::string& section, Problems& problems);
/// Takes the shape of a reflector or target. False where it is missing or unknown; then the keys are checked against all shapes.
class TableReader;
bool read_shape(TableReader& table, const Node& node);

}  // namespace dishwright
