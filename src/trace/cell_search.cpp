// SPDX-License-Identifier: MIT
// The search by cells: tiles and triangles are sorted into the even cells of a box, and a ray goes from cell to cell
// [amanatideswoo1987]. It needs no library; one ray after another, in double.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

#include "trace/surface_search.h"

namespace dishwright {

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

/// A tile or a triangle: a flat piece in the plane through `at`, in the frame of the search [m].
struct Piece {
  Vector3 at, u, v, normal;  ///< tiles: middle and unit vectors; triangles: a corner and two edges (normal = u × v)
};

/// Start, direction and how far along it hits count [m].
struct CellRay {
  Vector3 start, way;
  double from, to;
};

/// All tiles or triangles of one mirror.
class Cells {
 public:
  Cells(const Surface& surface, const Vector3& origin);
  /// Distance to the nearest piece within the ray's interval, and which [m]; infinity where none.
  std::pair<double, std::uint32_t> nearest(const CellRay& ray) const;

 private:
  using Place = std::array<int, 3>;
  void add_tiles(const Surface& surface, const Vector3& origin, std::vector<Eigen::AlignedBox3d>& boxes);
  void add_triangles(const Surface& surface, const Vector3& origin, std::vector<Eigen::AlignedBox3d>& boxes);
  void sort_in(const std::vector<Eigen::AlignedBox3d>& boxes);
  Place place_of(const Vector3& point) const;
  std::size_t number(const Place& place) const {
    return static_cast<std::size_t>((place[2] * count_[1] + place[1]) * count_[0] + place[0]);
  }
  double meet(const Piece& piece, const CellRay& ray) const;
  bool within(double a, double b) const;

  SurfaceKind kind_;
  TileSet tiles_;
  std::vector<Piece> pieces_;
  Eigen::AlignedBox3d box_;
  Place count_ = {1, 1, 1};
  Vector3 cell_ = Vector3::Ones();               ///< size of one [m]
  std::vector<std::uint32_t> starts_, members_;  ///< of cell k: members_ from starts_[k] to starts_[k + 1] − 1
};

Cells::Cells(const Surface& surface, const Vector3& origin) : kind_(surface.kind), tiles_(surface.tiles) {
  std::vector<Eigen::AlignedBox3d> boxes;
  kind_ == SurfaceKind::tiles ? add_tiles(surface, origin, boxes) : add_triangles(surface, origin, boxes);
  // Room for rounding, also where all lies in one plane.
  const double slack = 1e-9 * (surface.reach() + surface.middle().norm()) + 1e-12;
  for (Eigen::AlignedBox3d& one : boxes) {
    one.min().array() -= slack, one.max().array() += slack;
    box_.extend(one);
  }
  if (!boxes.empty()) sort_in(boxes);
}

void Cells::add_tiles(const Surface& surface, const Vector3& origin, std::vector<Eigen::AlignedBox3d>& boxes) {
  std::vector<Eigen::Vector2d> outline = tile_outline(tiles_.shape, tiles_.width);
  const double half = tiles_.width / 2;
  if (outline.empty()) outline = {{half, half}, {-half, half}, {-half, -half}, {half, -half}};
  for (const Element& element : *surface.elements) {
    const Matrix3 turn = surface.pose.turn * element.turn;
    const Vector3 at = surface.pose.turn * element.at + surface.pose.at - origin;
    pieces_.push_back({at, turn.col(0), turn.col(1), turn.col(2)});
    Eigen::AlignedBox3d box;
    for (const Eigen::Vector2d& corner : outline) box.extend(Vector3(at + turn.leftCols<2>() * corner));
    boxes.push_back(box);
  }
}

void Cells::add_triangles(const Surface& surface, const Vector3& origin, std::vector<Eigen::AlignedBox3d>& boxes) {
  for (const auto& triangle : surface.mesh->triangles) {
    std::array<Vector3, 3> corner;
    Eigen::AlignedBox3d box;
    for (std::size_t k = 0; k < 3; ++k) {
      corner[k] = surface.pose.turn * surface.mesh->vertices[triangle[k]] + surface.pose.at - origin;
      box.extend(corner[k]);
    }
    const Vector3 u = corner[1] - corner[0], v = corner[2] - corner[0];
    pieces_.push_back({corner[0], u, v, u.cross(v)});
    boxes.push_back(box);
  }
}

/// About as wide as a piece; a mirror fills few of the cells of its box, so they may be many.
void Cells::sort_in(const std::vector<Eigen::AlignedBox3d>& boxes) {
  constexpr double most_across = 160;
  Vector3 mean = Vector3::Zero();
  for (const Eigen::AlignedBox3d& one : boxes) mean += one.sizes() / static_cast<double>(boxes.size());
  const double across = std::max(1.2 * mean.maxCoeff(), box_.sizes().maxCoeff() / most_across);
  for (int k = 0; k < 3; ++k) {
    count_[static_cast<std::size_t>(k)] = std::max(1, static_cast<int>(box_.sizes()[k] / across));
    cell_[k] = box_.sizes()[k] / count_[static_cast<std::size_t>(k)];
  }
  // Counted first, then put in their places.
  const auto each = [&](const Eigen::AlignedBox3d& one, const auto& visit) {
    const Place low = place_of(one.min()), high = place_of(one.max());
    for (int z = low[2]; z <= high[2]; ++z) {
      for (int y = low[1]; y <= high[1]; ++y) {
        for (int x = low[0]; x <= high[0]; ++x) visit(number({x, y, z}));
      }
    }
  };
  starts_.assign(number({count_[0] - 1, count_[1] - 1, count_[2] - 1}) + 2, 0);
  for (const Eigen::AlignedBox3d& one : boxes) each(one, [&](std::size_t cell) { ++starts_[cell + 1]; });
  for (std::size_t k = 1; k < starts_.size(); ++k) starts_[k] += starts_[k - 1];
  members_.resize(starts_.back());
  std::vector<std::uint32_t> next(starts_.begin(), starts_.end() - 1);
  for (std::uint32_t k = 0; k < boxes.size(); ++k) each(boxes[k], [&](std::size_t cell) { members_[next[cell]++] = k; });
}

Cells::Place Cells::place_of(const Vector3& point) const {
  Place out;
  for (int k = 0; k < 3; ++k) {
    const double cell = std::floor((point[k] - box_.min()[k]) / cell_[k]);
    const std::size_t axis = static_cast<std::size_t>(k);
    out[axis] = static_cast<int>(std::clamp(cell, 0.0, count_[axis] - 1.0));
  }
  return out;
}

/// Is the place (a, b) inside a tile's outline, in its own frame [m]?
bool Cells::within(double a, double b) const {
  const double half = tiles_.width / 2;
  switch (tiles_.shape) {
    case TileShape::square: return std::abs(a) <= half && std::abs(b) <= half;
    case TileShape::round: return a * a + b * b <= half * half;
    case TileShape::hexagon: break;
  }
  const double slant = std::sqrt(0.75) * std::abs(b) + std::abs(a) / 2;
  return std::abs(a) <= half && slant <= half;
}

/// Distance to a piece [m]; infinity where the ray passes it, runs along it, or meets it outside its interval.
double Cells::meet(const Piece& piece, const CellRay& ray) const {
  const double climb = piece.normal.dot(ray.way);
  if (climb == 0) return never;
  const Vector3 aside = piece.at - ray.start;
  const double distance = piece.normal.dot(aside) / climb;
  if (!(distance > ray.from && distance < ray.to)) return never;
  if (kind_ == SurfaceKind::tiles) {
    const Vector3 place = distance * ray.way - aside;
    return within(place.dot(piece.u), place.dot(piece.v)) ? distance : never;
  }
  // Parts of the edges u and v at the meeting place [mollertrumbore1997]; a touch of room, so that no light slips between two.
  constexpr double room = 1e-12;
  const Vector3 turned = ray.way.cross(aside);
  const double a = -piece.v.dot(turned) / climb, b = piece.u.dot(turned) / climb;
  return a >= -room && b >= -room && a + b <= 1 + room ? distance : never;
}

std::pair<double, std::uint32_t> Cells::nearest(const CellRay& ray) const {
  std::pair<double, std::uint32_t> found(never, 0);
  if (pieces_.empty()) return found;
  // The part of the ray within the box.
  double from = ray.from, to = ray.to;
  const Vector3 per = ray.way.cwiseInverse();
  for (int k = 0; k < 3; ++k) {
    if (ray.way[k] == 0) {
      if (ray.start[k] < box_.min()[k] || ray.start[k] > box_.max()[k]) return found;
      continue;
    }
    const double one = (box_.min()[k] - ray.start[k]) * per[k], other = (box_.max()[k] - ray.start[k]) * per[k];
    from = std::max(from, std::min(one, other)), to = std::min(to, std::max(one, other));
  }
  if (!(from <= to)) return found;
  // From cell to cell: which wall comes next along each axis.
  Place place = place_of(ray.start + from * ray.way), step{};
  Vector3 wall = Vector3::Constant(never), stride = wall;
  for (int k = 0; k < 3; ++k) {
    if (ray.way[k] == 0) continue;
    const std::size_t axis = static_cast<std::size_t>(k);
    step[axis] = ray.way[k] > 0 ? 1 : -1;
    const int next = place[axis] + (step[axis] > 0 ? 1 : 0);
    wall[k] = (box_.min()[k] + next * cell_[k] - ray.start[k]) * per[k];
    stride[k] = cell_[k] * std::abs(per[k]);
  }
  CellRay left = ray;
  for (;;) {
    int axis = 0;
    const double leaves = wall.minCoeff(&axis);
    const std::size_t cell = number(place);
    for (std::uint32_t k = starts_[cell]; k < starts_[cell + 1]; ++k) {
      const double distance = meet(pieces_[members_[k]], left);
      if (distance < left.to) left.to = distance, found = {distance, members_[k]};
    }
    // What was met before the wall is the nearest; a piece may reach into cells that come later.
    if (left.to <= leaves || leaves > to) return found;
    const std::size_t along = static_cast<std::size_t>(axis);
    place[along] += step[along];
    if (place[along] < 0 || place[along] >= count_[along]) return found;
    wall[axis] += stride[axis];
  }
}

class CellSearch : public SurfaceSearch {
 public:
  CellSearch(const SurfaceList& list, const Vector3& origin, std::unique_ptr<SurfaceSearch> before)
      : origin_(origin), before_(before != nullptr ? std::move(before) : make_direct_search(list, origin)) {
    for (std::size_t k = 0; k < list.surfaces.size(); ++k) {
      if (!direct_can(list.surfaces[k])) cells_.emplace_back(static_cast<int>(k), Cells(list.surfaces[k], origin));
    }
  }
  void nearest(RayMask among, RayBlock& rays, float limit) const override;
  float grid_error(int surface) const override { return before_->grid_error(surface); }

 private:
  Vector3 origin_;
  std::unique_ptr<SurfaceSearch> before_;
  std::vector<std::pair<int, Cells>> cells_;  ///< by surface; mirrors, all of them
};

void CellSearch::nearest(RayMask among, RayBlock& rays, float limit) const {
  before_->nearest(among, rays, limit);
  if (among == RayMask::shades) return;
  for (int k = 0; k < rays.n; ++k) {
    const std::size_t i = static_cast<std::size_t>(k);
    CellRay ray{Vector3(rays.ox[i], rays.oy[i], rays.oz[i]) - origin_, Vector3(rays.dx[i], rays.dy[i], rays.dz[i]),
                static_cast<double>(rays.start_gap[i]), static_cast<double>(rays.distance[i])};
    for (const auto& [surface, cells] : cells_) {
      const auto [distance, piece] = cells.nearest(ray);
      if (!(distance < ray.to)) continue;
      ray.to = distance;
      rays.surface[i] = surface, rays.element[i] = piece, rays.distance[i] = static_cast<float>(distance);
    }
  }
}

}  // namespace

std::unique_ptr<SurfaceSearch> make_cell_search(const SurfaceList& list, const Vector3& origin,
                                                std::unique_ptr<SurfaceSearch> before) {
  return std::make_unique<CellSearch>(list, origin, std::move(before));
}

}  // namespace dishwright
