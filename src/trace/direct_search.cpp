// SPDX-License-Identifier: MIT
// The direct search: every ray against one surface after another, on the vector lanes. With few surfaces that is faster than any
// tree, and it needs no library but the lanes.
#include <algorithm>
#include <array>
#include <cmath>
#include <list>

#include "trace/float_lanes.h"
#include "trace/surface_search.h"

namespace dishwright {

namespace {

/// One thing to look for.
struct Face {
  enum class Form { quadric, petals, heights } form = Form::quadric;
  int surface = 0;
  FloatPatch patch{};                     // quadric
  float ball[3] = {}, reach = 0;          // that holds all of it
  const FloatPetals* petals = nullptr;    // petals
  const FloatHeights* heights = nullptr;  // heights
  // The flat end of a body that lies wholly behind it: light that enters through it meets no other face before.
  int faces_behind = 0;   // which follow this one in the list
  float outward = 0;      // sign of the rate of climb of light from outside
  float settled_r2 = -1;  // within this r² rounding at the edge makes no difference [m²]
};

/// What some rays have met so far.
struct Met {
  Lanes distance, surface, element;
};

class DirectSearch : public SurfaceSearch {
 public:
  DirectSearch(const SurfaceList& list, const Vector3& origin);
  void nearest(RayMask among, RayBlock& rays, float limit) const override;
  float grid_error(int surface) const override { return grid_error_[static_cast<std::size_t>(surface)]; }

 private:
  void add_target(const SurfaceList& list, std::size_t first, std::size_t end, std::vector<Face>& faces);
  void add_mirror(const Surface& surface, int index, std::vector<Face>& faces);
  RayLanes load(const RayBlock& rays, int first) const;
  static Met meet_all(const std::vector<Face>& faces, const RayLanes& rays, float limit);

  std::array<std::vector<Face>, mask_count> faces_;  // by mask
  std::list<FloatPetals> petals_;
  std::list<FloatHeights> heights_;
  std::vector<float> grid_error_;  // by surface
  Vector3 origin_;
};

void put_ball(Face& face) {
  const FloatBox& box = face.form == Face::Form::heights  ? face.heights->box
                        : face.form == Face::Form::petals ? face.petals->box
                                                          : face.patch.box;
  float size2 = 0;
  for (int k = 0; k < 3; ++k) {
    face.ball[k] = (box.low[k] + box.high[k]) / 2;
    size2 += (box.high[k] - box.low[k]) * (box.high[k] - box.low[k]);
  }
  face.reach = std::sqrt(size2) / 2 * (1 + 1e-5F);
}

DirectSearch::DirectSearch(const SurfaceList& list, const Vector3& origin)
    : grid_error_(list.surfaces.size(), 0), origin_(origin) {
  std::vector<Face> all;
  // Targets first: what they catch spares the search for a second meeting with the mirror.
  const std::size_t mirrors = static_cast<std::size_t>(list.reflector_count), surfaces = list.surfaces.size();
  for (std::size_t first = mirrors, end = first; first < surfaces; first = end) {
    while (end < surfaces && list.surfaces[end].owner == list.surfaces[first].owner) ++end;
    add_target(list, first, end, all);
  }
  for (std::size_t k = 0; k < mirrors; ++k) {
    if (direct_can(list.surfaces[k])) add_mirror(list.surfaces[k], static_cast<int>(k), all);
  }
  for (Face& face : all) put_ball(face);
  for (int among = 0; among < mask_count; ++among) {
    for (const Face& face : all) {
      if (belongs(list.surfaces[static_cast<std::size_t>(face.surface)], static_cast<RayMask>(among)))
        faces_[static_cast<std::size_t>(among)].push_back(face);
    }
  }
}

/// Are all other faces of a body on the far side of a flat one?
bool all_behind(const SurfaceList& list, std::size_t first, std::size_t end, std::size_t flat) {
  const TargetFace& face = *list.surfaces[flat].target_face;
  if (!face.flat() || face.form != FaceForm::disc) return false;
  for (std::size_t k = first; k < end; ++k) {
    const Surface& other = list.surfaces[k];
    const double ahead = face.faces_up < 0 ? other.box_low.z() - face.height : face.height - other.box_high.z();
    if (k != flat && ahead < 0) return false;
  }
  return true;
}

// A body's faces; one that may hide the others comes first.
void DirectSearch::add_target(const SurfaceList& list, std::size_t first, std::size_t end, std::vector<Face>& faces) {
  std::vector<std::size_t> order;
  for (std::size_t k = first; k < end; ++k) order.push_back(k);
  const auto front = std::find_if(order.begin(), order.end(), [&](std::size_t k) {
    return end - first > 1 && list.surfaces[k].counts() && all_behind(list, first, end, k);
  });
  const bool hides = front != order.end();
  if (hides) std::iter_swap(order.begin(), front);
  for (const std::size_t k : order) {
    const Surface& surface = list.surfaces[k];
    Face face;
    face.surface = static_cast<int>(k);
    face.patch = float_patches(surface, origin_).front();
    if (hides && k == order.front()) {
      face.faces_behind = static_cast<int>(order.size()) - 1;
      face.outward = static_cast<float>(-surface.target_face->faces_up);
      face.settled_r2 = static_cast<float>(0.9999 * surface.region.r2_to);
    }
    faces.push_back(face);
  }
}

void DirectSearch::add_mirror(const Surface& surface, int index, std::vector<Face>& faces) {
  Face face;
  face.surface = index;
  if (surface.kind == SurfaceKind::heights) {
    heights_.push_back(float_heights(surface, origin_));
    grid_error_[static_cast<std::size_t>(index)] = heights_.back().error;
    face.form = Face::Form::heights;
    face.heights = &heights_.back();
  } else if (surface.kind == SurfaceKind::petals) {
    petals_.push_back(float_petals(surface, origin_));
    face.form = Face::Form::petals;
    face.petals = &petals_.back();
  } else {
    face.patch = float_patches(surface, origin_).front();
  }
  faces.push_back(face);
}

// Rays in float, about the world's own origin.
RayLanes DirectSearch::load(const RayBlock& rays, int first) const {
  alignas(64) float row[6][lane_count];
  const double x = origin_.x(), y = origin_.y(), z = origin_.z();
#pragma omp simd
  for (int i = 0; i < lane_count; ++i) {
    row[0][i] = static_cast<float>(rays.ox[first + i] - x);
    row[1][i] = static_cast<float>(rays.oy[first + i] - y);
    row[2][i] = static_cast<float>(rays.oz[first + i] - z);
    row[3][i] = static_cast<float>(rays.dx[first + i]);
    row[4][i] = static_cast<float>(rays.dy[first + i]);
    row[5][i] = static_cast<float>(rays.dz[first + i]);
  }
  const auto lanes = [&](int k) { return Lanes::load_aligned(row[k]); };
  return {lanes(0),
          lanes(1),
          lanes(2),
          lanes(3),
          lanes(4),
          lanes(5),
          Lanes::load_aligned(rays.start_gap.data() + first),
          xsimd::to_float(WholeLanes::load_aligned(rays.own_surface.data() + first)),
          Lanes::load_aligned(rays.own_again.data() + first)};
}

/// A flat face, and which of the rays enter a body through it.
inline Lanes meet_end(const Face& face, const RayLanes& rays, const Lanes& far_end, Marks& settled) {
  const OwnLanes ray = own_rays(face.patch, rays);
  const Lanes endless(Region<float>::far), t = meet_flat(face.patch, ray, rays.near_end, endless), step = t - ray.ahead;
  const Lanes x = xsimd::fma(step, ray.u, ray.x), y = xsimd::fma(step, ray.v, ray.y);
  settled = (t < endless) & (xsimd::fma(x, x, y * y) <= Lanes(face.settled_r2)) & (ray.w * Lanes(face.outward) > Lanes(0));
  return xsimd::min(t, far_end);
}

/// May any of the rays meet something within the face's ball, before what they have met already? With room for rounding.
inline bool passes_near(const Face& face, const RayLanes& rays, const Lanes& far_end) {
  const Lanes x = Lanes(face.ball[0]) - rays.x, y = Lanes(face.ball[1]) - rays.y, z = Lanes(face.ball[2]) - rays.z;
  const Lanes along = xsimd::fma(x, rays.u, xsimd::fma(y, rays.v, z * rays.w));
  const Lanes far2 = xsimd::fma(x, x, xsimd::fma(y, y, z * z)), reach(face.reach);
  const Lanes room = xsimd::fma(reach, reach, Lanes(4e-6F) * far2);
  return xsimd::any((far2 - along * along <= room) & (along - reach < far_end) & (along + reach > rays.near_end));
}

Met DirectSearch::meet_all(const std::vector<Face>& faces, const RayLanes& rays, float limit) {
  Met met{Lanes(limit), Lanes(-1), Lanes(0)};
  const bool many = faces.size() > 4;  // fewer are asked faster than whether it is worth it
  for (std::size_t k = 0; k < faces.size(); ++k) {
    const Face& face = faces[k];
    if (many && !passes_near(face, rays, met.distance)) continue;
    Lanes t = met.distance, element(0);
    int behind = 0;
    switch (face.form) {
      case Face::Form::quadric:
        if (face.faces_behind > 0 && !xsimd::any(rays.own_surface == Lanes(static_cast<float>(face.surface)))) {
          Marks settled;
          t = meet_end(face, rays, met.distance, settled);
          if (xsimd::all(settled)) behind = face.faces_behind;
        } else {
          t = meet_quadric(face.patch, face.surface, rays, met.distance);
        }
        break;
      case Face::Form::petals: t = meet_petals(*face.petals, rays, met.distance, element); break;
      case Face::Form::heights: t = meet_heights(*face.heights, rays, met.distance); break;
    }
    const Marks nearer = t < met.distance;
    met.surface = xsimd::select(nearer, Lanes(static_cast<float>(face.surface)), met.surface);
    met.element = xsimd::select(nearer, element, met.element);
    met.distance = xsimd::select(nearer, t, met.distance);
    k += static_cast<std::size_t>(behind);
  }
  return met;
}

void DirectSearch::nearest(RayMask among, RayBlock& rays, float limit) const {
  const std::vector<Face>& faces = faces_[static_cast<std::size_t>(among)];
  // The last lanes are filled with copies of a live ray that count nowhere.
  const int padded = (rays.n + lane_count - 1) / lane_count * lane_count;
  for (std::size_t i = static_cast<std::size_t>(rays.n), live = i - 1; i < static_cast<std::size_t>(padded); ++i) {
    rays.ox[i] = rays.ox[live], rays.oy[i] = rays.oy[live], rays.oz[i] = rays.oz[live];
    rays.dx[i] = rays.dx[live], rays.dy[i] = rays.dy[live], rays.dz[i] = rays.dz[live];
    rays.start_gap[i] = rays.start_gap[live];
    rays.own_surface[i] = rays.own_surface[live], rays.own_again[i] = rays.own_again[live];
  }
  for (int first = 0; first < rays.n; first += lane_count) {
    const Met met = meet_all(faces, load(rays, first), limit);
    xsimd::to_int(met.surface).store_aligned(rays.surface.data() + first);
    met.distance.store_aligned(rays.distance.data() + first);
    xsimd::to_int(met.element).store_aligned(reinterpret_cast<std::int32_t*>(rays.element.data()) + first);
  }
}

/// From so many surfaces on a tree is faster: measured (docs/decisions/0030).
constexpr std::size_t most_surfaces = 32;

}  // namespace

bool direct_can(const SurfaceList& list) {
  return std::all_of(list.surfaces.begin(), list.surfaces.end(), [](const Surface& surface) { return direct_can(surface); });
}

std::unique_ptr<SurfaceSearch> make_direct_search(const SurfaceList& list, const Vector3& origin) {
  return std::make_unique<DirectSearch>(list, origin);
}

std::unique_ptr<SurfaceSearch> make_fastest_search(const SurfaceList& list, const Vector3& origin) {
  if (direct_can(list) && (list.surfaces.size() <= most_surfaces || !has_tree_search())) return make_direct_search(list, origin);
  const auto others =
      std::count_if(list.surfaces.begin(), list.surfaces.end(), [](const Surface& surface) { return direct_can(surface); });
  const bool few = !direct_can(list) && static_cast<std::size_t>(others) <= most_surfaces;
  return make_tree_search(list, origin, few ? make_direct_search(list, origin) : nullptr);
}

}  // namespace dishwright
