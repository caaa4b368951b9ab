// SPDX-License-Identifier: MIT
// The surfaces of a scene as the tracer meets them: every mirror and every target face is one surface.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "shape/height_surface.h"
#include "shape/quadric.h"

namespace dishwright {

/// What the surface of a surface is made of.
enum class SurfaceKind {
  quadric,   ///< one quadric, cut to a region
  petals,    ///< copies of one quadric, each turned and cut to its own region
  tiles,     ///< flat tiles
  heights,   ///< a height over a plane
  triangles  ///< a mesh
};

/// Where one petal or tile stands: p_reflector = turn · p_element + at.
struct Element {
  Matrix3 turn = Matrix3::Identity();
  Vector3 at = Vector3::Zero();  ///< [m]
};

struct TileSet {
  TileShape shape = TileShape::square;
  double width = 0;  ///< side of a square, across the flats of a hexagon (flats face ±x), diameter of a round tile [m]
};

struct Surface {
  std::optional<TargetFace> target_face;  ///< empty: a mirror
  bool spot_plane = false;                ///< the face whose plane spot sizes are measured on
  SurfaceKind kind = SurfaceKind::quadric;
  int owner = 0;  ///< index in Scene::reflectors or Scene::targets
  int face = 0;   ///< which face of the target
  Quadric<double> quadric;
  Region<double> region;
  std::shared_ptr<const std::vector<Element>> elements;  ///< petals, tiles
  Petals petals;                                         ///< petals
  TileSet tiles;                                         ///< tiles
  std::shared_ptr<const HeightSurface> heights;          ///< heights
  std::shared_ptr<const TriangleMesh> mesh;              ///< triangles, own frame
  bool smooth = true;                                    ///< triangles: normals run evenly from corner to corner
  Pose pose;
  double front_sign = 1;  ///< quadrics. +1: the front is where the gradient points; −1: the other side (most mirrors)
  bool shades = true;     ///< stops light on its way in
  int front_slot = 0;     ///< ledger line of light that ends on the front (targets)
  int back_slot = 0;      ///< ledger line of light that ends on the back
  Vector3 box_low = Vector3::Zero(), box_high = Vector3::Zero();  ///< own frame [m]
  bool is_mirror() const { return !target_face; }
  /// A face whose light belongs to the target's figures.
  bool counts() const { return target_face && target_face->counts; }
  Vector3 middle() const { return pose.turn * ((box_low + box_high) / 2) + pose.at; }
  double reach() const { return (box_high - box_low).norm() / 2; }
};

/// All surfaces of a scene and the names of its ledger lines.
struct SurfaceList {
  std::vector<Surface> surfaces;        ///< reflectors first, in file order: surface k is reflector k
  std::vector<std::string> slot_names;  ///< ledger lines
  int reflector_count = 0;
  // Slots: target k's power is slot k; the others by these.
  std::vector<int> shaded_slot;    ///< by target
  std::vector<int> direct_slot;    ///< by target: a lamp's light that met no mirror; empty for sunlight
  int unmet_slot = 0;              ///< a lamp's light that met nothing at all
  std::vector<int> absorbed_slot;  ///< by reflector
  int missed_slot = 0, bouncing_slot = 0, lost_slot = 0;
};

SurfaceList make_surfaces(const Scene& scene);

}  // namespace dishwright
