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

/// How far a cube about a place, along axes, may reach without coming close to a mirror: there the sum asks for very many places
/// on it.
double clear_reach(const Vector3& middle, const Matrix3& axes, const std::vector<Vector3>& mirrors) {
  double nearest = INFINITY, reach = INFINITY;
  for (const Vector3& place : mirrors) {
    const Vector3 way = axes.transpose() * (place - middle);
    nearest = std::min(nearest, way.norm()), reach = std::min(reach, way.cwiseAbs().maxCoeff());
  }
  return reach - 0.15 * nearest;
}

/// The axial cut's way across: own x, or turned to a place aside of own z.
Vector3 across_toward(const SearchBox& box, const std::optional<Vector3>& toward) {
  constexpr double aside_that_counts = 0.02;  // of the box: two cells of the map
  if (!toward) return box.axes.col(0);
  Vector3 aside = *toward - box.middle;
  aside -= aside.dot(box.axes.col(2)) * box.axes.col(2);
  return aside.norm() > aside_that_counts * box.half ? Vector3(aside.normalized()) : Vector3(box.axes.col(0));
}

MapPlane plane_of(const WaveQuestion& question, MapCut cut, const std::optional<Vector3>& toward) {
  const SearchBox box = map_box(question);
  MapPlane plane;
  plane.middle = box.middle, plane.half_width = plane.half_height = box.half;
  plane.across = box.axes.col(0), plane.up = box.axes.col(cut == MapCut::focal ? 1 : 2);
  if (cut == MapCut::focal) return plane;
  plane.across = across_toward(box, toward);
  // To the faces of the box.
  plane.half_width = box.half / (box.axes.transpose() * plane.across).cwiseAbs().maxCoeff();
  return plane;
}

constexpr int rough_places = 48;  // across a map that follows a hand

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

SearchBox map_box(const WaveQuestion& question) {
  const Scene& scene = question.scene();
  const Pose& pose = scene.targets.front().pose;
  const Reflector& mirror = scene.reflectors.front();
  // The spot of a round mirror is about λ · distance / width across.
  const double wavelength = question.setup().wavelength(), distance = (pose.at - mirror.pose.at).norm();
  const double spot = wavelength * std::max(0.5, distance / rim_width(mirror.shape));
  const double wanted = distance > 0 ? std::min(3 * spot, 0.7 * distance) : 3 * spot;
  const double reach = clear_reach(pose.at, pose.turn, mirror_places(scene));
  // A target that lies on a mirror keeps its map; the sum says how well it settles.
  return {pose.at, pose.turn, reach > 0.01 * wanted ? std::min(wanted, reach) : wanted, spot / 3, wavelength / 12};
}

WaveMap wave_map(const WaveQuestion& question, MapCut cut, const std::optional<Vector3>& toward, WaveMaps maps) {
  WaveMap map;
  map.plane = plane_of(question, cut, toward);
  if (maps == WaveMaps::rough) map.plane.columns = map.plane.rows = rough_places;
  map.turned = !map.plane.across.isApprox(question.scene().targets.front().pose.turn.col(0));
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
