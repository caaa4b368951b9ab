// SPDX-License-Identifier: MIT
// Where paths start: on the mirrors, each with a direction of its own from the sun's disc, all with the same power.
#pragma once

#include <optional>
#include <vector>

#include "sky/disc.h"
#include "trace/share_guide.h"
#include "trace/world.h"

namespace dishwright {

/// Draws starting points and directions: light of radiance L(ω) goes L(ω) |n·ω| dω dA through a mirror element, if no mirror
/// stands before it.
///
/// From the mirror: a point, even in area as seen from the sun's centre; then a direction, density ∝ L(ω) · |n·ω|. The element
/// gets beam · |n·s| · area, since the disc is symmetric about its centre s. (Azimuth by a second-order inverse of the
/// cosine-weighted law; error below (tan i · angle)³.) A point counts if no mirror stands between it and the sun in that
/// direction. A lone mirror that shows the sun only one side hides nothing of itself: there every point counts.
/// From the sky, where a mirror may hide itself, or the edge of the disc may see another side of it than the centre: a direction,
/// density ∝ L(ω) cos θ; then a place, even on a plane that faces the sun's centre, in a mask of small cells that holds all that
/// any part of the disc may see of the mirror. The ray counts if that mirror is what it meets first.
/// Either way every path carries the same power, and each mirror gets exactly the light that meets it first, half-shadows too.
class Emission {
 public:
  Emission(const Scene& scene, const SurfaceList& list, const World& world);

  /// Silhouette area from which points are drawn [m²]. Exact if all points count.
  double candidate_area() const { return candidate_area_; }
  bool every_point_counts() const { return every_point_counts_; }

  /// The sun's disc.
  const DiscSampler& disc() const { return disc_; }
  /// Starts of `n` paths: points on mirrors (front or back side) that light from the sun meets first, by mirror.
  void start(int n, const DrawBlock& draws, Arrivals& out) const;

 private:
  /// How the points of a mirror are drawn.
  enum class Way {
    round,    ///< quadric of revolution: even in r², azimuth by the lean of the sun
    band,     ///< trough or flat: even across the sun's direction
    upright,  ///< any height over a plane under a sun that does not lean: even in the plan
    tiles,    ///< tile by its area toward the sun, then even in the tile
    mask      ///< from the sky: cells that the disc may see
  };
  struct Patch {  // one mirror as the sun sees it
    int surface = 0;
    double area = 0;  // from which points are drawn [m²]
    Way way = Way::mask;
    bool alone = false;   ///< hides no part of itself from any part of the disc, and no other mirror comes near
    Vector3 sun;          // toward the sun's centre, own frame
    Vector3 east, north;  // unit vectors across `sun`, own frame
    // round: lean of the sun
    double lean = 0;       // tangent of the angle between sun and axis, signed by the side
    double lean_turn = 0;  // azimuth the sun leans to [turns]
    int kepler_steps = 0;
    ShareGuide tile_share;
    // mask: cells of a square about the mirror's middle, across the sun's direction; frame directions
    Vector3 frame_east, frame_north, corner;
    double cell = 0;          // [m]
    struct Row {              // that holds marked cells
      int row, begin, count;  // its number; its cells in `column`
      double from, share;     // of all marked cells: before it, and in it
    };
    std::vector<Row> row;
    ShareGuide row_share;
    std::vector<int> column;  // of all marked cells, row by row
    bool every_point_counts() const { return alone && way != Way::mask; }
  };
  using Counts = BlockArray<std::uint8_t>;  // does the point count?

  Patch look_at(const Scene& scene, int surface) const;
  void look_at_quadric(Patch& patch, const Surface& surface) const;
  bool clear_of_disc(double cosine) const;
  void make_mask(Patch& patch, const Surface& surface) const;
  void weigh_tiles(Patch& patch, const Surface& surface) const;
  // Points and normals of paths out.n … out.n + n − 1; out.n stays.
  void draw_points(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_band(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_upright(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_tiles(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_round(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_directions(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void find_free(const Patch& patch, int n, const Arrivals& out, Counts& counts) const;
  void draw_from_sky(const Patch& patch, int n, const float* a, const float* b, const float* disc_radius, const float* disc_turn,
                     Arrivals& out, Counts& counts) const;
  // All of that for one patch, and what else a path starts with.
  void add_patch(const Patch& patch, int n, const float* a, const float* b, const float* disc_radius, const float* disc_turn,
                 const std::uint32_t* lane, Arrivals& out) const;

  const SurfaceList& list_;
  const World& world_;
  DiscSampler disc_;
  Vector3 sun_;  // toward the sun's centre, frame
  std::vector<Patch> patches_;
  std::vector<double> patch_share_;  // cumulative
  double candidate_area_ = 0;
  bool every_point_counts_ = true;
};

}  // namespace dishwright
