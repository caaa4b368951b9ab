// SPDX-License-Identifier: MIT
#include "trace/walk.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/lanes.h"

namespace dishwright {

namespace {

int needed_dimensions(const Scene& scene) {
  int dimensions = 4;
  for (const Reflector& reflector : scene.reflectors) {
    if (reflector.slope_error > 0) dimensions = std::max(dimensions, 6);
    if (reflector.specular_spread > 0) dimensions = draw_count;
  }
  return dimensions;
}

double sum_of(const double* values, int n) {
  double sum = 0;
  for (int i = 0; i < n; ++i) sum += values[i];
  return sum;
}

}  // namespace

Stage::Stage(const Scene& scene_in)
    : scene(scene_in), list(make_pieces(scene)), world(list), emission(scene, list, world), dimensions(needed_dimensions(scene)) {
  for (const Reflector& reflector : scene.reflectors) has_flat = has_flat || std::holds_alternative<Flat>(reflector.shape);
  for (std::size_t k = 0; k < list.pieces.size(); ++k) {
    const PieceKind kind = list.pieces[k].kind;
    if (kind == PieceKind::disk || kind == PieceKind::rectangle) planes.push_back(static_cast<int>(k));
  }
}

void Walk::block(std::uint64_t seed, std::uint32_t replicate, std::uint32_t first, int n, RayEnds& ends) {
  seed_ = seed, replicate_ = replicate, first_ = first;
  ends.begin(replicate);
  SobolReplicate(seed, replicate).fill(first, stage_.dimensions, draws_);
  stage_.emission.start(n, draws_, *arrivals_);
  ends.started(arrivals_->n);
  come_in(ends);
  while (arrivals_->n > 0) {
    reflect_all(ends);
    stage_.world.nearest(Among::everything, rays_, std::numeric_limits<float>::infinity());
    cross_planes(ends);
    next_->clear();
    settle(ends);
    std::swap(arrivals_, next_);
  }
}

// On the way in: what stands between the sun and the drawn point? Shading targets; and other mirrors' edges where mirrors overlap.
void Walk::come_in(RayEnds& ends) {
  if (steps_ != nullptr) note_start();
  const bool mirrors_too = !stage_.emission.every_point_counts();
  const Among among = mirrors_too ? Among::way_in : Among::shades;
  if (!stage_.world.empty(among)) shade(among, ends);
  if (mirrors_too || stage_.has_flat) keep_fronts(ends);
}

// Light that the sun's centre sends onto the back of a mirror ends there.
void Walk::keep_fronts(RayEnds& ends) {
  const std::vector<Arrivals::Group> groups = arrivals_->groups;
  arrivals_->clear();
  for (const Arrivals::Group& group : groups) {
    const Piece& piece = stage_.list.pieces[static_cast<std::size_t>(group.piece)];
    const Quadric<double>& q = piece.quadric;
    double back = 0;
    const int begin = arrivals_->n;
    for (int i = group.begin; i < group.end; ++i) {
      const std::size_t from = static_cast<std::size_t>(i);
      const double facing =
          piece.front_sign * (q.a * arrivals_->x[from] * arrivals_->dx[from] + q.b * arrivals_->y[from] * arrivals_->dy[from] +
                              (q.c * arrivals_->z[from] - q.d) * arrivals_->dz[from]);
      if (facing >= 0) {
        back += arrivals_->weight[from];
        if (steps_ != nullptr && arrivals_->lane[from] == watched_) note_back(group.piece, from);
        continue;
      }
      arrivals_->take(*arrivals_, from, static_cast<std::size_t>(arrivals_->n++));
    }
    if (back > 0) ends.booked(piece.back_slot, back);
    if (arrivals_->n > begin) arrivals_->groups.push_back({group.piece, begin, arrivals_->n});
  }
}

// Rays from beyond the scene down to the drawn points, in the frame.
void Walk::aim_from_sun(double away) {
  rays_.n = arrivals_->n;
  for (const Arrivals::Group& group : arrivals_->groups) {
    const Pose& pose = stage_.list.pieces[static_cast<std::size_t>(group.piece)].pose;
    const Matrix3 m = pose.turn;
    const Vector3 at = pose.at;
    const Arrivals& from = *arrivals_;
#pragma omp simd
    for (int i = group.begin; i < group.end; ++i) {
      const double px = from.x[i] - away * from.dx[i], py = from.y[i] - away * from.dy[i], pz = from.z[i] - away * from.dz[i];
      rays_.ox[i] = m(0, 0) * px + m(0, 1) * py + m(0, 2) * pz + at.x();
      rays_.oy[i] = m(1, 0) * px + m(1, 1) * py + m(1, 2) * pz + at.y();
      rays_.oz[i] = m(2, 0) * px + m(2, 1) * py + m(2, 2) * pz + at.z();
      rays_.dx[i] = m(0, 0) * from.dx[i] + m(0, 1) * from.dy[i] + m(0, 2) * from.dz[i];
      rays_.dy[i] = m(1, 0) * from.dx[i] + m(1, 1) * from.dy[i] + m(1, 2) * from.dz[i];
      rays_.dz[i] = m(2, 0) * from.dx[i] + m(2, 1) * from.dy[i] + m(2, 2) * from.dz[i];
      rays_.start_gap[i] = 0;
    }
  }
}

// What was caught on its way in leaves the arrivals: shading targets book it, mirrors met first (where mirrors overlap) take it over.
void Walk::shade(Among among, RayEnds& ends) {
  const double away = 2 * stage_.world.reach() + 1;
  aim_from_sun(away);
  stage_.world.nearest(among, rays_, static_cast<float>(away));
  std::array<double, 64> shaded{};
  int diverted = 0, caught = 0;
  for (const Arrivals::Group& group : arrivals_->groups) {
    // Only what is clearly before the drawn point: its own mirror lies at `away`, give or take rounding.
    const float clear = static_cast<float>(away) - 4 * stage_.world.start_gap(group.piece) - static_cast<float>(away) * 4e-7F;
    for (int i = group.begin; i < group.end; ++i) {
      const std::size_t k = static_cast<std::size_t>(i);
      if (rays_.piece[k] < 0 || rays_.distance[k] >= clear) continue;
      const int hit = rays_.piece[k];
      ++caught;
      if (hit >= stage_.list.reflector_count) {
        shaded[static_cast<std::size_t>(stage_.list.pieces[static_cast<std::size_t>(hit)].owner)] += arrivals_->weight[k];
        if (steps_ != nullptr && arrivals_->lane[k] == watched_) note(StepKind::shaded, hit, k, Vector3::Zero());
      } else {
        divert(k, static_cast<std::size_t>(diverted++));
      }
      arrivals_->weight[k] = 0;
    }
  }
  for (std::size_t k = 0; k < stage_.list.shaded_slot.size(); ++k) {
    if (shaded[k] > 0) ends.booked(stage_.list.shaded_slot[k], shaded[k]);
  }
  // A few weightless paths may go on, they change nothing; many are taken out.
  if (caught * 8 > arrivals_->n || diverted > 0 || (steps_ != nullptr && caught > 0)) {
    next_->clear();
    drop_weightless();
    rays_.n = diverted;
    if (diverted > 0) settle(ends);
    std::swap(arrivals_, next_);
  }
}

// Puts a ray of the way in, which met another mirror first, among those that settle() lets arrive there.
void Walk::divert(std::size_t from, std::size_t to) {
  rays_.ox[to] = rays_.ox[from], rays_.oy[to] = rays_.oy[from], rays_.oz[to] = rays_.oz[from];
  rays_.dx[to] = rays_.dx[from], rays_.dy[to] = rays_.dy[from], rays_.dz[to] = rays_.dz[from];
  rays_.piece[to] = rays_.piece[from], rays_.distance[to] = rays_.distance[from];
  rays_.weight[to] = arrivals_->weight[from], rays_.lane[to] = arrivals_->lane[from];
  rays_.bounces[to] = 0, rays_.crossed[to] = 0;
}

void Walk::drop_weightless() {
  for (const Arrivals::Group& group : arrivals_->groups) {
    const int begin = next_->n;
    for (int i = group.begin; i < group.end; ++i) {
      const std::size_t k = static_cast<std::size_t>(i);
      if (arrivals_->weight[k] > 0) next_->take(*arrivals_, k, static_cast<std::size_t>(next_->n++));
    }
    if (next_->n > begin) next_->groups.push_back({group.piece, begin, next_->n});
  }
}

void Walk::draw_normals(const Arrivals::Group& group) {
  const int count = group.end - group.begin;
  const int padded = (count + 15) / 16 * 16;
  const HashedDraws hashed(seed_, replicate_);
  Lane<float> u[4] = {};
  for (int i = 0; i < padded; ++i) {
    const std::size_t k = static_cast<std::size_t>(group.begin + std::min(i, count - 1));
    const std::uint32_t lane = arrivals_->lane[k];
    const int bounce = arrivals_->bounces[k];
    for (int j = 0; j < stage_.dimensions - 4; ++j) {
      const Draw purpose = static_cast<Draw>(j + 4);
      u[j][i] = bounce == 0 ? draws_[static_cast<std::size_t>(j + 4)][lane] : hashed.at(first_ + lane, bounce, purpose);
    }
  }
  Lane<float> radius, sine, cosine;
  const auto make = [&](const Lane<float>& u_radius, const Lane<float>& u_turn, Lane<float>& a, Lane<float>& b) {
    normal_radius(u_radius.data(), radius.data(), padded);
    sincos_of_turns(u_turn.data(), sine.data(), cosine.data(), padded);
    for (int i = 0; i < padded; ++i) a[i] = radius[i] * cosine[i], b[i] = radius[i] * sine[i];
  };
  if (stage_.dimensions > 4) make(u[0], u[1], mirror_draws_.slope_a, mirror_draws_.slope_b);
  if (stage_.dimensions > 6) make(u[2], u[3], mirror_draws_.spread_a, mirror_draws_.spread_b);
}

void Walk::reflect_all(RayEnds& ends) {
  rays_.n = 0;
  for (const Arrivals::Group& group : arrivals_->groups) {
    const Piece& piece = stage_.list.pieces[static_cast<std::size_t>(group.piece)];
    if (stage_.dimensions > 4) draw_normals(group);
    const int first_ray = rays_.n;
    const double absorbed =
        reflect(stage_.scene.reflectors[static_cast<std::size_t>(piece.owner)], piece, *arrivals_, group.begin, group.end,
                mirror_draws_, stage_.world.start_gap(group.piece), rays_, steps_ != nullptr ? &normals_ : nullptr);
    ends.booked(stage_.list.absorbed_slot[static_cast<std::size_t>(piece.owner)], absorbed);
    double first_time = 0;
    for (int i = first_ray; i < rays_.n; ++i) first_time += rays_.bounces[i] == 1 ? rays_.weight[i] : 0.0;
    ends.left_mirrors(first_time);
    if (steps_ != nullptr) note_reflections(first_ray, group);
  }
}

// Light on the unbounded planes of disks and rectangles, at each path's first crossing, if it comes from the front.
void Walk::cross_planes(RayEnds& ends) {
  for (const int index : stage_.planes) {
    const Piece& piece = stage_.list.pieces[static_cast<std::size_t>(index)];
    const std::uint64_t bit = std::uint64_t{1} << static_cast<unsigned>(piece.owner);
    const Matrix3 m = piece.pose.turn.transpose();
    const Vector3 at = piece.pose.at;
    Lane<double> along;
#pragma omp simd
    for (int i = 0; i < rays_.n; ++i) {
      const double px = rays_.ox[i] - at.x(), py = rays_.oy[i] - at.y(), pz = rays_.oz[i] - at.z();
      const double z = m(2, 0) * px + m(2, 1) * py + m(2, 2) * pz;
      const double w = m(2, 0) * rays_.dx[i] + m(2, 1) * rays_.dy[i] + m(2, 2) * rays_.dz[i];
      const double t = -z / w;
      const bool reached = (t > 0) & (t <= rays_.distance[i] * (1 + 1e-5) + 1e-7) & (t < 1e12);
      along[i] = reached ? std::copysign(t, w) : 0.0;  // negative: from the back
    }
    int count = 0;
    for (int i = 0; i < rays_.n; ++i) {
      if (along[i] == 0 || (rays_.crossed[i] & bit) != 0) continue;
      rays_.crossed[i] |= bit;
      if (along[i] < 0 || rays_.weight[i] == 0) continue;
      const double px = rays_.ox[i] - at.x() + along[i] * rays_.dx[i], py = rays_.oy[i] - at.y() + along[i] * rays_.dy[i],
                   pz = rays_.oz[i] - at.z() + along[i] * rays_.dz[i];
      x_[count] = m(0, 0) * px + m(0, 1) * py + m(0, 2) * pz;
      y_[count] = m(1, 0) * px + m(1, 1) * py + m(1, 2) * pz;
      weight_[count++] = rays_.weight[i];
    }
    if (count > 0) ends.crossed(piece.owner, {count, x_.data(), y_.data(), nullptr, weight_.data()});
  }
}

// Sorts the rays by what they met and lets each kind end, or arrive at the next mirror.
void Walk::settle(RayEnds& ends) {
  const std::size_t pieces = stage_.list.pieces.size();
  std::vector<int>& begin = bucket_begin_;
  begin.assign(pieces + 2, 0);
  for (int i = 0; i < rays_.n; ++i) ++begin[static_cast<std::size_t>(rays_.piece[i] + 2)];  // −1 (missed) comes first
  for (std::size_t k = 1; k < begin.size(); ++k) begin[k] += begin[k - 1];
  std::vector<int>& next = bucket_next_;
  next.assign(begin.begin(), begin.end());
  for (int i = 0; i < rays_.n; ++i) order_[next[static_cast<std::size_t>(rays_.piece[i] + 1)]++] = static_cast<std::uint32_t>(i);
  double missed = 0;
  for (int i = 0; i < begin[1]; ++i) {
    missed += rays_.weight[order_[i]];
    if (steps_ != nullptr && rays_.lane[order_[i]] == watched_) note(StepKind::missed, -1, order_[i], Vector3::Zero());
  }
  if (missed > 0) ends.booked(stage_.list.missed_slot, missed);
  for (std::size_t k = 0; k < pieces; ++k) {
    if (begin[k + 2] > begin[k + 1])
      settle_piece(static_cast<int>(k), order_.data() + begin[k + 1], begin[k + 2] - begin[k + 1], ends);
  }
}

void Walk::settle_piece(int index, const std::uint32_t* order, int count, RayEnds& ends) {
  const Piece& piece = stage_.list.pieces[static_cast<std::size_t>(index)];
  find_points(piece, order, count);
  // Which side, and did the exact point agree with what the world found?
  const bool mirror = piece.kind == PieceKind::mirror;
  double back = 0, lost = 0, bouncing = 0;
  int landed = 0;
  const int begin = next_->n;
  for (int i = 0; i < count; ++i) {
    const std::size_t ray = order[i];
    const double weight = rays_.weight[ray];
    if (!(std::abs(gap_[i]) <= 0.05 * piece.reach() + 1e-5 * rays_.distance[ray])) {
      lost += weight;
      continue;
    }
    const bool front = facing_[i] < 0;
    const bool watched = steps_ != nullptr && rays_.lane[ray] == watched_;
    const Vector3 own(x_[i], y_[i], z_[i]);
    if (!front) {
      back += weight;
      if (watched) note(StepKind::back, index, ray, own);
    } else if (!mirror) {
      if (watched) note(piece.kind == PieceKind::pot_lid ? StepKind::lid : StepKind::target, index, ray, own);
      x_[landed] = x_[i], y_[landed] = y_[i], z_[landed] = z_[i];
      weight_[landed++] = weight;
    } else if (rays_.bounces[ray] >= most_bounces) {
      bouncing += weight;
    } else if (weight > 0) {
      const std::size_t to = static_cast<std::size_t>(next_->n++);
      next_->x[to] = x_[i], next_->y[to] = y_[i], next_->z[to] = z_[i];
      next_->dx[to] = own_dx_[i], next_->dy[to] = own_dy_[i], next_->dz[to] = own_dz_[i];
      next_->weight[to] = weight;
      next_->lane[to] = rays_.lane[ray];
      next_->bounces[to] = rays_.bounces[ray];
      next_->crossed[to] = rays_.crossed[ray];
    }
  }
  if (next_->n > begin) next_->groups.push_back({index, begin, next_->n});
  if (back > 0) ends.booked(piece.back_slot, back);
  if (lost > 0) ends.booked(stage_.list.lost_slot, lost);
  if (bouncing > 0) ends.booked(stage_.list.bouncing_slot, bouncing);
  if (landed == 0) return;
  ends.booked(piece.front_slot, sum_of(weight_.data(), landed));
  if (piece.kind != PieceKind::pot_lid) ends.landed(index, {landed, x_.data(), y_.data(), z_.data(), weight_.data()});
}

// The exact points, in double on the true surface, of rays that the world says meet this piece.
void Walk::find_points(const Piece& piece, const std::uint32_t* order, int count) {
  const Matrix3 m = piece.pose.turn.transpose();
  const Vector3 at = piece.pose.at;
  const Quadric<double> q = piece.quadric;
  const double sign = piece.front_sign;
#pragma omp simd
  for (int i = 0; i < count; ++i) {
    const std::uint32_t ray = order[i];
    const double px = rays_.ox[ray] - at.x(), py = rays_.oy[ray] - at.y(), pz = rays_.oz[ray] - at.z();
    x_[i] = px, y_[i] = py, z_[i] = pz;
    own_dx_[i] = rays_.dx[ray], own_dy_[i] = rays_.dy[ray], own_dz_[i] = rays_.dz[ray];
    gap_[i] = static_cast<double>(rays_.distance[ray]);
  }
#pragma omp simd
  for (int i = 0; i < count; ++i) {
    const double x = m(0, 0) * x_[i] + m(0, 1) * y_[i] + m(0, 2) * z_[i];
    const double y = m(1, 0) * x_[i] + m(1, 1) * y_[i] + m(1, 2) * z_[i];
    const double z = m(2, 0) * x_[i] + m(2, 1) * y_[i] + m(2, 2) * z_[i];
    const double u = m(0, 0) * own_dx_[i] + m(0, 1) * own_dy_[i] + m(0, 2) * own_dz_[i];
    const double v = m(1, 0) * own_dx_[i] + m(1, 1) * own_dy_[i] + m(1, 2) * own_dz_[i];
    const double w = m(2, 0) * own_dx_[i] + m(2, 1) * own_dy_[i] + m(2, 2) * own_dz_[i];
    const double best = root_near(ray_equation(q, x, y, z, u, v, w), gap_[i]);
    gap_[i] = best - gap_[i];
    const double hx = x + best * u, hy = y + best * v, hz = z + best * w;
    x_[i] = hx, y_[i] = hy, z_[i] = hz;
    own_dx_[i] = u, own_dy_[i] = v, own_dz_[i] = w;
    facing_[i] = sign * (q.a * hx * u + q.b * hy * v + (q.c * hz - q.d) * w);
  }
}

}  // namespace dishwright
