// SPDX-License-Identifier: MIT
// Where paths start that come from a lamp: on its surface, with the directions that surfaces of even radiance give.
#pragma once

#include "scene/scene.h"
#include "trace/rays.h"

namespace dishwright {

/// Starts of paths 0 … n−1 of a block, as rays in the frame; every path carries the same share of the lamp's power.
///
/// Light of a surface element dA into dω: L cos θ dA dω with the same radiance L everywhere (Lambert's law), outward only.
/// - ball: all directions alike; for each, the start is even over the ball's outline seen from there (radius w/2), on the side
/// that the
///   light leaves. That is the cosine law at every element: dA cos θ is the element's share of the outline. Intensity power/(4π).
/// - disk: starts even over its area, sin²θ even from 0 to 1, θ from its front normal (own −z). Intensity power/π · cos θ.
/// - line: starts even along it; the thin limit of a cylinder without its ends. Intensity power/π² · sin θ, θ from the line (own
/// y). Left out: glass, shades, sockets; the lamp does not stand in the way of its own light after a mirror.
/// Azimuths are good to 3e-7 rad. Checked in tests/trace/lamp_test.cpp.
///
/// draws: disc_radius and disc_turn for the direction, position_a and position_b for the place on the lamp.
void start_from_lamp(const Lamp& lamp, int n, const DrawBlock& draws, RayBlock& rays);

/// Cosine of the angle to the line of a thin filament's ray, from a number u of (0, 1): density ∝ √(1 − c²), distribution
/// 1/2 + (c √(1 − c²) + asin c)/π. Error below 1e-12.
double line_cosine(double u);

}  // namespace dishwright
