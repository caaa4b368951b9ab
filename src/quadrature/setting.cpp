// SPDX-License-Identifier: MIT
#include "quadrature/setting.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "quadrature/clearance.h"

namespace dishwright {

namespace {

constexpr std::size_t most_tiles = 1000;

double steepest_cosine(const std::vector<MirrorPatch>& patches, std::size_t reflector, const Vector3& sun) {
  double least = 1;
  for (const MirrorPatch& patch : patches) {
    if (patch.reflector != static_cast<int>(reflector)) continue;
    go_over(patch, [&](const MirrorPoint& point) { least = std::min(least, point.normal.dot(sun)); });
  }
  return least;
}

std::optional<Refusal> target_refusal(const Scene& scene) {
  if (scene.lamp) return Refusal{"the light comes from a lamp; the quadrature follows the sun only", use_rays};
  if (scene.targets.size() != 1)
    return Refusal{"there is more than one target, and one may stand in the other's light", use_rays};
  const Target& target = scene.targets[0];
  const TargetBody body = body_of(target.shape);
  const TargetFace& face = body.faces()[0];
  if (face.form == FaceForm::lying && target.shades) {
    const double lean = std::abs(target.pose.turn.col(1).dot(scene.sun.direction()));
    if ((face.to - face.from) * std::sqrt(std::max(0.0, 1 - lean * lean)) < 2 * face.radius * lean)
      return Refusal{fmt::format("the sun shines through the open ends of {}", target.name), use_rays};
  }
  return std::nullopt;
}

std::optional<Refusal> shape_refusal(const Scene& scene, const std::vector<Outline>& outlines) {
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& mirror = scene.reflectors[k];
    if (outlines[k].triangles())
      return Refusal{fmt::format("{} is a mesh, and the quadrature needs smooth pieces", mirror.name), use_rays};
    if (!outlines[k].known())
      return Refusal{fmt::format("{} is {}, which passes on the light of another mirror; the quadrature follows one reflection",
                                 mirror.name, shape_with_article(mirror.shape)),
                     use_rays};
    if (outlines[k].tiles().size() > most_tiles)
      return Refusal{fmt::format("{} has {} tiles, and each needs images of its own", mirror.name, outlines[k].tiles().size()),
                     use_rays};
  }
  return std::nullopt;
}

/// `steepest`: by reflector.
std::optional<Refusal> blur_refusal(const Scene& scene, const std::vector<double>& steepest) {
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& mirror = scene.reflectors[k];
    const double cosine = steepest[k];
    if (!(cosine > 0)) return Refusal{fmt::format("the sun shines on the back of {}, or of a part of it", mirror.name), use_rays};
    if (cosine < 0.05) return Refusal{fmt::format("sunlight grazes {}", mirror.name), use_rays};
    const double widest = std::hypot(2 * mirror.slope_error, mirror.specular_spread);
    const double narrowest = std::hypot(2 * mirror.slope_error * cosine, mirror.specular_spread);
    if (widest == 0 && scene.sun.half_angle == 0)
      return Refusal{fmt::format("nothing blurs the light: the sun is a point and {} is perfect", mirror.name),
                     "use --method rays, or give the sun its half_angle or the mirror a slope_error"};
    if (mirror.slope_error > 0 && narrowest < 0.1 * scene.sun.half_angle)
      return Refusal{fmt::format("the slope_error of {} is far smaller than the sun's disc", mirror.name),
                     "use --method rays, or set slope_error to 0 mrad"};
    if (widest > 0.12) return Refusal{fmt::format("{} spreads the light too widely", mirror.name), use_rays};
  }
  return std::nullopt;
}

}  // namespace

std::variant<Setting, Refusal> make_setting(const Scene& scene) {
  if (scene.is_wave()) return Refusal{"it is for light, and the scene asks for waves", "use `dishwright trace` without a method"};
  if (auto no = target_refusal(scene)) return *no;
  std::vector<Outline> outlines;
  for (const Reflector& mirror : scene.reflectors) outlines.emplace_back(mirror);
  if (auto no = shape_refusal(scene, outlines)) return *no;
  const std::vector<MirrorPatch> patches = mirror_patches(scene);
  const Vector3 sun = scene.sun.direction();
  std::vector<double> steepest;
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) steepest.push_back(steepest_cosine(patches, k, sun));
  if (auto no = blur_refusal(scene, steepest)) return *no;
  const Target& target = scene.targets[0];
  Setting setting{sun, patches, std::move(outlines), {}, Receiver(target), Shadow(target, sun), {}, {}, {}};
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k)
    setting.blurs.push_back(make_blur(scene.sun, scene.reflectors[k], steepest[k]));
  if (auto no = clearance_refusal(scene, setting)) return *no;
  for (const MirrorPatch& patch : setting.patches) {
    const Blur& blur = setting.blurs[static_cast<std::size_t>(patch.reflector)];
    setting.counts.push_back(counts_for(patch, blur, setting.receiver, setting.sun));
    setting.places.push_back(target.shades ? Shadow::places(patch) : Shadow::Places());
    setting.changes.push_back(setting.shadow.changes(patch, setting.places.back()));
    if (falls_in_strips(patch, blur, setting.receiver, setting.shadow, setting.changes.back(), sun))
      setting.counts.back().along_v = 1, setting.counts.back().strips = true;
  }
  return setting;
}

}  // namespace dishwright
