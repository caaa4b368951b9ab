// SPDX-License-Identifier: MIT
// Three ways to look for the nearest surface, which find the same: one after the other on the vector lanes, by a tree of boxes, or,
// where the library of the tree is missing, tiles and triangles by even cells.
#pragma once

#include <memory>

#include "trace/rays.h"
#include "trace/scene_surfaces.h"

namespace dishwright {

/// Which surfaces can be met.
enum class RayMask {
  everything,  ///< after a reflection
  mirrors,     ///< the silhouette toward the sun
  shades,      ///< targets that shade, on the way in
  way_in       ///< mirrors and shading targets, on the way in
};
inline constexpr int mask_count = 4;

/// Does a surface belong to that mask?
inline bool belongs(const Surface& surface, RayMask among) {
  const bool mirror = surface.is_mirror(), shades = !mirror && surface.shades;
  switch (among) {
    case RayMask::everything: return true;
    case RayMask::mirrors: return mirror;
    case RayMask::shades: return shades;
    case RayMask::way_in: break;
  }
  return mirror || shades;
}

/// How a world looks for surfaces. Chosen by the scene; tests ask for one of them.
enum class SearchBy {
  scene,   ///< direct where it can and is faster, else tree
  direct,  ///< every surface in turn: quadrics, petals and heights, 64 surfaces at most
  tree,    ///< the ray tracing library; cells in a build without it
  cells    ///< tiles and triangles by cells, all else direct
};

class SurfaceSearch {
 public:
  SurfaceSearch() = default;
  SurfaceSearch(const SurfaceSearch&) = delete;
  SurfaceSearch& operator=(const SurfaceSearch&) = delete;
  virtual ~SurfaceSearch() = default;
  /// Sets surface, element and distance of rays 0 … n−1, n >= 1: the nearest hit beyond start_gap and before `limit` [m].
  virtual void nearest(RayMask among, RayBlock& rays, float limit) const = 0;
  /// Of a height over a plane: how far the grid on which it is looked for may lie from the true surface [m]; else 0.
  virtual float grid_error(int surface) const = 0;
};

/// Can the direct search look for all of these surfaces?
bool direct_can(const SurfaceList& list);

// `origin`: of the numbers in float, in the frame; the middle of the mirrors.
/// One that takes the least time (docs/decisions/0030): direct for few surfaces; where some are tiles or triangles, direct for
/// the others first and then the tree for those.
std::unique_ptr<SurfaceSearch> make_fastest_search(const SurfaceList& list, const Vector3& origin);
std::unique_ptr<SurfaceSearch> make_direct_search(const SurfaceList& list, const Vector3& origin);
/// `before` looks first for the surfaces that it can look for; the tree then holds only the others. In a build without the ray
/// tracing library this is make_cell_search().
std::unique_ptr<SurfaceSearch> make_tree_search(const SurfaceList& list, const Vector3& origin,
                                                std::unique_ptr<SurfaceSearch> before = nullptr);
/// Tiles and triangles by even cells, one ray after another: two to five times as slow as the tree, without a library.
std::unique_ptr<SurfaceSearch> make_cell_search(const SurfaceList& list, const Vector3& origin,
                                                std::unique_ptr<SurfaceSearch> before = nullptr);
/// Has this build the ray tracing library?
bool has_tree_search();

/// Can the direct search look for this one?
inline bool direct_can(const Surface& surface) {
  return surface.kind != SurfaceKind::tiles && surface.kind != SurfaceKind::triangles;
}

}  // namespace dishwright
