// SPDX-License-Identifier: MIT
// --target NAME.
#pragma once

#include <cstddef>
#include <string>

#include "scene/scene.h"

namespace dishwright {

/// The number of the target of that name; the first where the name is empty. Throws InputError where there is none.
std::size_t target_number(const Scene& scene, const std::string& name);

}  // namespace dishwright
