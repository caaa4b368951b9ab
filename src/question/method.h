// SPDX-License-Identifier: MIT
// How light is solved is no matter of sound or radio.
#pragma once

#include <string>

#include "scene/scene.h"

namespace dishwright {

/// Throws InputError where a scene of sound or radio is given a --method (empty: none was).
void refuse_method(const Scene& scene, const std::string& method);
/// The same where it is known that the scene is one.
void refuse_method_of_waves(const std::string& method);

}  // namespace dishwright
