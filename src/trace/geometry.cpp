// SPDX-License-Identifier: MIT
#include "trace/geometry.h"

#include "scene/scene_text.h"

namespace dishwright {

std::shared_ptr<const SceneGeometry> GeometryCache::of(const Scene& scene) {
  std::string surfaces = surfaces_text(scene);
  if (last_ == nullptr || surfaces != surfaces_) {
    last_.reset();  // two at once may not fit the memory
    last_ = std::make_shared<const SceneGeometry>(scene);
    surfaces_ = std::move(surfaces);
  }
  return last_;
}

}  // namespace dishwright
