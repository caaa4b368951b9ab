// SPDX-License-Identifier: MIT
#include "quadrature/shadow.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

namespace dishwright {

namespace {

constexpr int lines = 36;           // values of v that are looked at
constexpr double least = 1e-9;      // a stretch or a strip this short is none
constexpr double round_lean = 0.3;  // cosine of a cylinder's axis with the sun, from which on its ends look round; chosen

/// Place of the least value of a function with one dip between a and b, by golden section.
template <typename Value>
double lowest(double a, double b, int steps, const Value& value) {
  constexpr double golden = 0.381966;
  double p = a + golden * (b - a), q = b - golden * (b - a), at_p = value(p), at_q = value(q);
  for (int step = 0; step < steps; ++step) {
    if (at_p < at_q) {
      b = q, q = p, at_q = at_p;
      p = a + golden * (b - a), at_p = value(p);
    } else {
      a = p, p = q, at_p = at_q;
      q = b - golden * (b - a), at_q = value(q);
    }
  }
  return at_p < at_q ? p : q;
}

}  // namespace

Shadow::Shadow(const Target& target, const Vector3& sun)
    : at_(target.pose.at),
      across_(target.pose.turn.col(0)),
      up_(target.pose.turn.col(1)),
      normal_(target.pose.turn.col(2)),
      sun_(sun) {
  bool seen = true;
  const TargetBody body = body_of(target.shape);
  if (body.is_point()) return;
  const TargetFace& face = body.faces()[0];
  switch (face.form) {
    case FaceForm::rectangle:
      form_ = Form::rectangle;
      half_x_ = face.half_x, half_y_ = face.half_y;
      break;
    case FaceForm::upright:
      form_ = Form::cylinder;
      half_x_ = face.radius, half_y_ = (face.to - face.from) / 2;
      up_ = normal_;
      at_ += half_y_ * up_;
      break;
    case FaceForm::lying:
      form_ = Form::cylinder;
      half_x_ = face.radius, half_y_ = (face.to - face.from) / 2;
      break;
    case FaceForm::disc:
    case FaceForm::ball:
      form_ = face.form == FaceForm::ball ? Form::ball : Form::disk;
      half_x_ = half_y_ = face.radius;
      break;
  }
  if (form_ == Form::disk || form_ == Form::rectangle) seen = std::abs(sun.dot(normal_)) > 1e-9;
  any_ = target.shades && half_x_ > 0 && seen;
  if (form_ == Form::cylinder) {  // across_: along the axis as the sun sees it
    const Vector3 axis = up_ - up_.dot(sun_) * sun_;
    across_ = axis.norm() > 1e-12 ? Vector3(axis.normalized()) : sun_.unitOrthogonal();
    lean_ = up_.dot(sun_), aside_ = sun_.cross(across_);
    long_half_ = half_y_ * std::sqrt(std::max(0.0, 1 - lean_ * lean_));
    round_ends_ = std::abs(lean_) > round_lean;
  }
}

// Where the way to the sun crosses the target's plane, as signed distances beyond its edges.
Shadow::Edges Shadow::edges(const Vector3& place) const {
  if (form_ == Form::cylinder || form_ == Form::ball) return body_edges(place);
  const Vector3 apart = place - at_;
  const double along = -apart.dot(normal_) / sun_.dot(normal_);
  const Vector3 crossing = apart + along * sun_;
  const double x = crossing.dot(across_), y = crossing.dot(up_);
  if (form_ == Form::disk) return {{std::sqrt(x * x + y * y) - half_x_, -along, -along}};
  return {{std::abs(x) - half_x_, std::abs(y) - half_y_, -along}};
}

// Seen along the sun's central ray a closed cylinder is two ellipses and all between them.
Shadow::Edges Shadow::body_edges(const Vector3& place) const {
  const Vector3 apart = place - at_;
  const double behind = apart.dot(sun_);
  if (form_ == Form::ball) return {{(apart - behind * sun_).norm() - half_x_, behind, behind}};
  const double x = apart.dot(across_), y = apart.dot(aside_), part = std::min(1.0, std::abs(y) / half_x_);
  const double long_half = long_half_ + half_x_ * std::abs(lean_) * std::sqrt(1 - part * part);
  return {{std::abs(x) - long_half, std::abs(y) - half_x_, behind}};
}

Shadow::Outside Shadow::beyond(const Vector3& place) const {
  const Edges at = edges(place);
  const double* most = std::max_element(at.sign, at.sign + edge_count);
  const int edge = static_cast<int>(most - at.sign);
  return {*most, round_ends_ && edge == 1 ? 0 : edge};
}

// False position with the stale end's value halved (Illinois); falls back on the middle where an edge is only touched.
Shadow::Stretch Shadow::root(const MirrorPatch& patch, double v, double from, double to, double fine) const {
  double low = outside(patch, from, v), high = outside(patch, to, v);
  Outside at;
  for (int step = 0; step < 60 && to - from > 1e-11; ++step) {
    double next = (from * high - to * low) / (high - low);
    if (!(next > from && next < to) || step > 20) next = (from + to) / 2;
    at = beyond(patch.at(next, v).place);
    if (std::abs(at.by) < fine * half_x_) return {next, next, at.edge, at.edge};
    if ((at.by < 0) == (low < 0)) {
      from = next, low = at.by, high /= 2;
    } else {
      to = next, high = at.by, low /= 2;
    }
  }
  const double middle = (from + to) / 2;
  return {middle, middle, at.edge, at.edge};
}

Shadow::Line Shadow::line(const Vector3* places, double v) const {
  Line out;
  out.v = v;
  for (std::size_t k = 0; k < out.at.size(); ++k) out.at[k] = beyond(places[k]).by;
  out.nearest = *std::min_element(out.at.begin(), out.at.end());
  return out;
}

Shadow::Line Shadow::line(const MirrorPatch& patch, double v) const {
  std::array<Vector3, probes + 1> places;
  for (int k = 0; k <= probes; ++k) places[static_cast<std::size_t>(k)] = patch.at(static_cast<double>(k) / probes, v).place;
  return line(places.data(), v);
}

Shadow::Places Shadow::places(const MirrorPatch& patch) {
  Places out;
  for (int i = 0; i <= lines; ++i) {
    for (int k = 0; k <= probes; ++k)
      out.push_back(patch.at(static_cast<double>(k) / probes, static_cast<double>(i) / lines).place);
  }
  return out;
}

// Where the line goes into the shadow or out of it, as empty stretches, sorted.
std::vector<Shadow::Stretch> Shadow::breaks(const MirrorPatch& patch, const Line& line, double fine) const {
  const double v = line.v;
  const auto u_of = [](int k) { return static_cast<double>(k) / probes; };
  const auto by = [&line](int k) { return line.at[static_cast<std::size_t>(k)]; };
  std::vector<Stretch> out;
  for (int k = 0; k < probes; ++k) {
    if ((by(k) < 0) != (by(k + 1) < 0)) {
      out.push_back(root(patch, v, u_of(k), u_of(k + 1), fine));
    } else if (k > 0 && by(k) > 0 && by(k) <= by(k - 1) && by(k) <= by(k + 1)) {
      // A dip between probes: a shadow narrower than their distance.
      const double dip = lowest(u_of(k - 1), u_of(k + 1), 24, [&](double u) { return outside(patch, u, v); });
      if (outside(patch, dip, v) >= 0) continue;
      out.push_back(root(patch, v, u_of(k - 1), dip, fine));
      out.push_back(root(patch, v, dip, u_of(k + 1), fine));
    }
  }
  std::sort(out.begin(), out.end(), [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
  return out;
}

std::vector<Shadow::Stretch> Shadow::lit(const MirrorPatch& patch, const Line& line, double fine) const {
  std::vector<Stretch> ends = breaks(patch, line, fine);
  ends.insert(ends.begin(), {0, 0, -1, -1});
  ends.push_back({1, 1, -1, -1});
  std::vector<Stretch> stretches;
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    const double from = ends[i].to, to = ends[i + 1].from;
    if (to - from < least || outside(patch, (from + to) / 2, line.v) < 0) continue;
    if (!stretches.empty() && stretches.back().to == from) {
      stretches.back().to = to, stretches.back().to_edge = ends[i + 1].to_edge;
    } else {
      stretches.push_back({from, to, ends[i].to_edge, ends[i + 1].from_edge});
    }
  }
  return stretches;
}

// Even ones, and one through each dip of the distance from the shadow.
std::vector<Shadow::Line> Shadow::lines_to_look_at(const MirrorPatch& patch, const Places& places) const {
  std::vector<Line> even, out;
  const auto v_of = [](int k) { return static_cast<double>(k) / lines; };
  for (int k = 0; k <= lines; ++k) even.push_back(line(&places[static_cast<std::size_t>(k * (probes + 1))], v_of(k)));
  const auto by = [&even](int k) { return even[static_cast<std::size_t>(k)].nearest; };
  for (int k = 0; k <= lines; ++k) {
    out.push_back(even[static_cast<std::size_t>(k)]);
    const bool falls = k == 0 || by(k) <= by(k - 1), rises = k == lines || by(k) <= by(k + 1);
    if (!(by(k) > 0 && falls && rises)) continue;
    // The first and the last line have one side each; of a closed mirror they are one line, and both sides are looked at.
    const double dip =
        lowest(v_of(std::max(k - 1, 0)), v_of(std::min(k + 1, lines)), 12, [&](double v) { return line(patch, v).nearest; });
    out.push_back(line(patch, dip));
  }
  std::sort(out.begin(), out.end(), [](const Line& a, const Line& b) { return a.v < b.v; });
  return out;
}

std::vector<double> Shadow::changes(const MirrorPatch& patch, const Places& places) const {
  if (!any_) return {};
  // What a line looks like: its lit stretches by the edges that end them.
  const auto look = [&](const Line& line) {
    std::vector<int> ends;
    for (const Stretch& stretch : lit(patch, line, rough)) ends.push_back(stretch.from_edge), ends.push_back(stretch.to_edge);
    return ends;
  };
  std::vector<double> changes;
  const std::vector<Line> at = lines_to_look_at(patch, places);
  std::vector<int> before = look(at[0]);
  for (std::size_t k = 1; k < at.size(); ++k) {
    const std::vector<int> now = look(at[k]);
    // There may be several between two lines; each is the end of what was before it.
    double from = at[k - 1].v;
    for (int several = 0; several < 4 && before != now; ++several) {
      double to = at[k].v;
      for (int step = 0; step < 40 && to - from > 1e-11; ++step) {
        const double middle = (from + to) / 2;
        (look(line(patch, middle)) == before ? from : to) = middle;
      }
      changes.push_back((from + to) / 2);
      from = to, before = look(line(patch, to));
    }
    before = now;
  }
  return changes;
}

}  // namespace dishwright
