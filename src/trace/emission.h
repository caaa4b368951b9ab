// SPDX-License-Identifier: MIT
// Where paths start: spread evenly over the mirrors' silhouette toward the sun's centre, each with a direction of its own from the
// sun's disc.
#pragma once

#include <optional>
#include <vector>

#include "sky/disc.h"
#include "trace/world.h"

namespace dishwright {

/// Draws starting points and directions.
///
/// Points: even in area as seen from the sun's centre. A lone mirror that shows the sun only one side is drawn exactly. Tiles are drawn
/// exactly, and a point counts if nothing stands between it and the sun's centre. Otherwise, and where mirrors may hide one another or
/// show a back, points are drawn in a mask of small cells around the mirror and count only if that mirror is what the sun's centre sees
/// there.
/// Directions: at a point with front normal n, density ∝ radiance(ω) · |n·ω|. So each mirror element gets exactly beam · |n·s| · area, and
/// every path carries the same power. (Azimuth by a second-order inverse of the cosine-weighted law; error below (tan i · half_angle)³.)
class Emission {
 public:
  Emission(const Scene& scene, const PieceList& list, const World& world);

  /// Silhouette area from which points are drawn [m²]. Exact if all points count.
  double candidate_area() const { return candidate_area_; }
  bool every_point_counts() const { return every_point_counts_; }

  /// The sun's disc.
  const DiscSampler& disc() const { return disc_; }
  /// Starts of `n` paths: points on mirrors that the sun's centre sees (front or back side), by mirror. `direction` is the way the
  /// light travels.
  void start(int n, const DrawBlock& draws, Arrivals& out) const;

 private:
  /// How the points of a mirror are drawn.
  enum class Way {
    round,    ///< quadric of revolution: even in r², azimuth by the lean of the sun
    band,     ///< trough or flat: even across the sun's direction
    upright,  ///< any height over a plane under a sun that does not lean: even in the plan
    tiles,    ///< tile by its area toward the sun, then even in the tile
    mask      ///< cells seen from the sun
  };
  struct Patch {  // one mirror as the sun sees it
    int piece = 0;
    double area = 0;  // from which points are drawn [m²]
    Way way = Way::mask;
    Vector3 sun;          // toward the sun's centre, own frame
    Vector3 east, north;  // unit vectors across `sun`, own frame
    // round: lean of the sun
    double lean = 0;       // tangent of the angle between sun and axis, signed by the side
    double lean_turn = 0;  // azimuth the sun leans to [turns]
    int kepler_steps = 0;
    std::vector<double> tile_share;  // cumulative, last = 1
    // mask: cells of a rectangle in (east, north), frame directions
    Vector3 frame_east, frame_north;
    double east_from = 0, north_from = 0, cell_east = 0, cell_north = 0;
    std::vector<double> row_share;          // cumulative share of marked cells by row, last = 1
    std::vector<int> row_of;                // rows that hold marked cells
    std::vector<std::vector<int>> columns;  // marked cells of those rows
    bool every_point_counts() const { return way != Way::mask && way != Way::tiles; }
  };
  using Counts = Lane<std::uint8_t>;  // does the point count?

  Patch look_at(const Scene& scene, int piece) const;
  void look_at_quadric(Patch& patch, const Piece& piece) const;
  void make_mask(Patch& patch, const Piece& piece) const;
  void weigh_tiles(Patch& patch, const Piece& piece) const;
  // Points and normals of paths out.n … out.n + n − 1; out.n stays.
  void draw_points(const Patch& patch, int n, const float* a, const float* b, Arrivals& out, Counts& counts) const;
  void draw_band(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_upright(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_tiles(const Patch& patch, int n, const float* a, const float* b, Arrivals& out, Counts& counts) const;
  void draw_round(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  void draw_masked(const Patch& patch, int n, const float* a, const float* b, Arrivals& out, Counts& counts) const;
  void draw_directions(const Patch& patch, int n, const float* a, const float* b, Arrivals& out) const;
  // All of that for one patch, and what else a path starts with.
  void add_patch(const Patch& patch, int n, const float* a, const float* b, const float* disc_radius, const float* disc_turn,
                 const std::uint32_t* lane, Arrivals& out) const;

  const PieceList& list_;
  const World& world_;
  DiscSampler disc_;
  Vector3 sun_;  // toward the sun's centre, frame
  std::vector<Patch> patches_;
  std::vector<double> patch_share_;  // cumulative
  double candidate_area_ = 0;
  bool every_point_counts_ = true;
};

}  // namespace dishwright
