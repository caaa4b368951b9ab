// SPDX-License-Identifier: MIT
// What the mirror of a project file is to a survey.
#pragma once

#include <optional>

#include "scene/scene.h"
#include "survey/model.h"

namespace dishwright {

/// A paraboloid, sphere or trough is fitted with all its numbers; any other shape is held as it was designed.
struct HeldAgainst {
  ShapeKind kind = ShapeKind::paraboloid;
  Meant meant;  ///< of the kind `meant` only
};

/// Of the scene's first mirror. A skin on ribs (flaws.scallop) is held with its bays; other flaws of the file are what may go
/// wrong, not what is meant. Throws InputError, with what to do instead, where the scene has no mirror, or its shape cannot
/// be held against depths under a straightedge: a flat mirror, one that bulges toward the light, a mesh, one that is measured
/// already. Tiles are no one surface: `tiles_of` gives them, for survey/tile_survey.
HeldAgainst held_against(const Scene& scene);
std::optional<Facets> tiles_of(const Scene& scene);

/// The plane of the rim of an offset dish, into the dish's own frame: origin in the middle of the rim, x across, y up along the
/// rim's long way (away from the axis), z square to the rim.
void set_rim_plane(MeantSurface& surface, const OffsetParaboloid& dish);

}  // namespace dishwright
