// SPDX-License-Identifier: MIT
// The parts of a project file, one reader each. They report problems and put what is sound into the scene.
#pragma once

#include <map>
#include <string>

#include "scene/scene.h"
#include "scenefile/document.h"
#include "scenefile/problems.h"

namespace dishwright {

/// [sun], and which of several sources is traced; `as` is the --as option. A missing [sun] is not reported where `sun_misspelt` was.
void read_sources(const Node& root, const std::string& as, bool sun_misspelt, Scene& scene, Problems& problems);
/// [trace].
void read_trace(const Node& root, Scene& scene, Problems& problems);
/// [reflector.NAME] …
void read_reflectors(const Node& root, Scene& scene, Problems& problems);
/// Where "focus of NAME" is for a reflector that has no focus of its own, by name: at the place, with the axes.
using FocusStandIns = std::map<std::string, Pose>;
/// [target.NAME] …; call after read_reflectors.
void read_targets(const Node& root, const FocusStandIns& stand_ins, Scene& scene, Problems& problems);
/// The whole tree, checks of sense included.
Scene read_document(const Node& root, const std::string& as, const FocusStandIns& stand_ins, Problems& problems);

/// The tables [section.NAME] with a usable name, in file order; reports everything else that stands under `section`.
std::vector<const Node*> named_tables(const Node& root, const std::string& section, Problems& problems);
class TableReader;
/// Takes the shape of a reflector or target. False where it is missing or unknown; then the keys are checked against all shapes.
bool read_shape(TableReader& table, const Node& node);

}  // namespace dishwright
