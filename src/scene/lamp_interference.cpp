// SPDX-License-Identifier: MIT
#include "scene/lamp_interference.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "scene/interference.h"

namespace dishwright {

namespace {

using Found = std::optional<Vector3>;
using Line = std::pair<Vector3, Vector3>;

/// A disk lamp as a target of the same size.
Target as_target(const Lamp& lamp) {
  Target target;
  target.pose = lamp.pose;
  if (const auto* ball = std::get_if<BallLamp>(&lamp.shape)) target.shape = BallTarget{ball->width};
  if (const auto* disk = std::get_if<DiskLamp>(&lamp.shape)) target.shape = DiskTarget{disk->width};
  return target;
}

Line placed(const Pose& pose, const Vector3& a, const Vector3& b) { return {pose.turn * a + pose.at, pose.turn * b + pose.at}; }

/// Lines across and round a thing, in the frame.
std::vector<Line> lines_of(const Target& target) {
  std::vector<Line> lines = body_of(target.shape).lines();
  for (Line& line : lines) line = placed(target.pose, line.first, line.second);
  return lines;
}

/// Where one of the lines goes through a plate.
Found through_plate(const std::vector<Line>& lines, const Target& plate) {
  const auto own = [&](const Vector3& p) { return Vector3(plate.pose.turn.transpose() * (p - plate.pose.at)); };
  const TargetBody body = body_of(plate.shape);
  const auto holds = [&](const Vector3& p) { return (body.nearest(p) - Vector3(p.x(), p.y(), 0)).norm() <= 1e-12 * p.norm(); };
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
  const TargetBody body = body_of(solid.shape);
  for (const Line& line : lines) {
    for (int k = 0; k <= steps; ++k) {
      const Vector3 place = line.first + (line.second - line.first) * k / steps;
      const Vector3 own = solid.pose.turn.transpose() * (place - solid.pose.at);
      if ((body.nearest(own) - own).norm() <= 1e-12 * own.norm()) return place;
    }
  }
  return Found();
}

/// The place of a target nearest to the middle of a ball, if it is within the ball.
Found within_ball(const Target& target, const Vector3& middle, double radius) {
  const Vector3 own = target.pose.turn.transpose() * (middle - target.pose.at), nearest = body_of(target.shape).nearest(own);
  if ((nearest - own).norm() >= radius * (1 - 1e-9)) return Found();
  return Vector3(target.pose.turn * nearest + target.pose.at);
}

}  // namespace

Found interference_place(const Reflector& reflector, const Lamp& lamp) {
  if (const auto* line = std::get_if<LineLamp>(&lamp.shape)) {
    const Line ends = placed(lamp.pose, {0, -line->length / 2, 0}, {0, line->length / 2, 0});
    return crossing_place(reflector, ends.first, ends.second);
  }
  return interference_place(reflector, as_target(lamp));
}

Found interference_place(const Target& target, const Lamp& lamp) {
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
