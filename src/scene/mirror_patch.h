// SPDX-License-Identifier: MIT
// Mirrors as lists of smooth patches with two parameters: all that quadrature and wave sum need to know of a shape.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "scene/scene.h"
#include "shape/height_surface.h"
#include "shape/plan_outline.h"

namespace dishwright {

/// A place on a mirror.
struct MirrorPoint {
  Vector3 place = Vector3::Zero();    ///< [m]
  Vector3 normal = Vector3::UnitZ();  ///< unit, on the bright side
  double area = 0;                    ///< surface area per du dv [m²]
};

/// A patch of mirror over 0 <= u, v <= 1, smooth inside.
struct MirrorPatch {
  int reflector = 0;
  bool closed = false;    ///< v goes round: v = 1 is v = 0 again
  bool triangle = false;  ///< area grows as u, all of u = 0 is one corner: one point is put at the middle of area
  bool heights = false;   ///< of a flawed or measured surface, which may wave
  std::function<MirrorPoint(double u, double v)> at;
};

/// A height over a plan: flawed, measured and random surfaces. Own frame.
MirrorPatch height_patch(std::shared_ptr<const HeightSurface> surface, const PlanOutline& plan);
/// The true surface of a shape, own frame: bowls u from hole to rim, v round; troughs and flats u across, v along; a patch or more for each tile
/// and petal; one for each triangle of a mesh and each straight stretch of a profile.
std::vector<MirrorPatch> shape_patches(const ReflectorShape& shape);
/// A patch in the frame.
MirrorPatch placed(MirrorPatch own, const Pose& pose, int reflector);
/// The patches of all mirrors, in the frame, in file order.
std::vector<MirrorPatch> mirror_patches(const Scene& scene);

}  // namespace dishwright
