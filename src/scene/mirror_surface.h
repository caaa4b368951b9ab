// SPDX-License-Identifier: MIT
// Equations of mirrors: quadrics, and heights over a plane. Own frame.
#pragma once

#include <memory>
#include <optional>

#include "scene/scene.h"
#include "shape/plan_outline.h"
#include "shape/quadric.h"

namespace dishwright {

Quadric<double> quadric_of(const Paraboloid& s);
Quadric<double> quadric_of(const OffsetParaboloid& s);
Quadric<double> quadric_of(const SphereBowl& s);
Quadric<double> quadric_of(const Trough& s);
Quadric<double> quadric_of(const ArcTrough& s);
Quadric<double> quadric_of(const Flat& s);
Quadric<double> quadric_of(const Cone& s);
Quadric<double> quadric_of(const Hyperboloid& s);
Quadric<double> quadric_of(const Ellipsoid& s);
/// Empty for shapes that are no quadric.
std::optional<Quadric<double>> shape_quadric(const ReflectorShape& shape);

/// The surface as heights over its plan; none for tiles, meshes and the hyperboloid.
std::shared_ptr<const HeightSurface> height_surface(const ReflectorShape& shape);
/// Outline of a round or rectangular mirror, seen along its own axis.
PlanOutline plan_of(const ReflectorShape& shape);
/// The same surface with the reflector's flaws, sag included.
std::shared_ptr<const HeightSurface> flawed_surface(const Reflector& reflector);

/// What the flaws of a mirror are to a wave along its axis: rms over the plan of height error × (cosine of incidence)², the mean taken off [m]. 0 for
/// a true mirror, a measured one (its own surface is taken as true) and shapes that take no flaws.
double half_path_rms(const Reflector& reflector);

}  // namespace dishwright
