// SPDX-License-Identifier: MIT
#include "question/followed.h"

#include <algorithm>
#include <variant>

#include "trace/surface_search.h"

namespace dishwright {

bool can_follow(const Scene& scene) {
  return has_tree_search() || std::none_of(scene.reflectors.begin(), scene.reflectors.end(), [](const Reflector& mirror) {
           return std::holds_alternative<Facets>(mirror.shape) || std::holds_alternative<Mesh>(mirror.shape);
         });
}

}  // namespace dishwright
