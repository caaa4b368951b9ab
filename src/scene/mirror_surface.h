// SPDX-License-Identifier: MIT
// Equations of mirrors: quadrics, and heights over a plane. Own frame.
#pragma once

#include <optional>

#include "scene/scene.h"
#include "shape/height_surface.h"
#include "shape/plan_outline.h"
#include "shape/quadric.h"

namespace dishwright {

/// Empty for shapes that are no quadric.
std::optional<Quadric<double>> shape_quadric(const ReflectorShape& shape);
/// A plane, or bright on the side that bulges: the sun may see its back though every place of it is seen.
bool may_show_back(const ReflectorShape& shape);
/// Is the bright side the one that faces −z?
bool bright_below(const ReflectorShape& shape);

/// The surface as heights over its plan, whichever side is bright; none for tiles and meshes.
Heights surface_heights(const ReflectorShape& shape);
/// The same where the bright side faces +z; none for the others.
Heights height_surface(const ReflectorShape& shape);
/// Outline of a mirror, seen along its own axis.
PlanOutline plan_of(const ReflectorShape& shape);
/// Height of its rim at the place farthest along x from its vertex [m]; empty where it is no single curve about its vertex.
std::optional<double> rim_depth(const ReflectorShape& shape);
/// The same surface with the reflector's flaws, sag included; none for shapes that take no flaws.
Heights flawed_surface(const Reflector& reflector);
/// The surface as it was built: with its flaws where it has some, else true. None for tiles and meshes.
Heights built_surface(const Reflector& reflector);

/// What the flaws of a mirror are to a wave along its axis: rms over the plan of height error × (cosine of incidence)², the mean
/// taken off [m]. 0 for a true mirror, a measured one (its own surface is taken as true) and shapes that take no flaws.
double half_path_rms(const Reflector& reflector);

}  // namespace dishwright
