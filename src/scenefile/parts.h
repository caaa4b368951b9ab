// SPDX-License-Identifier: MIT
// The parts of a project file, one reader each. They report problems and put what is sound into the scene.
#pragma once

#include <filesystem>
#include <string>

#include "scene/scene.h"
#include "scenefile/document.h"
#include "scenefile/problems.h"

namespace dishwright {

/// [sun], and which of several sources is traced; `as` is the --as option. A missing [sun] is not reported where `sun_misspelt` was.
void read_sources(const Node& root, const std::string& as, bool sun_misspelt, Scene& scene, Problems& problems);
/// [trace].
void read_trace(const Node& root, Scene& scene, Problems& problems);
/// [reflector.NAME] …; files that they name are looked up in `folder`.
void read_reflectors(const Node& root, const std::filesystem::path& folder, Scene& scene, Problems& problems);
/// Tiles that are aimed at the target learn where the first target stands; call after read_targets.
void aim_facets(Scene& scene);
/// [target.NAME] …; call after read_reflectors.
void read_targets(const Node& root, Scene& scene, Problems& problems);

/// The tables [section.NAME] with a usable name, in file order; reports everything else that stands under `section`.
std::vector<const Node*> named_tables(const Node& root, const std::string& section, Problems& problems);
class TableReader;
/// Takes the shape of a reflector or target. False where it is missing or unknown; then the keys are checked against all shapes.
bool read_shape(TableReader& table, const Node& node);

}  // namespace dishwright
