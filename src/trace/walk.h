// SPDX-License-Identifier: MIT
// A block of paths from the sun or a lamp to where each ends.
#pragma once

#include <memory>
#include <optional>

#include "trace/emission.h"
#include "trace/exact_points.h"
#include "trace/geometry.h"
#include "trace/mirror.h"
#include "trace/path_history.h"
#include "trace/plan.h"
#include "trace/ray_ends.h"

namespace dishwright {

/// Everything that all threads share, read only.
struct TraceContext {
  explicit TraceContext(const Scene& scene_in) : TraceContext(scene_in, std::make_shared<const SceneGeometry>(scene_in)) {}
  TraceContext(const Scene& scene_in, std::shared_ptr<const SceneGeometry> geometry_in);
  Scene scene;
  std::shared_ptr<const SceneGeometry> geometry;
  const SurfaceList& list;
  const World& world;
  Emission emission;
  bool may_show_back = false;  ///< can a mirror whose every point counts show the sun its back?
  bool has_slope = false, has_spread = false;
  bool see_through = false;  ///< is there a target that does not shade?
  bool by_strips = false;    ///< does each block of paths keep to a strip of the mirrors? See Walk::keep_to_strip()
  /// Power that all started paths of a trace stand for [W or lm]: beam × the silhouette's area, or the lamp's power.
  double source_power() const;
  std::vector<int> planes;    ///< surfaces that are disks or rectangles
  std::vector<int> plane_of;  ///< by surface: its place in `planes`, −1 = none
};

/// The context of a scene on the geometry that `geometries` keeps; on its own where that is null.
inline TraceContext context_of(const Scene& scene, GeometryCache* geometries) {
  return geometries == nullptr ? TraceContext(scene) : TraceContext(scene, geometries->of(scene));
}

/// One thread's working memory.
class Walk {
 public:
  explicit Walk(const TraceContext& context) : context_(context), crossings_(context.planes.size()) {}

  /// Walks the paths of a block (n <= block_size) and tells `ends`.
  void block(std::uint64_t seed, const PathBlock& paths, RayEnds& ends);
  /// Also writes down the steps of this path of each block; null to stop. `watched` is the path's number within its block.
  void watch(std::uint32_t watched, std::vector<Step>* steps) {
    watched_ = watched;
    steps_ = steps;
  }

 private:
  // Where each ray crosses the plane that spot sizes are measured on: distance [m], own x, y, and whether it comes from the front
  // (> 0).
  struct Crossing {
    BlockArray<double> at, x, y, from_front;
  };

  void keep_to_strip(const PathBlock& paths);
  void leave_lamp(int n, RayEnds& ends);
  void keep_only(const BlockArray<std::uint8_t>& marks, std::uint8_t mark);
  void settle_direct(RayEnds& straight);
  void note_lamp();
  void come_in(RayEnds& ends);
  void shade(RayEnds& ends);
  void pick_near(const Arrivals::Group& group);
  void aim_from_sun(const Arrivals::Group& group, double away);
  void drop_weightless();
  void draw_normals(const Arrivals::Group& group);
  void draw_pair(const Arrivals::Group& group, Draw radius_from, Draw turn_from, BlockArray<float>& a, BlockArray<float>& b);
  void reflect_all(RayEnds& ends);
  void cross_planes(RayEnds& ends);
  void cross_plane(std::size_t plane, RayEnds& ends);
  void settle(RayEnds& ends);
  void sort_by_surface(std::size_t surfaces);
  void settle_surface(int surface, const std::uint32_t* order, int count, RayEnds& ends);
  void land(int surface, const std::uint32_t* order, int count, RayEnds& ends);
  void arrive(int surface, const std::uint32_t* order, int count, RayEnds& ends);
  void keep_finite(int count);
  static double lost_beyond(const Surface& surface, float distance);
  void note_meetings(int surface, const std::uint32_t* order, int count);
  void find_points(int surface, const std::uint32_t* order, int count);
  void take_from_plane(const Crossing& crossing, const std::uint32_t* order, int count);
  void keep_fronts(RayEnds& ends);
  void note(StepKind kind, int surface, std::size_t ray, const Vector3& own_point, const Vector3& own_normal);
  void note_shaded(int surface, std::size_t ray);
  void note_start();
  void note_back(int surface, std::size_t arrival);
  void note_reflections(int first_ray, const Arrivals::Group& group);

  const TraceContext& context_;
  std::uint64_t seed_ = 0;
  std::uint32_t replicate_ = 0, first_ = 0;
  bool first_flight_ = true;
  DrawBlock draws_;
  Arrivals buffer_[2];
  Arrivals *arrivals_ = &buffer_[0], *next_ = &buffer_[1];  // now, and after the next flight
  RayBlock rays_;
  MirrorDraws mirror_draws_;
  std::vector<Crossing> crossings_;  // by plane
  Meetings met_;                     // of one surface
  BlockArray<double> weight_;
  BlockArray<std::uint32_t> order_;  // of rays by surface; on the way in, of arrivals near a target
  BlockArray<int> mark_;
  int near_ = 0;  // of those
  std::vector<int> bucket_begin_, bucket_next_;
  std::uint32_t watched_ = 0;
  std::vector<Step>* steps_ = nullptr;
  MirrorNormals normals_;
};

/// Reflections after which a path is given up; what it still carries is scored as "still bouncing".
inline constexpr int most_bounces = 64;

}  // namespace dishwright
