// SPDX-License-Identifier: MIT
// What stands for the tree in a build without the ray tracing library (cmake -DDISHWRIGHT_TREE=OFF, and the engine for browsers).
#include <utility>

#include "trace/surface_search.h"

namespace dishwright {

bool has_tree_search() { return false; }

std::unique_ptr<SurfaceSearch> make_tree_search(const SurfaceList& list, const Vector3& origin,
                                                std::unique_ptr<SurfaceSearch> before) {
  return make_cell_search(list, origin, std::move(before));
}

}  // namespace dishwright
