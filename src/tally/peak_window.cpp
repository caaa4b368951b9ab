// SPDX-License-Identifier: MIT
#include "tally/peak_window.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "base/sobol.h"
#include "tally/weighted_place.h"

namespace dishwright {

namespace {

constexpr double least_disc = 1e-7;     // light in a point has no finite peak [m]
constexpr double window_discs = 6;      // the window reaches at least this far, in discs
constexpr double window_spreads = 2.1;  // and this far, in median distances of the light along the axis
constexpr double widest_angle = 0.85;   // sine of the angle to which a window goes round a body
constexpr double boxes = 3;             // to the window's half width, where the pilot looks for its middle

bool on_base(const TargetShape& shape, const Vector3& place) { return !(place.z() > base_slack * target_width(shape)); }

/// The counted face that a place of the target lies on; of a solid its wall or its base.
TargetFace face_at(const TargetShape& shape, const Vector3& place) {
  const TargetBody body = body_of(shape);
  for (const TargetFace& face : body.faces()) {
    if (face.counts && body.faces().size() > 1 && face.flat() == on_base(shape, place)) return face;
  }
  return body.faces()[0];
}

/// The face that a window lies on.
TargetFace face_of(const TargetShape& shape, const PeakWindow& window) {
  const TargetBody body = body_of(shape);
  for (const TargetFace& face : body.faces()) {
    if (face.counts && face.flat() == !(window.radius > 0)) return face;
  }
  return body.faces()[0];
}

/// Median distance from the median along one axis.
double median_spread(const std::vector<LitPlace>& light, int axis) {
  const auto median = [](std::vector<std::pair<double, double>>& values) {
    double total = 0;
    for (const auto& [value, weight] : values) total += weight;
    return place_of_weight(values, 0, 0, total / 2).value;
  };
  std::vector<std::pair<double, double>> values;
  values.reserve(light.size());
  for (const LitPlace& one : light) values.emplace_back(one.place[axis], one.weight);
  const double middle = median(values);
  for (auto& [value, weight] : values) value = std::abs(value - middle);
  return median(values);
}

/// Middle of the light in the fullest of equal boxes.
Vector3 fullest_box(const TargetShape& shape, const std::vector<LitPlace>& light, const Vector3& size) {
  // Boxes by a mixed key; places of one box stand together after sorting.
  const bool solid = body_of(shape).faces().size() > 1;
  std::vector<std::pair<std::uint64_t, std::uint32_t>> keys;
  keys.reserve(light.size());
  for (std::size_t i = 0; i < light.size(); ++i) {
    std::uint64_t key = solid && !on_base(shape, light[i].place) ? 1 : 0;  // its faces are kept apart
    for (int axis = 0; axis < 3; ++axis) {
      key = mix_bits(key) + static_cast<std::uint64_t>(std::llround(light[i].place[axis] / size[axis]));
    }
    keys.emplace_back(key, static_cast<std::uint32_t>(i));
  }
  std::sort(keys.begin(), keys.end());
  Vector3 middle = Vector3::Zero();
  double most = -1;
  for (std::size_t begin = 0, end = 0; begin < keys.size(); begin = end) {
    Vector3 sum = Vector3::Zero();
    double weight = 0;
    for (end = begin; end < keys.size() && keys[end].first == keys[begin].first; ++end) {
      const LitPlace& one = light[keys[end].second];
      sum += one.weight * one.place;
      weight += one.weight;
    }
    if (weight > most) most = weight, middle = sum / weight;
  }
  return middle;
}

/// From where to where the face goes along one axis of the window, from a place on it.
struct Stretch {
  double from = 0, to = 0;
};
std::array<Stretch, 2> room(const TargetShape& shape, const PeakWindow& window) {
  const auto about = [](double middle, double half) { return Stretch{-half - middle, half - middle}; };
  const Vector3& m = window.middle;
  const double round = widest_angle * window.radius;
  const TargetFace face = face_of(shape, window);
  switch (face.form) {
    case FaceForm::rectangle: return {about(m.x(), face.half_x), about(m.y(), face.half_y)};
    case FaceForm::lying: return {about(0, round), Stretch{face.from - m.y(), face.to - m.y()}};
    case FaceForm::upright: return {about(0, round), Stretch{face.from - m.z(), face.to - m.z()}};
    case FaceForm::ball: return {about(0, round), about(0, round)};
    case FaceForm::disc: break;
  }
  return {about(m.x(), face.radius), about(m.y(), face.radius)};
}

/// Lays the window over the part of the face within `half` of the place that the pilot saw.
void cut_to_face(const TargetShape& shape, const Vector3& half, PeakWindow& window) {
  const std::array<Stretch, 2> whole = room(shape, window);
  const auto cut = [](const Stretch& face, double reach, double& start, double& half_width) {
    const double from = std::max(face.from, -reach), to = std::min(face.to, reach);
    half_width = (to - from) / 2, start = -(from + to) / 2;
  };
  cut(whole[0], half.x(), window.start_across, window.half_across);
  cut(whole[1], half.y(), window.start_up, window.half_up);
  window.middle -= window.start_across * window.across + window.start_up * window.up;
}

/// Tangent axes of a curved face at the window's middle.
void turn_to_face(const TargetShape& shape, PeakWindow& window) {
  const Vector3& m = window.middle;
  const TargetFace face = face_at(shape, m);
  if (face.flat()) return;
  Vector3 normal = m, up = Vector3::UnitY();
  if (face.form == FaceForm::lying) normal.y() = 0;
  if (face.form == FaceForm::upright) normal.z() = 0, up = Vector3::UnitZ();
  if (face.form == FaceForm::ball && m.norm() > 0) up = m.unitOrthogonal();
  if (!(normal.norm() > 0)) return;
  window.radius = face.radius;
  window.up = up;
  window.across = up.cross(normal.normalized());
}

}  // namespace

Vector3 snap(const TargetShape& shape, const Vector3& point) {
  // The nearest counted face; of two equally near ones the later.
  Vector3 best = point;
  double least = std::numeric_limits<double>::infinity();
  const TargetBody body = body_of(shape);
  for (const TargetFace& face : body.faces()) {
    if (!face.counts) continue;
    const Vector3 place = face.nearest(point);
    const double apart = face.flat() ? std::abs(point.z() - face.height) : std::abs(point.head<2>().norm() - face.radius);
    if (body.faces().size() > 1 && apart > least) continue;
    least = apart, best = place;
  }
  return best;
}

PeakWindow peak_window(const TargetShape& shape, const std::vector<LitPlace>& light, double width_50) {
  PeakWindow window;
  window.disc = width_50 / 10;
  window.point = !light.empty() && window.disc < least_disc;
  if (light.empty() || window.point) return window;
  const bool planar = is_plate(shape), tube = !planar && is_band(shape);
  Vector3 half = Vector3::Constant(window_discs * window.disc);
  for (int axis = 0; axis < 2; ++axis) {
    if (planar || (tube && axis == 1)) half[axis] = std::max(half[axis], window_spreads * median_spread(light, axis));
  }
  window.middle = snap(shape, fullest_box(shape, light, half / boxes));
  turn_to_face(shape, window);
  cut_to_face(shape, half, window);
  window.disc = std::min(window.disc, widest_disc(shape, window));
  window.any = window.half_across > 0 && window.half_up > 0;
  return window;
}

double widest_disc(const TargetShape& shape, const PeakWindow& window) { return face_of(shape, window).widest_disc(); }

namespace {

/// Where the middle of a disc may stand, in the window's coordinates.
std::function<void(double&, double&)> keep_on_face(const TargetFace& face, const PeakWindow& window, double disc) {
  const Vector3 m = window.middle;
  const auto hold = [](double& at, double middle, double from, double to) {
    at = std::clamp(at, std::min(from, to) - middle, std::max(from, to) - middle);
  };
  switch (face.form) {
    case FaceForm::rectangle: {
      const double x = std::max(0.0, (2 * face.half_x - disc) / 2), y = std::max(0.0, (2 * face.half_y - disc) / 2);
      return [=](double& u, double& v) { hold(u, m.x(), -x, x), hold(v, m.y(), -y, y); };
    }
    case FaceForm::lying: {
      const double y = std::max(0.0, (face.to - face.from - disc) / 2);
      return [=](double& /*u*/, double& v) { hold(v, m.y(), -y, y); };
    }
    case FaceForm::upright: {
      const double height = face.to - face.from, from = std::min(disc, height) / 2, to = height - from;
      return [=](double& /*u*/, double& v) { hold(v, m.z(), from, to); };
    }
    case FaceForm::ball: return [](double&, double&) {};
    case FaceForm::disc: break;
  }
  const double most = std::max(0.0, (2 * face.radius - disc) / 2);
  return [=](double& u, double& v) {
    const double x = m.x() + u, y = m.y() + v, r = std::hypot(x, y);
    if (r <= most) return;
    u = x * most / r - m.x(), v = y * most / r - m.y();
  };
}

/// Does the face reach the place that the window shows at (u, v)?
bool on_face(const TargetFace& face, const PeakWindow& window, double u, double v) {
  const Vector3& m = window.middle;
  const double round = widest_angle * window.radius;
  switch (face.form) {
    case FaceForm::lying: return std::abs(u) <= round && m.y() + v >= face.from && m.y() + v <= face.to;
    case FaceForm::upright: return std::abs(u) <= round && m.z() + v >= face.from && m.z() + v <= face.to;
    case FaceForm::ball: return std::hypot(u, v) <= round;
    default: return face.holds({m.x() + u, m.y() + v, 0});
  }
}

/// Share of a cell that is face.
double share_on_face(const TargetFace& face, const PeakWindow& window, const std::array<double, 2>& u,
                     const std::array<double, 2>& v) {
  int corners = 0;
  for (const double at_u : u) {
    for (const double at_v : v) corners += on_face(face, window, at_u, at_v) ? 1 : 0;
  }
  if (corners == 0) return 0;
  if (corners == 4) return 1;
  constexpr int fine = 8;
  int inside = 0;
  for (int k = 0; k < fine * fine; ++k) {
    const int row = k / fine, column = k % fine;
    inside +=
        on_face(face, window, u[0] + (u[1] - u[0]) * (column + 0.5) / fine, v[0] + (v[1] - v[0]) * (row + 0.5) / fine) ? 1 : 0;
  }
  return static_cast<double>(inside) / (fine * fine);
}

}  // namespace

PeakCounts peak_counts(const TargetShape& shape, const PeakWindow& window, double disc, const std::vector<std::int64_t>& weight,
                       std::vector<double> paths) {
  PeakCounts out;
  out.half_x = window.half_across, out.half_y = window.half_up;
  out.start_x = window.start_across, out.start_y = window.start_up;
  out.disc = disc;
  out.paths = std::move(paths);
  out.weight = &weight;
  const TargetFace face = face_of(shape, window);
  out.keep_on_face = keep_on_face(face, window, disc);
  const auto edge = [](double half, int k) { return half * (2.0 * k / PeakWindow::cells - 1); };
  const bool ball = face.form == FaceForm::ball;
  for (int row = 0; row < PeakWindow::cells; ++row) {
    for (int column = 0; column < PeakWindow::cells; ++column) {
      const std::array<double, 2> u = {edge(out.half_x, column), edge(out.half_x, column + 1)},
                                  v = {edge(out.half_y, row), edge(out.half_y, row + 1)};
      out.on_face.push_back(share_on_face(face, window, u, v));
      const double x = (u[0] + u[1]) / 2, y = ball ? (v[0] + v[1]) / 2 : 0;
      out.facing.push_back(window.radius > 0 ? std::sqrt(std::max(0.0, 1 - (x * x + y * y) / (window.radius * window.radius)))
                                             : 1);
    }
  }
  return out;
}

}  // namespace dishwright
