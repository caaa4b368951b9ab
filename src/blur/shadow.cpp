// SPDX-License-Identifier: MIT
#include "blur/shadow.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

namespace dishwright {

namespace {

constexpr int probes = 24;  // along a line of u
constexpr int lines = 24;   // values of v that are looked at

}  // namespace

Shadow::Shadow(const Target& target, const Vector3& sun)
    : at_(target.pose.at),
      across_(target.pose.turn.col(0)),
      up_(target.pose.turn.col(1)),
      normal_(target.pose.turn.col(2)),
      sun_(sun) {
  bool seen = true;
  if (const auto* rectangle = std::get_if<RectangleTarget>(&target.shape)) {
    form_ = Form::rectangle;
    half_x_ = rectangle->width / 2, half_y_ = rectangle->length / 2;
  } else if (const auto* pot = std::get_if<PotTarget>(&target.shape)) {
    form_ = Form::cylinder;
    half_x_ = pot->width / 2, half_y_ = pot->height / 2;
    up_ = normal_;
    at_ += half_y_ * up_;
  } else if (const auto* tube = std::get_if<TubeTarget>(&target.shape)) {
    form_ = Form::cylinder;
    half_x_ = tube->width / 2, half_y_ = tube->length / 2;
  } else {
    if (std::holds_alternative<BallTarget>(target.shape)) form_ = Form::ball;
    half_x_ = half_y_ = std::visit([](const auto& s) { return s.width / 2; }, target.shape);
  }
  if (form_ == Form::disk || form_ == Form::rectangle) seen = std::abs(sun.dot(normal_)) > 1e-9;
  any_ = target.shades && half_x_ > 0 && seen;
  if (form_ == Form::cylinder) {  // across_: along the axis as the sun sees it
    const Vector3 axis = up_ - up_.dot(sun_) * sun_;
    across_ = axis.norm() > 1e-12 ? Vector3(axis.normalized()) : sun_.unitOrthogonal();
  }
}

// Where the way to the sun crosses the target's plane, as signed distances beyond its edges.
Shadow::Edges Shadow::edges(const Vector3& place) const {
  if (form_ == Form::cylinder || form_ == Form::ball) return body_edges(place);
  const Vector3 apart = place - at_;
  const double along = -apart.dot(normal_) / sun_.dot(normal_);
  const Vector3 crossing = apart + along * sun_;
  const double x = crossing.dot(across_), y = crossing.dot(up_);
  if (form_ == Form::disk) return {{std::hypot(x, y) - half_x_, -along, -along, -along}};
  return {{std::abs(x) - half_x_, std::abs(y) - half_y_, -along, -along}};
}

// Seen along the sun's central ray a closed cylinder is two ellipses and all between them.
Shadow::Edges Shadow::body_edges(const Vector3& place) const {
  const Vector3 apart = place - at_;
  const double behind = apart.dot(sun_);
  if (form_ == Form::ball) return {{(apart - behind * sun_).norm() - half_x_, behind, behind, behind}};
  const double x = apart.dot(across_), y = apart.dot(sun_.cross(across_)), lean = up_.dot(sun_);
  const double part = std::min(1.0, std::abs(y) / half_x_);
  const double long_half =
      half_y_ * std::sqrt(std::max(0.0, 1 - lean * lean)) + half_x_ * std::abs(lean) * std::sqrt(1 - part * part);
  return {{std::abs(x) - long_half, std::abs(y) - half_x_, behind, behind}};
}

// False position with the stale end's value halved (Illinois); falls back on the middle where an edge is only touched.
double Shadow::root(const MirrorPatch& patch, double v, int edge, double from, double to) const {
  const auto value = [&](double u) { return edges(patch.at(u, v).place).sign[edge]; };
  double low = value(from), high = value(to);
  for (int step = 0; step < 60 && to - from > 1e-11; ++step) {
    double next = (from * high - to * low) / (high - low);
    if (!(next > from && next < to) || step > 20) next = (from + to) / 2;
    const double now = value(next);
    if (std::abs(now) < 1e-12 * half_x_) return next;
    if ((now < 0) == (low < 0)) {
      from = next, low = now, high /= 2;
    } else {
      to = next, high = now, low /= 2;
    }
  }
  return (from + to) / 2;
}

std::vector<Shadow::Stretch> Shadow::lit(const MirrorPatch& patch, double v) const {
  if (!any_) return {{0, 1}};
  std::array<Edges, probes + 1> at{};
  for (int k = 0; k <= probes; ++k) at[static_cast<std::size_t>(k)] = edges(patch.at(static_cast<double>(k) / probes, v).place);
  const auto sign = [&at](int k, int edge) { return at[static_cast<std::size_t>(k)].sign[edge]; };
  std::vector<double> breaks = {0};
  for (int edge = 0; edge < edge_count; ++edge) {
    for (int k = 0; k < probes; ++k) {
      const double low = static_cast<double>(k) / probes, high = static_cast<double>(k + 1) / probes;
      if ((sign(k, edge) < 0) != (sign(k + 1, edge) < 0)) {
        breaks.push_back(root(patch, v, edge, low, high));
      } else if (k > 0 && sign(k, edge) > 0 && sign(k, edge) <= sign(k - 1, edge) && sign(k, edge) <= sign(k + 1, edge)) {
        // A dip between probes: a shadow narrower than their distance. Its lowest point by golden section.
        double a = static_cast<double>(k - 1) / probes, b = high;
        for (int step = 0; step < 24; ++step) {
          const double p = a + 0.382 * (b - a), q = b - 0.382 * (b - a);
          const bool left = edges(patch.at(p, v).place).sign[edge] < edges(patch.at(q, v).place).sign[edge];
          (left ? b : a) = left ? q : p;
        }
        const double dip = (a + b) / 2;
        if (edges(patch.at(dip, v).place).sign[edge] >= 0) continue;
        breaks.push_back(root(patch, v, edge, static_cast<double>(k - 1) / probes, dip));
        breaks.push_back(root(patch, v, edge, dip, high));
      }
    }
  }
  breaks.push_back(1);
  std::sort(breaks.begin(), breaks.end());
  std::vector<Stretch> stretches;
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    if (breaks[i + 1] - breaks[i] < 1e-9) continue;
    const Edges middle = edges(patch.at((breaks[i] + breaks[i + 1]) / 2, v).place);
    const bool shaded = std::all_of(middle.sign, middle.sign + edge_count, [](double s) { return s < 0; });
    if (shaded) continue;
    if (!stretches.empty() && stretches.back().to == breaks[i]) {
      stretches.back().to = breaks[i + 1];
    } else {
      stretches.push_back({breaks[i], breaks[i + 1]});
    }
  }
  return stretches;
}

std::vector<double> Shadow::changes(const MirrorPatch& patch) const {
  if (!any_) return {};
  // What a line looks like: how many lit stretches, and whether they reach its ends.
  const auto look = [&](double v) {
    const std::vector<Stretch> stretches = lit(patch, v);
    if (stretches.empty()) return 0;
    return static_cast<int>(stretches.size()) * 4 + (stretches.front().from > 0 ? 2 : 0) + (stretches.back().to < 1 ? 1 : 0);
  };
  std::vector<double> changes;
  int before = look(0);
  for (int k = 1; k <= lines; ++k) {
    const int now = look(static_cast<double>(k) / lines);
    if (now != before) {
      double from = static_cast<double>(k - 1) / lines, to = static_cast<double>(k) / lines;
      for (int step = 0; step < 34; ++step) {
        const double middle = (from + to) / 2;
        (look(middle) == before ? from : to) = middle;
      }
      changes.push_back((from + to) / 2);
    }
    before = now;
  }
  return changes;
}

}  // namespace dishwright
