// SPDX-License-Identifier: MIT
#include "scene/lamp_contact.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "scene/contact.h"

namespace dishwright {

namespace {

using Found = std::optional<Vector3>;
using Line = std::pair<Vector3, Vector3>;

/// The place on or in a target that is nearest to a place, own frame.
Vector3 nearest_place(const TargetShape& shape, const Vector3& p) {
  const auto within = [](double x, double half) { return std::clamp(x, -half, half); };
  const auto shrunk = [](double x, double y, double radius) {
    const double r = std::hypot(x, y);
    return r > radius ? radius / r : 1.0;
  };
  if (const auto* ball = std::get_if<BallTarget>(&shape)) return p * std::min(1.0, ball->width / 2 / std::max(p.norm(), 1e-300));
  if (const auto* plate = std::get_if<RectangleTarget>(&shape))
    return {within(p.x(), plate->width / 2), within(p.y(), plate->length / 2), 0};
  if (const auto* tube = std::get_if<TubeTarget>(&shape)) {
    const double scale = shrunk(p.x(), p.z(), tube->width / 2);
    return {p.x() * scale, within(p.y(), tube->length / 2), p.z() * scale};
  }
  const double width = std::visit([](const auto&s) { return s.width; }, shape), scale = shrunk(p.x(), p.y(), width / 2);
  const auto* pot = std::get_if<PotTarget>(&shape);
  return {p.x() * scale, p.y() * scale, pot != nullptr ? std::clamp(p.z(), 0.0, pot->height) : 0.0};
}

bool is_plate(const TargetShape& shape) {
  return std::holds_alternative<DiskTarget>(shape) || std::holds_alternative<RectangleTarget>(shape);
}

/// A disk lamp as a target of the same size.
Target as_target(const Lamp& lamp) {
  Target target;
  target.pose = lamp.pose;
  if (const auto* ball = std::get_if<BallLamp>(&lamp.shape)) target.shape = BallTarget{ball->width};
  if (const auto* disk = std::get_if<DiskLamp>(&lamp.shape)) target.shape = DiskTarget{disk->width};
  return target;
}

Line placed(const Pose& pose, const Vector3& a, const Vector3& b) { return {pose.turn * a + pose.at, pose.turn * b + pose.at}; }

/// Lines across and round a thing, in the frame: diameters and sides of a plate, the axis and rims of a body.
std::vector<Line> lines_of(const Target& target) {
  constexpr int parts = 48;
  std::vector<Line> lines;
  const auto add = [&](const Vector3& a, const Vector3& b) { lines.push_back(placed(target.pose, a, b)); };
  if (const auto* plate = std::get_if<RectangleTarget>(&target.shape)) {
    const double x = plate->width / 2, y = plate->length / 2;
    for (int k = 0; k <= parts; ++k) {
      const double share = 2.0 * k / parts - 1;
      add({-x, share * y, 0}, {x, share * y, 0}), add({share * x, -y, 0}, {share * x, y, 0});
    }
    return lines;
  }
  const double r = std::visit([](const auto& s) { return s.width; }, target.shape) / 2;
  const auto* tube = std::get_if<TubeTarget>(&target.shape);
  const auto* pot = std::get_if<PotTarget>(&target.shape);
  for (int k = 0; k < parts; ++k) {
    const double a = std::numbers::pi * k / parts, c = r * std::cos(a), s = r * std::sin(a);
    if (tube != nullptr) {
      const double y = tube->length / 2;
      add({c, -y, s}, {c, y, s}), add({-c, -y, -s}, {-c, y, -s});
      for (const double end : {-y, y}) add({c, end, s}, {-c, end, -s});
    } else {
      const double top = pot != nullptr ? pot->height : 0;
      add({c, s, 0}, {-c, -s, 0});
      if (pot != nullptr) add({c, s, top}, {-c, -s, top}), add({c, s, 0}, {c, s, top}), add({-c, -s, 0}, {-c, -s, top});
    }
  }
  return lines;
}

/// Where one of the lines goes through a plate.
Found through_plate(const std::vector<Line>& lines, const Target& plate) {
  const auto own = [&](const Vector3& p) { return Vector3(plate.pose.turn.transpose() * (p - plate.pose.at)); };
  const auto holds = [&](const Vector3& p) {
    return (nearest_place(plate.shape, p) - Vector3(p.x(), p.y(), 0)).norm() <= 1e-12 * p.norm();
  };
  for (const Line& line : lines) {
    const Vector3 a = own(line.first), b = own(line.second);
    if (a.z() * b.z() > 0) continue;
    const double share = a.z() == b.z() ? 0.5 : a.z() / (a.z() - b.z());
    const Vector3 met = a + share * (b - a);
    if (holds(met)) return Vector3(line.first + share * (line.second - line.first));
  }
  return Found();
}

/// Where one of the lines goes into a solid.
Found into_solid(const std::vector<Line>& lines, const Target& solid) {
  constexpr int steps = 60;
  for (const Line& line : lines) {
    for (int k = 0; k <= steps; ++k) {
      const Vector3 place = line.first + (line.second - line.first) * k / steps;
      const Vector3 own = solid.pose.turn.transpose() * (place - solid.pose.at);
      if ((nearest_place(solid.shape, own) - own).norm() <= 1e-12 * own.norm()) return place;
    }
  }
  return Found();
}

/// The place of a target nearest to the middle of a ball, if it is within the ball.
Found within_ball(const Target& target, const Vector3& middle, double radius) {
  const Vector3 own = target.pose.turn.transpose() * (middle - target.pose.at), nearest = nearest_place(target.shape, own);
  if ((nearest - own).norm() >= radius * (1 - 1e-9)) return Found();
  return Vector3(target.pose.turn * nearest + target.pose.at);
}

}  // namespace

Found meeting_place(const Reflector& reflector, const Lamp& lamp) {
  if (const auto* line = std::get_if<LineLamp>(&lamp.shape)) {
    const Line ends = placed(lamp.pose, {0, -line->length / 2, 0}, {0, line->length / 2, 0});
    return crossing_place(reflector, ends.first, ends.second);
  }
  return meeting_place(reflector, as_target(lamp));
}

Found meeting_place(const Target& target, const Lamp& lamp) {
  if (const auto* ball = std::get_if<BallLamp>(&lamp.shape)) return within_ball(target, lamp.pose.at, ball->width / 2);
  const auto* line = std::get_if<LineLamp>(&lamp.shape);
  std::vector<Line> lines;
  if (line != nullptr) {
    lines.push_back(placed(lamp.pose, {0, -line->length / 2, 0}, {0, line->length / 2, 0}));
  } else {
    if (const auto* target_ball = std::get_if<BallTarget>(&target.shape))
      return within_ball(as_target(lamp), target.pose.at, target_ball->width / 2);
    lines = lines_of(as_target(lamp));
  }
  if (Found met = is_plate(target.shape) ? through_plate(lines, target) : into_solid(lines, target)) return met;
  return line == nullptr ? through_plate(lines_of(target), as_target(lamp)) : Found();
}

}  // namespace dishwright
