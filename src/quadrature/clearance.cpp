// SPDX-License-Identifier: MIT
#include "quadrature/clearance.h"

#include <fmt/format.h>
#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sky/disc.h"

namespace dishwright {

namespace {

constexpr double little = 1e-4;  // share of the light that may go where the quadrature does not follow it
constexpr double hardly = 1e-9;  // the same, of what need not be looked at closely
constexpr double few = 3.8;      // σ; beyond them to one side lies a share of 1e-4

/// Part of a Gaussian blur of this width, widened by the sun's disc, that turns by more than `angle` to one side.
double tail(double angle, double sigma, double disc) {
  const double margin = angle - disc;
  if (sigma <= 0) return margin > 0 ? 0 : 1;
  return 0.5 * std::erfc(margin / (sigma * std::sqrt(2.0)));
}

/// Share of the blurred light that leaves a place (own frame) and meets the same mirror again: by the way over the rim ahead and
/// to both sides.
double kept_in(const Outline& outline, const Vector3& own, const Vector3& ray, double sigma, double disc) {
  if (outline.flat() || !outline.tiles().empty()) return 0;
  if (ray.z() <= 0) return 1;
  const double level = ray.head<2>().norm(), rise = std::atan2(ray.z(), level);
  // No place of the rim stands higher than this: mostly that is enough.
  const double highest = std::atan2(outline.top() - own.z(), outline.rim_distance(own));
  if (tail(std::min(rise, rise - highest), sigma, disc) < hardly) return 0;
  const Eigen::Vector2d ahead = level > 1e-9 ? Eigen::Vector2d(ray.head<2>() / level) : Eigen::Vector2d::UnitX();
  double angle = rise, nearest = -1;  // cosine of the angle to the nearest place of the rim aside
  const Eigen::Rotation2Dd eighth(std::numbers::pi / 4);
  Eigen::Vector2d toward = eighth.inverse() * (eighth.inverse() * ahead);
  for (int k = -2; k <= 2; ++k, toward = eighth * toward) {
    const Vector3 rim = outline.rim_point(own, toward) - own;
    const double far = rim.norm();
    if (far < 1e-9) continue;
    if (k == 0) {
      angle = std::min(angle, rise - std::atan2(rim.z(), rim.head<2>().norm()));
    } else {
      nearest = std::max(nearest, rim.dot(ray) / far);
    }
  }
  angle = std::min(angle, std::acos(std::min(nearest, 1.0)));
  return tail(angle, sigma, disc);
}

struct Ball {
  Vector3 middle;
  double radius = 0;
};

Ball ball_around(const MirrorPatch& patch) {
  Vector3 low = Vector3::Constant(1e300), high = Vector3::Constant(-1e300);
  go_over(patch, [&](const MirrorPoint& point) { low = low.cwiseMin(point.place), high = high.cwiseMax(point.place); });
  Ball ball{(low + high) / 2, 0};
  go_over(patch, [&](const MirrorPoint& point) { ball.radius = std::max(ball.radius, (point.place - ball.middle).norm()); });
  ball.radius *= 1.01;
  return ball;
}

/// Does light that leaves a place toward `ray`, blurred by `reach`, keep clear of the ball?
bool clear_of(const Ball& ball, const Vector3& place, const Vector3& ray, double reach) {
  const Vector3 apart = ball.middle - place;
  const double along = apart.dot(ray), aside = (apart - along * ray).norm();
  return along + ball.radius <= 0 || aside > ball.radius + (along + ball.radius) * std::tan(std::min(reach, 1.5));
}

std::optional<Refusal> look_at_mirrors(const Scene& scene, const Setting& setting) {
  if (scene.reflectors.size() < 2) return std::nullopt;
  std::vector<Ball> balls;
  for (const MirrorPatch& patch : setting.patches) balls.push_back(ball_around(patch));
  for (std::size_t a = 0; a < setting.patches.size(); ++a) {
    for (std::size_t b = 0; b < setting.patches.size(); ++b) {
      if (setting.patches[a].reflector == setting.patches[b].reflector) continue;
      const std::string& one = scene.reflectors[static_cast<std::size_t>(setting.patches[a].reflector)].name;
      const std::string& other = scene.reflectors[static_cast<std::size_t>(setting.patches[b].reflector)].name;
      const Vector3 apart = balls[b].middle - balls[a].middle;
      const double across = (apart - apart.dot(setting.sun) * setting.sun).norm();
      if (across < balls[a].radius + balls[b].radius)
        return Refusal{fmt::format("{} may stand in the light of {}", one, other), use_rays};
      bool clear = true;
      const double reach = setting.blurs[static_cast<std::size_t>(setting.patches[a].reflector)].reach;
      go_over(setting.patches[a], [&](const MirrorPoint& point) {
        const Vector3 ray = 2 * point.normal.dot(setting.sun) * point.normal - setting.sun;
        clear = clear && clear_of(balls[b], point.place, ray, reach);
      });
      if (!clear) return Refusal{fmt::format("light from {} may meet {}", one, other), use_rays};
    }
  }
  return std::nullopt;
}

double disc_edge(const Sun& sun) { return DiscSampler(sun.disc, sun.half_angle, sun.aureole_share, false).largest_angle(); }
double blur_sigma(const Reflector& mirror) { return std::hypot(2 * mirror.slope_error, mirror.specular_spread); }

/// Light that meets a mirror twice, or runs nearly along the target's plane.
std::optional<Refusal> look_at_light(const Scene& scene, const Setting& setting) {
  double all = 0, kept = 0, inward = 0, along = 0;
  const double disc = disc_edge(scene.sun);
  for (const MirrorPatch& patch : setting.patches) {
    const std::size_t k = static_cast<std::size_t>(patch.reflector);
    const Reflector& mirror = scene.reflectors[k];
    const Matrix3 back = mirror.pose.turn.transpose();
    const double sigma = blur_sigma(mirror);
    go_over(patch, [&](const MirrorPoint& point) {
      const double cosine = point.normal.dot(setting.sun), power = cosine * point.area;
      const Vector3 ray = 2 * cosine * point.normal - setting.sun;
      all += power;
      kept += power * kept_in(setting.outlines[k], back * (point.place - mirror.pose.at), back * ray, sigma, disc);
      inward += power * tail(std::asin(std::min(1.0, cosine)), sigma, disc);
      const double rise = std::asin(std::min(1.0, std::abs(ray.dot(setting.receiver.plane().normal))));
      along += power * tail(std::min(rise, rise - 0.02 + disc), sigma, disc);
    });
  }
  if (kept > little * all) return Refusal{"some light may meet the mirror a second time", use_rays};
  if (inward > little * all) return Refusal{"the blur may turn some light into the mirror that sends it", use_rays};
  if (setting.receiver.has_plane() && along > little * all)
    return Refusal{"some light runs nearly along the plane of the target", "use --method rays, or turn the target"};
  return std::nullopt;
}

/// Does tile b, as far as it stands above tile a, throw a shadow on it, for light along `toward` that is turned by up to
/// `turned`?
bool shades(const Outline::TileOutline& a, const Outline::TileOutline& b, const Vector3& toward, double turned) {
  const Vector3 apart = b.middle - a.middle;
  const double along = apart.dot(toward), aside = (apart - along * toward).norm(), near = a.reach + b.reach;
  if (along + near < 0 || aside > near + (std::abs(along) + near) * turned) return false;
  constexpr int parts = 4;
  const double cosine = a.normal.dot(toward);
  for (std::size_t k = 0; k < b.corners.size(); ++k) {
    for (int part = 0; part < parts; ++part) {
      const Vector3 edge = b.corners[k] + (b.corners[(k + 1) % b.corners.size()] - b.corners[k]) * part / parts;
      const double height = (edge - a.middle).dot(a.normal);
      if (height <= 1e-9 * a.reach) continue;
      const Vector3 meeting = edge - height / cosine * toward;
      double outside = -1e300;
      for (std::size_t j = 0; j < a.corners.size(); ++j) {
        const Vector3 side = a.corners[(j + 1) % a.corners.size()] - a.corners[j];
        outside = std::max(outside, -a.normal.cross(side).normalized().dot(meeting - a.corners[j]));
      }
      if (outside < height * turned / (cosine * cosine)) return true;
    }
  }
  return false;
}

std::optional<Refusal> look_at_tiles(const Scene& scene, const Setting& setting) {
  const double disc = disc_edge(scene.sun);
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& mirror = scene.reflectors[k];
    const Vector3 sun = mirror.pose.turn.transpose() * setting.sun;
    const auto& tiles = setting.outlines[k].tiles();
    const double turned = std::tan(disc + few * blur_sigma(mirror));
    for (std::size_t a = 0; a < tiles.size(); ++a) {
      const Vector3 ray = 2 * tiles[a].normal.dot(sun) * tiles[a].normal - sun;
      for (std::size_t b = 0; b < tiles.size(); ++b) {
        if (a == b || !(shades(tiles[a], tiles[b], sun, std::tan(disc)) || shades(tiles[a], tiles[b], ray, turned))) continue;
        return Refusal{fmt::format("tiles of {} may stand in one another's light", mirror.name),
                       "use --method rays (or auto), or leave a wider gap between the tiles"};
      }
    }
  }
  return std::nullopt;
}

/// Places all round a target, own frame: its edge, or lines over its curved faces.
std::vector<Vector3> rim_places(const Target& target) {
  constexpr int round = 64, lines = 12;
  std::vector<Vector3> places;
  for (const MappedFace& face : Receiver(target).faces(0)) {
    const MapFace& map = face.layout;
    for (int k = 0; k < round; ++k) {
      const double angle = 2 * std::numbers::pi * k / round, c = std::cos(angle), s = std::sin(angle),
                   box = map.round ? 1 : std::max(std::abs(c), std::abs(s));
      if (face.flat) places.emplace_back(map.x_to * c / box, map.y_to * s / box, 0);
      for (int j = 0; j <= lines && !face.flat; ++j)
        places.push_back(face.shape.place(map.x_to * k / round, map.y_from + (map.y_to - map.y_from) * j / lines));
    }
  }
  return places;
}

std::optional<Refusal> look_at_place(const Scene& scene, const Setting& setting) {
  const Target& target = scene.targets[0];
  const std::vector<Vector3> places = rim_places(target);
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& mirror = scene.reflectors[k];
    for (const Vector3& own : places) {
      const Vector3 place = target.pose.turn * own + target.pose.at;
      if (setting.outlines[k].hides(mirror.pose.turn.transpose() * (place - mirror.pose.at)))
        return Refusal{fmt::format("a part of {} is below the rim of {} or behind it", target.name, mirror.name), use_rays};
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<Refusal> clearance_refusal(const Scene& scene, const Setting& setting) {
  if (auto no = look_at_place(scene, setting)) return no;
  if (auto no = look_at_mirrors(scene, setting)) return no;
  if (auto no = look_at_light(scene, setting)) return no;
  return look_at_tiles(scene, setting);
}

}  // namespace dishwright
