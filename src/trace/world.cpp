// SPDX-License-Identifier: MIT
#include "trace/world.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dishwright {

World::World(const SurfaceList& list, SearchBy search) {
  find_middle(list);
  find_bodies(list);
  for (const Surface& surface : list.surfaces) {
    const double rounding = 1e-5 * surface.reach() + 3e-7 * (surface.middle() - origin_).cwiseAbs().maxCoeff();
    rounding_.push_back(static_cast<float>(rounding));
    start_gap_.push_back(static_cast<float>(surface.kind == SurfaceKind::quadric ? 0 : rounding));
  }
  for (int among = 0; among < mask_count; ++among) {
    empty_[static_cast<std::size_t>(among)] =
        std::none_of(list.surfaces.begin(), list.surfaces.end(),
                     [&](const Surface& surface) { return belongs(surface, static_cast<RayMask>(among)); });
  }
  search_ = search == SearchBy::scene    ? make_fastest_search(list, origin_)
            : search == SearchBy::direct ? make_direct_search(list, origin_)
            : search == SearchBy::tree   ? make_tree_search(list, origin_)
                                         : make_cell_search(list, origin_);
}

// Floats are finest near the mirrors, where rays start and meet again; a far target needs no more than the angle.
void World::find_middle(const SurfaceList& list) {
  Vector3 low = Vector3::Constant(std::numeric_limits<double>::infinity()), high = -low;
  for (const Surface& surface : list.surfaces) {
    if (!surface.is_mirror()) continue;
    low = low.cwiseMin(surface.middle()), high = high.cwiseMax(surface.middle());
  }
  if (list.reflector_count > 0) origin_ = (low + high) / 2;
  double reach = 0;
  for (const Surface& surface : list.surfaces) reach = std::max(reach, (surface.middle() - origin_).norm() + surface.reach());
  way_out_ = 2.1 * reach;
}

// All faces of a target have its pose, and so has their common box.
void World::find_bodies(const SurfaceList& list) {
  int owner = -1;
  Vector3 low, high;
  for (const Surface& surface : list.surfaces) {
    if (!belongs(surface, RayMask::shades)) continue;
    if (surface.owner != owner) low = surface.box_low, high = surface.box_high, shading_bodies_.emplace_back();
    owner = surface.owner;
    low = low.cwiseMin(surface.box_low), high = high.cwiseMax(surface.box_high);
    const Matrix3& turn = surface.pose.turn;
    shading_bodies_.back() = {turn * ((low + high) / 2) + surface.pose.at, turn * ((high - low) / 2).asDiagonal()};
  }
}

}  // namespace dishwright
