// SPDX-License-Identifier: MIT
#include "quadrature/half_shade.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace dishwright {

namespace {

constexpr double widths_are_worse = 1.5;  // than the rms radius, by trial
constexpr double higher_orders = 1.5;     // what the second order leaves out, by trial
constexpr double unseen = 0.03;           // of the half-shade's light, that the four suns may pass by, by trial
constexpr double sample_looks = 400;      // that a place costs here

/// Standard deviation of the sun along one axis, of the widest that any mirror sees [rad].
double sun_sigma(const Setting& setting) {
  double most = 0;
  for (const Blur& blur : setting.blurs) most = std::max({most, blur.sun.variance, blur.round.variance});
  return std::sqrt(most);
}

double distance_to(const Scene& scene, const Setting& setting) {
  return (scene.targets[0].pose.at - setting.patches.front().at(0.5, 0.5).place).norm();
}

/// Sums of light over places.
struct Sums {
  double lit = 0, power = 0, square = 0;
  Vector3 place = Vector3::Zero();

  void add(double p, const Image& image, bool flat) {
    const Vector3 at = flat ? Vector3(image.x_mean, image.y_mean, 0) : image.meeting;
    power += p, place += p * at;
    square += p * (at.squaredNorm() + (flat ? image.width2 : 2 * image.sigma * image.sigma));
  }
  Vector3 middle() const { return place / power; }
  double rms() const { return std::sqrt(std::max(0.0, square / power - middle().squaredNorm())); }
};

/// The sun's centre, then four places about it.
std::array<Vector3, 5> five_suns(const Setting& setting) {
  const double angle = std::numbers::sqrt2 * sun_sigma(setting);
  const Vector3 across = setting.sun.unitOrthogonal(), up = setting.sun.cross(across);
  std::array<Vector3, 5> suns{setting.sun, angle * across, -angle * across, angle * up, -angle * up};
  for (std::size_t k = 1; k < suns.size(); ++k) suns[k] = (setting.sun + suns[k]).normalized();
  return suns;
}

/// Does the shadow's edge run near to an edge of a mirror?
bool meets_an_edge(const Scene& scene, const Setting& setting) {
  constexpr int lines = 32;
  const double wide = 3 * sun_sigma(setting) * distance_to(scene, setting);
  const auto near = [&](const MirrorPatch& patch, double u, double v) {
    return std::abs(setting.shadow.outside(patch, u, v)) < wide;
  };
  return std::any_of(setting.patches.begin(), setting.patches.end(), [&](const MirrorPatch& patch) {
    for (int k = 0; k < lines; ++k) {
      const double along = (k + 0.5) / lines;
      if (near(patch, 0, along) || near(patch, 1, along)) return true;
      if (!patch.closed && (near(patch, along, 0) || near(patch, along, 1))) return true;
    }
    return false;
  });
}

/// Adds the light of some suns past the shadow that one throws; `alike`: it changes where the sun's middle's does.
void add_light(const Scene& scene, const Setting& setting, const Shadow& shadow, bool alike, const std::array<Vector3, 5>& suns,
               const std::pair<std::size_t, std::size_t>& which, Effort& effort, Sums& sums) {
  for (std::size_t p = 0; p < setting.patches.size(); ++p) {
    const MirrorPatch& patch = setting.patches[p];
    const std::size_t mirror = static_cast<std::size_t>(patch.reflector);
    const std::vector<double> changes = alike ? setting.changes[p] : shadow.changes(patch, setting.places[p]);
    for (const MirrorSample& sample : mirror_samples(patch, shadow, changes, setting.sun, scene.sun.beam, setting.counts[p], 0)) {
      effort.spend(sample_looks);
      for (std::size_t k = which.first; k <= which.second; ++k) {
        const double part = sample.power / 4;
        sums.lit += part;
        if (const auto image = image_of(sample, setting.blurs[mirror], setting.receiver, suns[k], 1))
          sums.add(part * scene.reflectors[mirror].reflectance, *image, setting.receiver.flat());
      }
    }
  }
}

}  // namespace

HalfShade rough_half_shade(const Scene& scene, const Setting& setting, double aperture, double size) {
  HalfShade out;
  if (!(size > 0)) return out;
  const double sun = 2 * sun_sigma(setting) * distance_to(scene, setting);
  const double share = std::min(1.0, body_of(scene.targets[0].shape).shadow_edge() * 2 * sun * scene.sun.beam / aperture);
  out.size = share * std::min(1.0, std::pow(sun / size, 2));
  out.place = out.size * size / 2;
  return out;
}

HalfShade half_shade(const Scene& scene, const Setting& setting, Effort& effort) {
  const std::array<Vector3, 5> suns = five_suns(setting);
  Sums sharp, soft;
  // A shadow that nowhere begins or ends, with no edge near, does so for none of the suns.
  const bool whole = !meets_an_edge(scene, setting) && std::all_of(setting.changes.begin(), setting.changes.end(),
                                                                   [](const auto& changes) { return changes.empty(); });
  add_light(scene, setting, setting.shadow.roughly(), true, suns, {1, 4}, effort, sharp);
  for (std::size_t k = 1; k < suns.size(); ++k)
    add_light(scene, setting, Shadow(scene.targets[0], suns[k]).roughly(), whole, suns, {k, k}, effort, soft);
  HalfShade out;
  if (!(sharp.power > 0 && soft.power > 0 && sharp.rms() > 0)) return out;
  out.lit = higher_orders * std::abs(soft.lit / sharp.lit - 1) + unseen * body_of(scene.targets[0].shape).shadow_edge() *
                                                                     sun_sigma(setting) * distance_to(scene, setting) *
                                                                     scene.sun.beam / sharp.lit;
  out.place = (soft.middle() - sharp.middle()).norm();
  out.size = widths_are_worse * std::max(std::abs(soft.rms() / sharp.rms() - 1), out.place / sharp.rms());
  return out;
}

bool shade_is_lopsided(const Scene& scene, const Setting& setting) {
  // A pot that the sun looks down on: each part of the sun off its axis sees a bit of its side.
  const Target& target = scene.targets[0];
  const TargetBody body = body_of(target.shape);
  if (body.faces()[0].form == FaceForm::upright && target.pose.turn.col(2).cross(setting.sun).norm() < 4 * sun_sigma(setting))
    return true;
  return meets_an_edge(scene, setting);
}

}  // namespace dishwright
