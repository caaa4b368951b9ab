// SPDX-License-Identifier: MIT
// Does a scene of light make sense? What cannot be is refused; what is merely odd is told before anything else.
#pragma once

#include <string>
#include <vector>

#include "scene/validate.h"

namespace dishwright {

/// What cannot be, for scenes whose things make sense by themselves: two mirrors in one place; a lamp that touches a mirror or a
/// target, or holds one inside; a target narrower than 1/100 000 of its distance from a mirror, or a mirror so much smaller than
/// its distance from another, which rays followed in single precision would miss.
void check_light(const Scene& scene, std::vector<SceneProblem>& problems);

/// What is odd, in plain words; told only where it is certain. A lamp behind all mirrors, or that shines away from them; a sun
/// that sees their backs only; a target behind all mirrors, or whose front faces away from them all; mirrors that nearly lie on
/// each other. Empty for sound and radio.
std::vector<std::string> light_oddities(const Scene& scene);

}  // namespace dishwright
