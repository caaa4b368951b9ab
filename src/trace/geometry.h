// SPDX-License-Identifier: MIT
// The surfaces of a scene, ready to be met by rays; kept from one scene to the next where they stay.
#pragma once

#include <memory>
#include <string>

#include "trace/scene_surfaces.h"
#include "trace/world.h"

namespace dishwright {

struct SceneGeometry {
  explicit SceneGeometry(const Scene& scene, SearchBy search = SearchBy::scene)
      : list(make_surfaces(scene)), world(list, search) {}
  SurfaceList list;
  World world;
};

/// Gives a scene its geometry. Where the surfaces are those of the scene before (only the light, or what the skin does to it, has
/// changed) it is the same one.
class GeometryCache {
 public:
  std::shared_ptr<const SceneGeometry> of(const Scene& scene);

 private:
  std::string surfaces_;  ///< of the last scene
  std::shared_ptr<const SceneGeometry> last_;
};

}  // namespace dishwright
