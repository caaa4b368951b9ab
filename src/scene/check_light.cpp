// SPDX-License-Identifier: MIT
#include "scene/check_light.h"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/quantity.h"
#include "scene/interference.h"
#include "scene/lamp_interference.h"
#include "scene/mirror_samples.h"

namespace dishwright {

namespace {

using Samples = std::vector<MirrorPlace>;

std::string inches(double metres) { return format_quantity(metres, Dimension::length, &all_units().front()); }
std::string place_words(const Vector3& p) {
  const auto word = [](double x) { return inches(std::abs(x) < 1e-9 ? 0 : x); };  // no rounding
  return fmt::format("x = {}, y = {}, z = {}", word(p.x()), word(p.y()), word(p.z()));
}

struct Ball {
  Vector3 middle;
  double reach;
};
Ball ball_round(const Samples& samples) {
  Vector3 low = samples.front().place, high = low;
  for (const MirrorPlace& one : samples) low = low.cwiseMin(one.place), high = high.cwiseMax(one.place);
  return {(low + high) / 2, (high - low).norm() / 2};
}

// ---- Two mirrors in one place ----

/// Share of the places of one mirror that lie over another within `room` of it, and one of them.
struct Covered {
  double share = 0;
  Vector3 place = Vector3::Zero();
};
Covered covered_by(const Samples& one, const Reflector& other, const Ball& round_other, double room) {
  Covered covered;
  // A mesh or tiles are gone through place by place.
  const bool slow = in_flat_pieces(other.shape);
  const std::size_t step = slow ? one.size() / 60 + 1 : 1;
  std::size_t looked = 0, met = 0;
  for (std::size_t k = 0; k < one.size(); k += step, ++looked) {
    if ((one[k].place - round_other.middle).norm() > 1.1 * round_other.reach + room) continue;
    const std::optional<double> height = height_above(other, one[k].place);
    if (!height) continue;
    // Heights are along the other's own z, more than the distance on a steep part. Where two lie on each other their normals are
    // the same.
    const double along = slow ? 1 : std::max(0.2, std::abs(one[k].normal.dot(other.pose.turn.col(2))));
    if (std::abs(*height) * along > room) continue;
    if (met++ == 0) covered.place = one[k].place;
  }
  covered.share = looked > 0 ? static_cast<double>(met) / static_cast<double>(looked) : 0;
  return covered;
}

struct Pair {
  const Reflector *one, *other;
  Covered covered;
};
/// Pairs of mirrors of which one lies within `room` × its size of the other, over more than `least` of its places.
std::vector<Pair> lying_on_each_other(const Scene& scene, double room, double least) {
  std::vector<Pair> pairs;
  if (scene.reflectors.size() < 2) return pairs;
  std::vector<Samples> samples;
  std::vector<Ball> balls;
  for (const Reflector& mirror : scene.reflectors) {
    samples.push_back(mirror_samples(mirror, false));
    balls.push_back(samples.back().empty() ? Ball{mirror.pose.at, 0} : ball_round(samples.back()));
  }
  for (std::size_t i = 0; i < samples.size(); ++i) {
    for (std::size_t j = i + 1; j < samples.size(); ++j) {
      const double size = std::min(balls[i].reach, balls[j].reach);
      if ((balls[i].middle - balls[j].middle).norm() > 1.1 * (balls[i].reach + balls[j].reach) + room * size) continue;
      const Covered there = covered_by(samples[i], scene.reflectors[j], balls[j], room * size);
      const Covered back = covered_by(samples[j], scene.reflectors[i], balls[i], room * size);
      const Covered& most = there.share >= back.share ? there : back;
      if (most.share > least) pairs.push_back({&scene.reflectors[i], &scene.reflectors[j], most});
    }
  }
  return pairs;
}

void check_mirrors(const Scene& scene, std::vector<SceneProblem>& problems) {
  constexpr double one_place = 1e-5;  // of the mirror's size
  for (const Pair& pair : lying_on_each_other(scene, one_place, 0)) {
    problems.push_back({"reflector." + pair.other->name,
                        fmt::format("reflector.{} lies in the place of reflector.{}", pair.other->name, pair.one->name),
                        fmt::format("they are in one place at {}; which of the two the light meets would be left to chance",
                                    place_words(pair.covered.place)),
                        "take one out, or move it; a sheet that is bright on both sides is two mirrors a little apart"});
  }
}

// ---- What single precision can follow ----

void check_far(const Scene& scene, std::vector<SceneProblem>& problems) {
  constexpr double finest = 1e-5;
  std::vector<Ball> balls;
  for (const Reflector& mirror : scene.reflectors) balls.push_back(ball_round(mirror_samples(mirror, true)));
  const auto words = [](double width, double distance, const std::string& to) {
    return fmt::format("it is {} wide and {} from {}; what is narrower than 1/100 000 of the way is lost in rounding",
                       inches(width), inches(distance), to);
  };
  for (const Target& target : scene.targets) {
    for (std::size_t k = 0; k < balls.size(); ++k) {
      const double distance = (target.pose.at - balls[k].middle).norm(), width = body_of(target.shape).smallest_width();
      if (width >= finest * distance) continue;
      problems.push_back(
          {"target." + target.name,
           fmt::format("target.{} is too small for its distance from reflector.{}", target.name, scene.reflectors[k].name),
           words(width, distance, "reflector." + scene.reflectors[k].name),
           "make the target wider, or move it closer; or the mirror, if its sizes are not what is meant"});
      break;
    }
  }
  for (std::size_t i = 0; i < balls.size(); ++i) {
    for (std::size_t j = 0; j < balls.size(); ++j) {
      const double distance = (balls[i].middle - balls[j].middle).norm();
      if (2 * balls[i].reach >= finest * distance) continue;
      problems.push_back({"reflector." + scene.reflectors[i].name,
                          fmt::format("reflector.{} is too small for its distance from reflector.{}", scene.reflectors[i].name,
                                      scene.reflectors[j].name),
                          words(2 * balls[i].reach, distance, "reflector." + scene.reflectors[j].name),
                          "make it wider, or move the two closer"});
      break;
    }
  }
}

// ---- The lamp ----

void check_lamp(const Scene& scene, std::vector<SceneProblem>& problems) {
  const Lamp& lamp = *scene.lamp;
  const auto refuse = [&](const std::string& thing, const std::string& word, const Vector3& place) {
    problems.push_back({"lamp", fmt::format("the lamp and {} stand in each other", thing),
                        fmt::format("they meet at {}; a lamp and a {} cannot be in one place", place_words(place), word),
                        fmt::format("move the lamp with at or offset, make it smaller, or move the {}", word)});
  };
  for (const Reflector& mirror : scene.reflectors) {
    if (const auto place = interference_place(mirror, lamp)) refuse("reflector." + mirror.name, "mirror", *place);
  }
  for (const Target& target : scene.targets) {
    if (const auto place = interference_place(target, lamp)) refuse("target." + target.name, "target", *place);
  }
}

// ---- Odd, but possible ----

/// Corners of the box round a target or the lamp, in the frame.
std::vector<Vector3> corners_of(const Pose& pose, const Vector3& low, const Vector3& high) {
  std::vector<Vector3> corners;
  corners.reserve(8);
  for (int k = 0; k < 8; ++k)
    corners.push_back(pose.turn * Vector3((k & 1) != 0 ? high.x() : low.x(), (k & 2) != 0 ? high.y() : low.y(),
                                          (k & 4) != 0 ? high.z() : low.z()) +
                      pose.at);
  return corners;
}

std::vector<Vector3> corners_of(const Target& target) {
  const SpaceBox box = body_of(target.shape).box();
  return corners_of(target.pose, box.low, box.high);
}

std::vector<Vector3> corners_of(const Lamp& lamp) {
  const double half = lamp_size(lamp.shape) / 2;
  if (std::holds_alternative<LineLamp>(lamp.shape)) return corners_of(lamp.pose, Vector3(0, -half, 0), Vector3(0, half, 0));
  const double up = std::holds_alternative<BallLamp>(lamp.shape) ? half : 0;
  return corners_of(lamp.pose, Vector3(-half, -half, -up), Vector3(half, half, up));
}

/// Does the bright side of some place of the mirrors face some of these places?
bool some_faces(const std::vector<Samples>& mirrors, const std::vector<Vector3>& places) {
  for (const Samples& samples : mirrors) {
    for (const MirrorPlace& one : samples) {
      for (const Vector3& place : places) {
        if (one.normal.dot(place - one.place) > 0) return true;
      }
    }
  }
  return false;
}

/// Is some place of the mirrors on the side of a plane z = 0 that its front, −z, faces?
bool some_before(const std::vector<Samples>& mirrors, const Pose& plane) {
  const Vector3 up = plane.turn.col(2);
  for (const Samples& samples : mirrors) {
    for (const MirrorPlace& one : samples) {
      if (up.dot(one.place - plane.at) < 0) return true;
    }
  }
  return false;
}

/// Targets of sunlight that are wider than every mirror that gathers it: mostly a slip of the unit.
void size_oddities(const Scene& scene, std::vector<std::string>& odd) {
  double widest = 0;
  for (const Reflector& mirror : scene.reflectors) {
    if (std::holds_alternative<Flat>(mirror.shape)) return;  // a plate lights what is as large as itself
    widest = std::max(widest, rim_width(mirror.shape));
  }
  for (const Target& target : scene.targets) {
    const double width = std::visit([](const auto& shape) { return shape.width; }, target.shape);
    if (width <= widest) continue;
    odd.push_back(fmt::format("target.{} is {:.3g} times as wide as the {}: is that meant?{}", target.name, width / widest,
                              scene.reflectors.size() > 1 ? "widest mirror" : "mirror",
                              target.shades ? " Where it stands between, it keeps the sun from the mirror." : ""));
  }
}

void source_oddities(const Scene& scene, const std::vector<Samples>& mirrors, std::vector<std::string>& odd) {
  if (scene.lamp) {
    if (!some_faces(mirrors, corners_of(*scene.lamp))) {
      odd.emplace_back("The lamp stands behind every mirror: its light meets backs only.");
    } else if (std::holds_alternative<DiskLamp>(scene.lamp->shape) && !some_before(mirrors, scene.lamp->pose)) {
      odd.emplace_back(
          "The lamp shines away from every mirror: a disk gives light from its front only, which faces -z unless it is turned.");
    }
    return;
  }
  // A disc about the sun's centre: its edge may still see a bright side.
  const double edge = std::sin(DiscSampler(scene.sun.disc, scene.sun.half_angle, scene.sun.aureole_share, false).largest_angle());
  const Vector3 sun = scene.sun.direction();
  for (const Samples& samples : mirrors) {
    if (std::any_of(samples.begin(), samples.end(), [&](const MirrorPlace& one) { return one.normal.dot(sun) > -edge; })) return;
  }
  odd.emplace_back("The sun stands behind every mirror: it shines on their backs only.");
}

}  // namespace

void check_light(const Scene& scene, std::vector<SceneProblem>& problems) {
  check_mirrors(scene, problems);
  if (scene.is_wave()) return;
  check_far(scene, problems);
  if (scene.lamp) check_lamp(scene, problems);
}

std::vector<std::string> light_oddities(const Scene& scene) {
  std::vector<std::string> odd;
  if (scene.is_wave()) return odd;
  std::vector<Samples> mirrors;
  for (const Reflector& mirror : scene.reflectors) mirrors.push_back(mirror_samples(mirror, true));
  source_oddities(scene, mirrors, odd);
  if (!scene.lamp) size_oddities(scene, odd);
  for (const Target& target : scene.targets) {
    if (!some_faces(mirrors, corners_of(target))) {
      odd.push_back(fmt::format("target.{} stands behind every mirror: no reflected light can reach it.", target.name));
    } else if (is_plate(target.shape) && !some_before(mirrors, target.pose)) {
      odd.push_back(fmt::format("The front of target.{} faces away from every mirror: reflected light can meet its back only.",
                                target.name));
    }
  }
  constexpr double near = 5e-3, most = 0.5;  // of the mirror's size, of its places
  for (const Pair& pair : lying_on_each_other(scene, near, most))
    odd.push_back(fmt::format("reflector.{} and reflector.{} nearly lie on each other: one of them hides the other.",
                              pair.one->name, pair.other->name));
  return odd;
}

}  // namespace dishwright
