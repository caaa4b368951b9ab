// SPDX-License-Identifier: MIT
#include "blur/setting.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "blur/outline.h"
#include "sky/disc.h"

namespace dishwright {

namespace {

constexpr double little = 1e-4;  // share of the light that may go where the quadrature does not follow it
// Beyond, tracing is quicker: the time grows with their square on a disk, less on a band.
constexpr double most_images = 6000, most_band_images = 40000;
const char* const use_rays = "use --method rays (or auto)";

/// Places all over a patch, its ends included.
template <typename Visit>
void go_over(const MirrorPatch& patch, const Visit& visit) {
  constexpr int across = 12, round = 24;
  for (int i = 0; i <= across; ++i) {
    for (int j = 0; j <= round; ++j) visit(patch.at(static_cast<double>(i) / across, static_cast<double>(j) / round));
  }
}

double steepest_cosine(const std::vector<MirrorPatch>& patches, std::size_t reflector, const Vector3& sun) {
  double least = 1;
  for (const MirrorPatch& patch : patches) {
    if (patch.reflector != static_cast<int>(reflector)) continue;
    go_over(patch, [&](const MirrorPoint& point) { least = std::min(least, point.normal.dot(sun)); });
  }
  return least;
}

/// Part of a Gaussian blur of this width, widened by the sun's disc, that turns by more than `angle` to one side.
double tail(double angle, double sigma, double disc) {
  const double margin = angle - disc;
  if (sigma <= 0) return margin > 0 ? 0 : 1;
  return 0.5 * std::erfc(margin / (sigma * std::sqrt(2.0)));
}

std::optional<WhyNot> look_at_target(const Scene& scene) {
  if (scene.lamp) return WhyNot{"the light comes from a lamp; the quadrature follows the sun only", use_rays};
  if (scene.targets.size() != 1) return WhyNot{"there is more than one target, and one may stand in the other's light", use_rays};
  const Target& target = scene.targets[0];
  if (std::holds_alternative<DiskTarget>(target.shape) || std::holds_alternative<RectangleTarget>(target.shape))
    return std::nullopt;
  return WhyNot{fmt::format("{} is a {}; the quadrature knows disks and rectangles", target.name, shape_word(target.shape)),
                fmt::format("use --method rays, or give {} the shape \"disk\" or \"rectangle\"", target.name)};
}

std::optional<WhyNot> look_at_shapes(const Scene& scene) {
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    if (scene.reflectors[k].flaws.any())
      return WhyNot{fmt::format("the shape of {} has flaws", scene.reflectors[k].name), use_rays};
    const std::string shape = shape_word(scene.reflectors[k].shape);
    if (!Outline(scene.reflectors[k].shape).known)
      return WhyNot{fmt::format("the shape of {}, {}, is not one of those it knows", scene.reflectors[k].name, shape), use_rays};
  }
  return std::nullopt;
}

std::optional<WhyNot> look_at_blur(const Scene& scene, const std::vector<MirrorPatch>& patches) {
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& mirror = scene.reflectors[k];
    const double cosine = steepest_cosine(patches, k, scene.sun.direction());
    if (!(cosine > 0)) return WhyNot{fmt::format("the sun shines on the back of {}, or of a part of it", mirror.name), use_rays};
    if (cosine < 0.05) return WhyNot{fmt::format("sunlight grazes {}", mirror.name), use_rays};
    const double widest = std::hypot(2 * mirror.slope_error, mirror.specular_spread);
    const double narrowest = std::hypot(2 * mirror.slope_error * cosine, mirror.specular_spread);
    if (widest == 0 && scene.sun.half_angle == 0)
      return WhyNot{fmt::format("nothing blurs the light: the sun is a point and {} is perfect", mirror.name),
                    "use --method rays, or give the sun its half_angle or the mirror a slope_error"};
    if (mirror.slope_error > 0 && narrowest < 0.1 * scene.sun.half_angle)
      return WhyNot{fmt::format("the slope_error of {} is far smaller than the sun's disc", mirror.name),
                    "use --method rays, or set slope_error to 0 mrad"};
    if (widest > 0.12) return WhyNot{fmt::format("{} spreads the light too widely", mirror.name), use_rays};
  }
  return std::nullopt;
}

/// Could light turn back to the mirror it left? Share of the blurred light that does not leave a bowl by its rim.
double kept_in(const Outline& outline, const Pose& pose, const MirrorPoint& point, const Vector3& ray, double sigma,
               double disc) {
  if (outline.quadric.a == 0) return 0;  // a flat
  const Vector3 own = pose.turn.transpose() * (point.place - pose.at), along = pose.turn.transpose() * ray;
  const double rise = along.z();
  if (rise <= 0) return 1;
  const double way = std::max(0.0, outline.top - own.z()) / rise;
  double angle = std::asin(std::min(rise, 1.0));
  if (way > 1e-9 * outline.half_x) angle = std::min(angle, (outline.half_x - outline.off_axis(own + way * along)) * rise / way);
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

std::optional<WhyNot> look_at_mirrors(const Scene& scene, const Setting& setting) {
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
        return WhyNot{fmt::format("{} may stand in the light of {}", one, other), use_rays};
      bool clear = true;
      const double reach = setting.blurs[static_cast<std::size_t>(setting.patches[a].reflector)].reach;
      go_over(setting.patches[a], [&](const MirrorPoint& point) {
        const Vector3 ray = 2 * point.normal.dot(setting.sun) * point.normal - setting.sun;
        clear = clear && clear_of(balls[b], point.place, ray, reach);
      });
      if (!clear) return WhyNot{fmt::format("light from {} may meet {}", one, other), use_rays};
    }
  }
  return std::nullopt;
}

/// Light that meets a mirror twice, or runs nearly along the target's plane.
std::optional<WhyNot> look_at_light(const Scene& scene, const Setting& setting) {
  double all = 0, kept = 0, along = 0;
  const double disc = DiscSampler(scene.sun.disc, scene.sun.half_angle, scene.sun.aureole_share, false).largest_angle();
  for (const MirrorPatch& patch : setting.patches) {
    const std::size_t k = static_cast<std::size_t>(patch.reflector);
    const Reflector& mirror = scene.reflectors[k];
    const Outline outline(mirror.shape);
    const double sigma = std::hypot(2 * mirror.slope_error, mirror.specular_spread);
    go_over(patch, [&](const MirrorPoint& point) {
      const double cosine = point.normal.dot(setting.sun), power = cosine * point.area;
      const Vector3 ray = 2 * cosine * point.normal - setting.sun;
      all += power;
      kept += power * kept_in(outline, mirror.pose, point, ray, sigma, disc);
      const double rise = std::asin(std::min(1.0, std::abs(ray.dot(setting.plane.normal))));
      along += power * tail(std::min(rise, rise - 0.02 + disc), sigma, disc);
    });
  }
  if (kept > little * all) return WhyNot{"some light may meet the mirror a second time", use_rays};
  if (along > little * all)
    return WhyNot{"some light runs nearly along the plane of the target", "use --method rays, or turn the target"};
  return std::nullopt;
}

std::optional<WhyNot> look_at_place(const Scene& scene) {
  const Target& target = scene.targets[0];
  const auto* rectangle = std::get_if<RectangleTarget>(&target.shape);
  const double half_x = std::visit([](const auto& s) { return s.width / 2; }, target.shape);
  for (const Reflector& mirror : scene.reflectors) {
    const Outline outline(mirror.shape);
    for (int k = 0; k < 64; ++k) {
      const double angle = 2 * std::numbers::pi * k / 64, c = std::cos(angle), s = std::sin(angle),
                   box = std::max(std::abs(c), std::abs(s));
      const Vector3 edge = rectangle != nullptr ? Vector3(half_x * c / box, rectangle->length / 2 * s / box, 0)
                                                : Vector3(half_x * c, half_x * s, 0);
      const Vector3 place = target.pose.turn * edge + target.pose.at;
      if (outline.hides(mirror.pose.turn.transpose() * (place - mirror.pose.at)))
        return WhyNot{fmt::format("a part of {} is below the rim of {} or behind it", target.name, mirror.name), use_rays};
    }
  }
  return std::nullopt;
}

std::optional<WhyNot> look_at_size(const Scene& scene, const Setting& setting) {
  double images = 0;
  for (const MirrorPatch& patch : setting.patches)
    images += counts_for(patch, setting.blurs[static_cast<std::size_t>(patch.reflector)], setting.plane, setting.sun).total();
  const bool band = std::holds_alternative<RectangleTarget>(scene.targets[0].shape);
  if (images <= (band ? most_band_images : most_images)) return std::nullopt;
  return WhyNot{"the light is spread over far more than its blur on the target's plane", use_rays};
}

}  // namespace

std::variant<Setting, WhyNot> make_setting(const Scene& scene) {
  if (scene.is_wave()) return WhyNot{"it is for light, and the scene asks for waves", "use `dishwright trace` without a method"};
  if (auto no = look_at_target(scene)) return *no;
  const std::vector<MirrorPatch> patches = mirror_patches(scene);
  if (auto no = look_at_shapes(scene)) return *no;
  if (auto no = look_at_blur(scene, patches)) return *no;
  if (auto no = look_at_place(scene)) return *no;
  const Target& target = scene.targets[0];
  const Vector3 sun = scene.sun.direction();
  Setting setting{sun, patches, {}, ImagePlane(target.pose), Shadow(target, sun)};
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k)
    setting.blurs.push_back(make_blur(scene.sun, scene.reflectors[k], steepest_cosine(patches, k, sun)));
  if (auto no = look_at_mirrors(scene, setting)) return *no;
  if (auto no = look_at_light(scene, setting)) return *no;
  if (auto no = look_at_size(scene, setting)) return *no;
  return setting;
}

}  // namespace dishwright
