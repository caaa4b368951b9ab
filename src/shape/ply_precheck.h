// SPDX-License-Identifier: MIT
// Is a PLY file whole? Part of mesh_precheck.
#pragma once

#include <string_view>

namespace dishwright {

/// Goes through head and body of a PLY file (text or binary of either order). Throws InputError as checked_mesh_text does.
void check_ply(std::string_view bytes);

}  // namespace dishwright
