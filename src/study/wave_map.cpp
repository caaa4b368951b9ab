// SPDX-License-Identifier: MIT
#include "study/wave_map.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "scene/mirror_patches.h"

namespace dishwright {

namespace {

constexpr double shown_tolerance = 1e-3;           // a null 40 dB below the peak is still drawn smooth
constexpr double half_power = 3.0102999566398120;  // 10 log10 2 [dB]

/// Places on all mirrors, a grid on each patch.
std::vector<Vector3> mirror_places(const Scene& scene) {
  const std::vector<MirrorPatch> patches = mirror_patches(scene);
  const int steps = std::max(1, static_cast<int>(48 / std::sqrt(static_cast<double>(patches.size()))));
  std::vector<Vector3> places;
  for (const MirrorPatch& patch : patches) {
    for (int i = 0; i <= steps; ++i) {
      for (int j = 0; j <= steps; ++j)
        places.push_back(patch.at(i / static_cast<double>(steps), j / static_cast<double>(steps)).place);
    }
  }
  return places;
}

/// How far a square about the plane's middle may reach without coming close to a mirror: there the sum asks for very many places
/// on it.
double clear_reach(const MapPlane& plane, const std::vector<Vector3>& mirrors) {
  double nearest = INFINITY, reach = INFINITY;
  for (const Vector3& place : mirrors) nearest = std::min(nearest, (place - plane.middle).norm());
  const double apart = 0.15 * nearest;
  const Vector3 normal = plane.across.cross(plane.up);
  for (const Vector3& place : mirrors) {
    const Vector3 way = place - plane.middle;
    if (std::abs(way.dot(normal)) > apart) continue;
    reach = std::min(reach, std::max(std::abs(way.dot(plane.across)), std::abs(way.dot(plane.up))) - apart);
  }
  return reach;
}

MapPlane plane_of(const WaveQuestion& question, MapCut cut) {
  const Scene& scene = question.scene();
  const Pose& pose = scene.targets.front().pose;
  const Reflector& mirror = scene.reflectors.front();
  // The spot of a round mirror is about λ · distance / width across.
  const double wavelength = question.setup().wavelength(), distance = (pose.at - mirror.pose.at).norm();
  const double spot = wavelength * std::max(0.5, distance / rim_width(mirror.shape));
  MapPlane plane;
  plane.middle = pose.at, plane.across = pose.turn.col(0), plane.up = pose.turn.col(cut == MapCut::focal ? 1 : 2);
  const double wanted = distance > 0 ? std::min(3 * spot, 0.7 * distance) : 3 * spot;
  const double reach = clear_reach(plane, mirror_places(scene));
  // A target that lies on a mirror keeps its map; the sum says how well it settles.
  plane.half_width = plane.half_height = reach > 0.01 * wanted ? std::min(wanted, reach) : wanted;
  return plane;
}

/// Size and place of the area within half the power of the peak.
void measure_spot(WaveMap& map) {
  const MapPlane& plane = map.plane;
  const std::size_t columns = static_cast<std::size_t>(plane.columns), rows = static_cast<std::size_t>(plane.rows);
  const auto largest = std::max_element(map.levels.begin(), map.levels.end());
  const auto at = static_cast<std::size_t>(largest - map.levels.begin());
  map.peak = *largest;
  const auto middle = [](std::size_t k, std::size_t count, double half) {
    return half * ((2 * static_cast<double>(k) + 1) / static_cast<double>(count) - 1);
  };
  map.peak_x = middle(at % columns, columns, plane.half_width), map.peak_y = middle(at / columns, rows, plane.half_height);
  std::size_t inside = 0;
  map.whole = true;
  for (std::size_t k = 0; k < map.levels.size(); ++k) {
    if (!(map.levels[k] >= map.peak - half_power)) continue;
    ++inside;
    const std::size_t column = k % columns, row = k / columns;
    if (column == 0 || row == 0 || column + 1 == columns || row + 1 == rows) map.whole = false;
  }
  const double cell = 4 * plane.half_width * plane.half_height / static_cast<double>(map.levels.size());
  map.half_power_width = 2 * std::sqrt(static_cast<double>(inside) * cell / std::numbers::pi);
}

}  // namespace

WaveMap wave_map(const WaveQuestion& question, MapCut cut) {
  WaveMap map;
  map.plane = plane_of(question, cut);
  map.frequency = question.setup().frequency;
  WaveSetup setup = question.coarser(shown_tolerance);
  setup.patience = 3.5, setup.always = 70'000;  // each place on the mirror counts 40 000 times here
  const WaveField field = wave_field(question.scene(), setup, question.source(), map.plane.places());
  map.convergence = field.convergence;
  const bool radio = question.scene().radio.has_value();
  map.levels.reserve(field.reflected.size());
  for (std::size_t k = 0; k < field.reflected.size(); ++k) {
    const WaveGain gain = wave_gain(field.reflected[k], field.direct[k]);
    const double level = radio ? gain.reflected_gain : gain.gain;
    map.levels.push_back(std::isnan(level) || level > 1e6 ? -INFINITY : level);
  }
  measure_spot(map);
  return map;
}

std::vector<WavePattern> wave_patterns(WaveQuestion question, const std::vector<double>& frequencies, Convergence& worst) {
  constexpr int steps = 721;
  const double quarter = std::numbers::pi / 2;
  const Vector3& place = question.scene().targets.front().pose.at;
  // Sound comes from everywhere in front; a radio beam is shown with eight widths of the widest to each side.
  question.set_frequency(*std::min_element(frequencies.begin(), frequencies.end()));
  const double narrow = question.setup().wavelength() / rim_width(question.scene().reflectors.front().shape);
  const double reach = question.scene().radio ? std::min(quarter, std::max(8 * narrow, 0.02)) : quarter;
  const std::vector<double> angles = angle_steps(-reach, reach, steps);
  std::vector<WavePattern> patterns;
  for (const double frequency : frequencies) {
    question.set_frequency(frequency);
    const Pattern sums = question.scene().radio ? sending_pattern(question.scene(), question.coarser(shown_tolerance),
                                                                  question.feed_at(place), question.cut(), angles)
                                                : listening_pattern(question.scene(), question.coarser(shown_tolerance), place,
                                                                    question.cut(), angles);
    keep_worst(worst, sums.convergence);
    WavePattern pattern{frequency, angles, {}};
    for (const Complex& value : sums.reflected) pattern.levels.push_back(20 * std::log10(std::abs(value)));
    patterns.push_back(std::move(pattern));
  }
  return patterns;
}

}  // namespace dishwright
