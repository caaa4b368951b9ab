// SPDX-License-Identifier: MIT
// What stands for the tree in a build without the ray tracing library (cmake -DDISHWRIGHT_TREE=OFF).
#include "base/error.h"
#include "trace/surface_search.h"

namespace dishwright {

bool has_tree_search() { return false; }

std::unique_ptr<SurfaceSearch> make_tree_search(const SurfaceList& /*list*/, const Vector3& /*origin*/,
                                                std::unique_ptr<SurfaceSearch> /*before*/) {
  throw InputError("this build follows no rays to tiles and meshes", "it was made without the ray tracing library",
                   "take another shape, or a build with that library");
}

}  // namespace dishwright
