// SPDX-License-Identifier: MIT
#include "trace/walk.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/error.h"
#include "base/simd_math.h"
#include "base/wide.h"
#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

constexpr std::size_t few_surfaces = 6;

/// Rays carry light only.
const Scene& lit(const Scene& scene) {
  if (!scene.is_wave()) return scene;
  throw InputError(scene.sound ? "rays do not follow sound" : "rays do not follow radio waves",
                   "a wave bends round edges and adds up with itself; it has figures of its own",
                   "use `dishwright trace`, or add --as light where the file has a [sun] or [lamp]");
}

}  // namespace

TraceContext::TraceContext(const Scene& scene_in, std::shared_ptr<const SceneGeometry> geometry_in)
    : scene(lit(scene_in)),
      geometry(std::move(geometry_in)),
      list(geometry->list),
      world(geometry->world),
      emission(scene, list, world) {
  for (const Reflector& reflector : scene.reflectors) {
    may_show_back = may_show_back || dishwright::may_show_back(reflector.shape);
    has_slope = has_slope || reflector.slope_error > 0;
    has_spread = has_spread || reflector.specular_spread > 0;
  }
  for (const Target& target : scene.targets) see_through = see_through || !target.shades;
  for (std::size_t k = 0; k < list.surfaces.size(); ++k) {
    const Surface& surface = list.surfaces[k];
    plane_of.push_back(surface.spot_plane ? static_cast<int>(planes.size()) : -1);
    if (surface.spot_plane) planes.push_back(static_cast<int>(k));
    const bool fine = surface.kind == SurfaceKind::triangles || surface.kind == SurfaceKind::tiles;
    by_strips = by_strips || (surface.is_mirror() && fine && !scene.lamp);
  }
}

double TraceContext::source_power() const { return scene.lamp ? scene.lamp->power : scene.sun.beam * emission.candidate_area(); }

// Thousands of triangles or tiles do not fit the near memory. So block k of a replicate draws its places from the k-th strip of
// the mirrors, as wide as the block's share of the paths: all places are still equally likely, and neighbours in memory are met
// one after another.
void Walk::keep_to_strip(const PathBlock& paths) {
  const double size = std::min<std::uint32_t>(block_size, paths.of - paths.first);
  const double from = paths.first / static_cast<double>(paths.of), width = size / paths.of;
  for (float& a : draws_[static_cast<std::size_t>(Draw::position_a)])
    a = std::min(static_cast<float>(from + width * static_cast<double>(a)), 1.0F - 0x1p-24F);
}

void Walk::block(std::uint64_t seed, const PathBlock& paths, RayEnds& ends) {
  seed_ = seed, replicate_ = paths.replicate, first_ = paths.first;
  const int n = static_cast<int>(paths.n);
  ends.begin(replicate_);
  // Random numbers of the block: only those that this scene uses.
  SobolReplicate(seed, replicate_).fill(first_, context_.has_slope ? 0 : 2, context_.has_spread ? draw_count : 6, draws_);
  if (context_.by_strips) keep_to_strip(paths);
  // First flight: from the lamp to whatever it meets, or from the sun onto a drawn point of a mirror.
  if (context_.scene.lamp) {
    ends.started(n);
    leave_lamp(n, ends);
  } else {
    context_.emission.start(n, draws_, *arrivals_);
    ends.started(arrivals_->n);
    come_in(ends);
  }
  first_flight_ = true;
  while (arrivals_->n > 0) {
    // Off the mirrors, on to the nearest surface; what ends there is counted, what meets a mirror goes round again.
    reflect_all(ends);
    first_flight_ = false;
    context_.world.nearest(RayMask::everything, rays_, std::numeric_limits<float>::infinity());
    cross_planes(ends);
    next_->clear();
    settle(ends);
    std::swap(arrivals_, next_);
  }
}

// On the way in: does a shading target stand between the sun and the drawn point? That no mirror does is settled where points are
// drawn.
void Walk::come_in(RayEnds& ends) {
  if (steps_ != nullptr) note_start();
  if (!context_.world.empty(RayMask::shades)) shade(ends);
  if (!context_.emission.every_point_counts() || context_.may_show_back) keep_fronts(ends);
}

// Light that the sun sends onto the back of a mirror ends there.
void Walk::keep_fronts(RayEnds& ends) {
  const std::vector<Arrivals::Group> groups = arrivals_->groups;
  arrivals_->clear();
  for (const Arrivals::Group& group : groups) {
    const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(group.surface)];
    double back = 0;
    const int begin = arrivals_->n;
    for (int i = group.begin; i < group.end; ++i) {
      const std::size_t from = static_cast<std::size_t>(i);
      const double facing = arrivals_->nx[from] * arrivals_->dx[from] + arrivals_->ny[from] * arrivals_->dy[from] +
                            arrivals_->nz[from] * arrivals_->dz[from];
      if (facing >= 0) {
        back += arrivals_->weight[from];
        if (steps_ != nullptr && arrivals_->lane[from] == watched_) note_back(group.surface, from);
        continue;
      }
      arrivals_->take(*arrivals_, from, static_cast<std::size_t>(arrivals_->n++));
    }
    if (back > 0) ends.scored(surface.back_slot, back);
    if (arrivals_->n > begin) arrivals_->groups.push_back({group.surface, begin, arrivals_->n});
  }
}

// Whose way in passes near a shading target: most ways do not. In the mirror's own frame, in float, with room for its rounding.
// The way is taken to the sun's centre; the target's box is seen along it as a rectangle, as much larger as the disc leans out over
// the distance.
inline void Walk::pick_near(const Arrivals::Group& group) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(group.surface)];
  const Matrix3 own = surface.pose.turn.transpose();
  const Vector3 sun = own * context_.scene.sun.direction();
  const double spread = std::tan(context_.emission.disc().largest_angle());
  const Arrivals& from = *arrivals_;
  std::fill(mark_.begin() + group.begin, mark_.begin() + group.end, 0);
  for (const World::Body& body : context_.world.shading_bodies()) {
    const Matrix3 axes = own * body.half_axes;
    const Vector3 middle = own * (body.middle - surface.pose.at);
    Eigen::Index longest = 0;
    (axes - sun * (sun.transpose() * axes)).colwise().squaredNorm().maxCoeff(&longest);
    const Vector3 along = axes.col(longest) - axes.col(longest).dot(sun) * sun;
    const Vector3 east = along.norm() > 0 ? Vector3(along.normalized()) : sun.unitOrthogonal(), north = sun.cross(east);
    const double furthest = (body.middle - surface.middle()).norm() + surface.reach() + body.half_axes.norm();
    const double room = furthest * (spread + 4e-6);
    const auto seen = [&](const Vector3& axis) { return static_cast<float>((axis.transpose() * axes).cwiseAbs().sum() + room); };
    const float half_east = seen(east), half_north = seen(north), middle_east = static_cast<float>(middle.dot(east)),
                middle_north = static_cast<float>(middle.dot(north));
    const Eigen::Vector3f e = east.cast<float>(), f = north.cast<float>();
#pragma omp simd
    for (int i = group.begin; i < group.end; ++i) {
      const float x = static_cast<float>(from.x[i]), y = static_cast<float>(from.y[i]), z = static_cast<float>(from.z[i]);
      const float off_east = x * e.x() + y * e.y() + z * e.z() - middle_east,
                  off_north = x * f.x() + y * f.y() + z * f.z() - middle_north;
      const int beside = std::abs(off_east) <= half_east ? 1 : 0, above = std::abs(off_north) <= half_north ? 1 : 0;
      mark_[i] |= beside & above;
    }
  }
  for (int i = group.begin; i < group.end; ++i) {
    order_[near_] = static_cast<std::uint32_t>(i);
    near_ += mark_[i];
  }
}

// Those rays from beyond the scene down to the drawn points, in the frame.
inline void Walk::aim_from_sun(const Arrivals::Group& group, double away) {
  const Pose& pose = context_.list.surfaces[static_cast<std::size_t>(group.surface)].pose;
  const Matrix3 m = pose.turn;
  const Vector3 at = pose.at;
  const Arrivals& from = *arrivals_;
#pragma omp simd
  for (int i = rays_.n; i < near_; ++i) {
    const std::uint32_t k = order_[i];
    // Back along the light by `away`, then from the mirror's own frame into the scene's.
    const double px = from.x[k] - away * from.dx[k], py = from.y[k] - away * from.dy[k], pz = from.z[k] - away * from.dz[k];
    rays_.ox[i] = m(0, 0) * px + m(0, 1) * py + m(0, 2) * pz + at.x();
    rays_.oy[i] = m(1, 0) * px + m(1, 1) * py + m(1, 2) * pz + at.y();
    rays_.oz[i] = m(2, 0) * px + m(2, 1) * py + m(2, 2) * pz + at.z();
    rays_.dx[i] = m(0, 0) * from.dx[k] + m(0, 1) * from.dy[k] + m(0, 2) * from.dz[k];
    rays_.dy[i] = m(1, 0) * from.dx[k] + m(1, 1) * from.dy[k] + m(1, 2) * from.dz[k];
    rays_.dz[i] = m(2, 0) * from.dx[k] + m(2, 1) * from.dy[k] + m(2, 2) * from.dz[k];
    rays_.start_gap[i] = 0;
    rays_.own_surface[i] = -1, rays_.own_again[i] = 0;
  }
  rays_.n = near_;
}

// What shading targets caught on its way in leaves the arrivals.
void Walk::shade(RayEnds& ends) {
  const double away = context_.world.way_out();
  rays_.n = near_ = 0;
  for (const Arrivals::Group& group : arrivals_->groups) {
    on_wide_lanes<&Walk::pick_near>(*this, group);
    on_wide_lanes<&Walk::aim_from_sun>(*this, group, away);
  }
  context_.world.nearest(RayMask::shades, rays_, static_cast<float>(away));
  std::array<double, 64> shaded{};
  int caught = 0, ray = 0;
  for (const Arrivals::Group& group : arrivals_->groups) {
    // Only what is clearly before the drawn point: its own mirror lies at `away`, give or take rounding.
    const float clear = static_cast<float>(away) - 4 * context_.world.rounding(group.surface) - static_cast<float>(away) * 4e-7F;
    for (; ray < near_ && order_[ray] < static_cast<std::uint32_t>(group.end); ++ray) {
      const std::size_t r = static_cast<std::size_t>(ray), k = order_[r];
      if (rays_.surface[r] < 0 || rays_.distance[r] >= clear) continue;
      const int hit = rays_.surface[r];
      ++caught;
      shaded[static_cast<std::size_t>(context_.list.surfaces[static_cast<std::size_t>(hit)].owner)] += arrivals_->weight[k];
      if (steps_ != nullptr && arrivals_->lane[k] == watched_) note_shaded(hit, r);
      arrivals_->weight[k] = 0;
    }
  }
  for (std::size_t k = 0; k < context_.list.shaded_slot.size(); ++k) {
    if (shaded[k] > 0) ends.scored(context_.list.shaded_slot[k], shaded[k]);
  }
  // A few weightless paths may go on, they change nothing; many are taken out.
  if (caught * 8 > arrivals_->n || (steps_ != nullptr && caught > 0)) {
    next_->clear();
    drop_weightless();
    std::swap(arrivals_, next_);
  }
}

void Walk::drop_weightless() {
  for (const Arrivals::Group& group : arrivals_->groups) {
    const int begin = next_->n;
    for (int i = group.begin; i < group.end; ++i) {
      const std::size_t k = static_cast<std::size_t>(i);
      if (arrivals_->weight[k] > 0) next_->take(*arrivals_, k, static_cast<std::size_t>(next_->n++));
    }
    if (next_->n > begin) next_->groups.push_back({group.surface, begin, next_->n});
  }
}

void Walk::draw_normals(const Arrivals::Group& group) {
  if (context_.has_slope) draw_pair(group, Draw::slope_a, Draw::slope_b, mirror_draws_.slope_a, mirror_draws_.slope_b);
  if (context_.has_spread) draw_pair(group, Draw::spread_a, Draw::spread_b, mirror_draws_.spread_a, mirror_draws_.spread_b);
}

// Two standard normals an arrival: from the Sobol' point at the first mirror, hashed later.
void Walk::draw_pair(const Arrivals::Group& group, Draw radius_from, Draw turn_from, BlockArray<float>& a, BlockArray<float>& b) {
  const int count = group.end - group.begin, padded = (count + 15) / 16 * 16;
  const HashedDraws hashed(seed_, replicate_);
  BlockArray<float> u{}, v{}, radius, sine, cosine;
  const float* radius_numbers = draws_[static_cast<std::size_t>(radius_from)].data();
  const float* turn_numbers = draws_[static_cast<std::size_t>(turn_from)].data();
  // At the first mirror of a scene with one mirror the arrivals are the block's paths in order; elsewhere each looks up its own.
  const std::size_t last = static_cast<std::size_t>(count - 1);
  const bool in_order =
      first_flight_ && arrivals_->groups.size() == 1 && arrivals_->lane[last] == static_cast<std::uint32_t>(last);
  for (int i = 0; i < padded && !in_order; ++i) {
    const std::size_t k = static_cast<std::size_t>(group.begin + std::min(i, count - 1));
    const std::uint32_t lane = arrivals_->lane[k];
    const int bounce = arrivals_->bounces[k];
    u[i] = bounce == 0 ? radius_numbers[lane] : hashed.at(first_ + lane, bounce, radius_from);
    v[i] = bounce == 0 ? turn_numbers[lane] : hashed.at(first_ + lane, bounce, turn_from);
  }
  if (!in_order) radius_numbers = u.data(), turn_numbers = v.data();
  normal_radius(radius_numbers, radius.data(), padded);
  sincos_of_turns(turn_numbers, sine.data(), cosine.data(), padded);
  for (int i = 0; i < padded; ++i) a[i] = radius[i] * cosine[i], b[i] = radius[i] * sine[i];
}

void Walk::reflect_all(RayEnds& ends) {
  rays_.n = 0;
  for (const Arrivals::Group& group : arrivals_->groups) {
    const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(group.surface)];
    draw_normals(group);
    const int first_ray = rays_.n;
    const Shares shares = reflect(context_.scene.reflectors[static_cast<std::size_t>(surface.owner)], surface, *arrivals_,
                                  group.begin, group.end, mirror_draws_,
                                  {surface.kind == SurfaceKind::quadric ? group.surface : -1,
                                   context_.world.start_gap(group.surface), context_.world.grid_error(group.surface)},
                                  rays_, steps_ != nullptr ? &normals_ : nullptr);
    ends.scored(context_.list.absorbed_slot[static_cast<std::size_t>(surface.owner)], shares.absorbed);
    if (first_flight_) ends.left_mirrors(shares.reflected);
    if (steps_ != nullptr) note_reflections(first_ray, group);
  }
}

// Light on the unbounded planes of disks, rectangles and bases of pots, at each path's first crossing from the front.
void Walk::cross_planes(RayEnds& ends) {
  for (std::size_t plane = 0; plane < context_.planes.size(); ++plane) on_wide_lanes<&Walk::cross_plane>(*this, plane, ends);
}

inline void Walk::cross_plane(std::size_t plane, RayEnds& ends) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(context_.planes[plane])];
  Crossing& crossing = crossings_[plane];
  const std::uint64_t bit = std::uint64_t{1} << static_cast<unsigned>(surface.owner);
  const Matrix3 m = surface.pose.turn.transpose();
  const Vector3 at = surface.pose.at;
  double sum = 0;
#pragma omp simd reduction(+ : sum)
  for (int i = 0; i < rays_.n; ++i) {
    const double px = rays_.ox[i] - at.x(), py = rays_.oy[i] - at.y(), pz = rays_.oz[i] - at.z();
    // Height over the plane and rate of climb: the crossing is where the height is used up.
    const double z = m(2, 0) * px + m(2, 1) * py + m(2, 2) * pz;
    const double w = m(2, 0) * rays_.dx[i] + m(2, 1) * rays_.dy[i] + m(2, 2) * rays_.dz[i];
    const double t = -z / w;
    // Only before the ray ends, and only the first time.
    const bool reached = (t > 0) & (t <= rays_.distance[i] * (1 + 1e-5) + 1e-7) & (t < 1e12);
    const bool first = (rays_.crossed[i] & bit) == 0;
    const double along = reached ? t : 0.0;
    const double hx = px + along * rays_.dx[i], hy = py + along * rays_.dy[i], hz = pz + along * rays_.dz[i];
    // The place in the plane's own axes.
    crossing.x[i] = m(0, 0) * hx + m(0, 1) * hy + m(0, 2) * hz;
    crossing.y[i] = m(1, 0) * hx + m(1, 1) * hy + m(1, 2) * hz;
    crossing.at[i] = t;
    crossing.from_front[i] = w;
    const double weight = (reached & first & (w > 0)) ? rays_.weight[i] : 0.0;
    weight_[i] = weight;  // weightless points count nowhere
    sum += weight;
    rays_.crossed[i] |= (reached & (w > 0)) ? bit : 0;
  }
  if (sum > 0) ends.crossed(surface.owner, {rays_.n, crossing.x.data(), crossing.y.data(), nullptr, weight_.data()});
}

// Sorts the rays by what they met and lets each kind end, or arrive at the next mirror.
void Walk::settle(RayEnds& ends) {
  const std::size_t surfaces = context_.list.surfaces.size();
  // Often all meet one surface: nothing to sort then.
  int others = 0;
  for (int i = 0; i < rays_.n; ++i) others += rays_.surface[i] != rays_.surface[0] ? 1 : 0;
  if (rays_.n > 0 && others == 0 && rays_.surface[0] >= 0) {
    settle_surface(rays_.surface[0], nullptr, rays_.n, ends);
    return;
  }
  sort_by_surface(surfaces);
  const std::vector<int>& begin = bucket_begin_;
  // Rays that met nothing end here.
  double missed = 0;
  for (int i = 0; i < begin[1]; ++i) {
    missed += rays_.weight[order_[i]];
    if (steps_ != nullptr && rays_.lane[order_[i]] == watched_)
      note(StepKind::missed, -1, order_[i], Vector3::Zero(), Vector3::Zero());
  }
  if (missed > 0) ends.scored(context_.list.missed_slot, missed);
  for (std::size_t k = 0; k < surfaces; ++k) {
    if (begin[k + 2] > begin[k + 1])
      settle_surface(static_cast<int>(k), order_.data() + begin[k + 1], begin[k + 2] - begin[k + 1], ends);
  }
}

// The order of rays by what they met, each kind in its own order; those that met nothing come first.
void Walk::sort_by_surface(std::size_t surfaces) {
  std::vector<int>& begin = bucket_begin_;
  begin.assign(surfaces + 2, 0);
  if (surfaces <= few_surfaces) {
    // Few kinds: all rays are looked through once for each, without a branch.
    int place = 0;
    for (int kind = -1; kind < static_cast<int>(surfaces); ++kind) {
      int of_kind = 0;
#pragma omp simd reduction(+ : of_kind)
      for (int i = 0; i < rays_.n; ++i) of_kind += rays_.surface[i] == kind ? 1 : 0;
      begin[static_cast<std::size_t>(kind + 1)] = place;
      // Until all of this kind have their places; what is no such ray is overwritten by the next one that is.
      const int end = place + of_kind;
      for (int i = 0; place < end; ++i) {
        order_[place] = static_cast<std::uint32_t>(i);
        place += rays_.surface[i] == kind ? 1 : 0;
      }
    }
    begin[surfaces + 1] = place;
    return;
  }
  // Else a counting sort.
  for (int i = 0; i < rays_.n; ++i) ++begin[static_cast<std::size_t>(rays_.surface[i] + 2)];
  for (std::size_t k = 1; k < begin.size(); ++k) begin[k] += begin[k - 1];
  std::vector<int>& next = bucket_next_;
  next.assign(begin.begin(), begin.end());
  for (int i = 0; i < rays_.n; ++i)
    order_[next[static_cast<std::size_t>(rays_.surface[i] + 1)]++] = static_cast<std::uint32_t>(i);
}

void Walk::settle_surface(int index, const std::uint32_t* order, int count, RayEnds& ends) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  find_points(index, order, count);
  if (steps_ != nullptr) note_meetings(index, order, count);
  if (surface.is_mirror()) {
    arrive(index, order, count, ends);
  } else {
    on_wide_lanes<&Walk::land>(*this, index, order, count, ends);
  }
}

// Did the exact point agree with what the world found? Rounding may send a grazing ray past a surface, never far.
double Walk::lost_beyond(const Surface& surface, float distance) { return 0.05 * surface.reach() + 1e-5 * distance; }

// Light on a target: the front counts, the back has a line of its own.
inline void Walk::land(int index, const std::uint32_t* order, int count, RayEnds& ends) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  const double reach = lost_beyond(surface, 0);
  double front = 0, back = 0, lost = 0;
  const double* weights = rays_.weight.data();
  if (order != nullptr) {
    for (int i = 0; i < count; ++i) weight_[i] = rays_.weight[order[i]];
    weights = weight_.data();
  }
#pragma omp simd reduction(+ : front, back, lost)
  for (int i = 0; i < count; ++i) {
    const double weight = weights[i];
    // By differences, so that the three always add up to the weight.
    const double found = std::abs(met_.gap[i]) <= reach + 1e-5 * met_.at[i] ? weight : 0.0;
    const double on_front = met_.facing[i] < 0 ? found : 0.0;
    front += on_front;
    back += found - on_front;
    lost += weight - found;
    weight_[i] = on_front;  // weightless points count nowhere
  }
  if (back > 0) ends.scored(surface.back_slot, back);
  if (lost > 0) ends.scored(context_.list.lost_slot, lost);
  if (front <= 0) return;
  ends.scored(surface.front_slot, front);
  if (back + lost > 0) keep_finite(count);
  if (surface.counts()) ends.landed(index, {count, met_.x.data(), met_.y.data(), met_.z.data(), weight_.data()});
}

void Walk::keep_finite(int count) {
  for (int i = 0; i < count; ++i) {
    if (weight_[i] == 0) met_.x[i] = met_.y[i] = met_.z[i] = 0;
  }
}

// Light on a mirror: the back takes it, the front sends it on.
void Walk::arrive(int index, const std::uint32_t* order, int count, RayEnds& ends) {
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  double back = 0, lost = 0, bouncing = 0;
  const int begin = next_->n;
  for (int i = 0; i < count; ++i) {
    const std::size_t ray = order != nullptr ? order[i] : static_cast<std::size_t>(i);
    const double weight = rays_.weight[ray];
    if (!(std::abs(met_.gap[i]) <= lost_beyond(surface, rays_.distance[ray]))) {
      // The exact point is far from what the world found.
      lost += weight;
    } else if (!(met_.facing[i] < 0)) {
      // From behind: the back takes it.
      back += weight;
    } else if (rays_.bounces[ray] >= most_bounces) {
      bouncing += weight;
    } else if (weight > 0) {
      // From the front: it arrives, to be reflected in the next round.
      const std::size_t to = static_cast<std::size_t>(next_->n++);
      next_->x[to] = met_.x[i], next_->y[to] = met_.y[i], next_->z[to] = met_.z[i];
      next_->nx[to] = met_.nx[i], next_->ny[to] = met_.ny[i], next_->nz[to] = met_.nz[i];
      next_->dx[to] = met_.dx[i], next_->dy[to] = met_.dy[i], next_->dz[to] = met_.dz[i];
      next_->weight[to] = weight;
      next_->lane[to] = rays_.lane[ray];
      next_->bounces[to] = rays_.bounces[ray];
      next_->crossed[to] = rays_.crossed[ray];
    }
  }
  if (next_->n > begin) next_->groups.push_back({index, begin, next_->n});
  if (back > 0) ends.scored(surface.back_slot, back);
  if (lost > 0) ends.scored(context_.list.lost_slot, lost);
  if (bouncing > 0) ends.scored(context_.list.bouncing_slot, bouncing);
}

// The exact points, in double on the true surface, of rays that the world says meet this surface.
void Walk::find_points(int index, const std::uint32_t* order, int count) {
  const int plane = context_.plane_of[static_cast<std::size_t>(index)];
  if (plane >= 0) {
    on_wide_lanes<&Walk::take_from_plane>(*this, crossings_[static_cast<std::size_t>(plane)], order, count);
    return;
  }
  const Surface& surface = context_.list.surfaces[static_cast<std::size_t>(index)];
  if (order == nullptr) {
    std::copy_n(rays_.element.begin(), count, met_.element.begin());
    solve(surface,
          {rays_.ox.data(), rays_.oy.data(), rays_.oz.data(), rays_.dx.data(), rays_.dy.data(), rays_.dz.data(),
           rays_.distance.data()},
          count, met_);
    return;
  }
#pragma omp simd
  for (int i = 0; i < count; ++i) {
    const std::uint32_t ray = order[i];
    met_.x[i] = rays_.ox[ray], met_.y[i] = rays_.oy[ray], met_.z[i] = rays_.oz[ray];
    met_.dx[i] = rays_.dx[ray], met_.dy[i] = rays_.dy[ray], met_.dz[i] = rays_.dz[ray];
    met_.at[i] = rays_.distance[ray];
    met_.element[i] = rays_.element[ray];
  }
  solve(surface, {met_.x.data(), met_.y.data(), met_.z.data(), met_.dx.data(), met_.dy.data(), met_.dz.data(), met_.at.data()},
        count, met_);
}

// A disk, a rectangle or the base of a pot: cross_planes() has solved that already.
inline void Walk::take_from_plane(const Crossing& crossing, const std::uint32_t* order, int count) {
#pragma omp simd
  for (int i = 0; i < count; ++i) {
    const std::size_t ray = order != nullptr ? order[i] : static_cast<std::size_t>(i);
    met_.x[i] = crossing.x[ray], met_.y[i] = crossing.y[ray], met_.z[i] = 0;
    met_.gap[i] = crossing.at[ray] - static_cast<double>(rays_.distance[ray]);
    met_.at[i] = rays_.distance[ray];
    met_.facing[i] = -crossing.from_front[ray];
  }
}

}  // namespace dishwright
