// SPDX-License-Identifier: MIT
#include "wave/pattern.h"

#include <cmath>
#include <numbers>

#include "wave/beam_figures.h"
#include "wave/settle.h"
#include "wave/sum.h"

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

std::vector<Vector3> directions_of(const PatternCut& cut, const std::vector<double>& angles) {
  std::vector<Vector3> all;
  all.reserve(angles.size());
  for (const double angle : angles) all.push_back(cut.toward(angle));
  return all;
}

std::vector<WaveSource> as_far(const std::vector<Vector3>& directions) {
  std::vector<WaveSource> ends;
  ends.reserve(directions.size());
  for (const Vector3& direction : directions) ends.push_back(WaveSource::from_far(direction));
  return ends;
}

/// Samples and terms that serve every direction of a cut. `feed` empty: listening at the place.
struct CutSums {
  Refined settled;
  WaveTerms terms;
  bool listening = false;
  Complex exact(const Vector3& direction) const {
    return listening ? exact_from(terms, direction) : exact_toward(terms, direction);
  }
  std::vector<Complex> all(const std::vector<Vector3>& directions, const WaveSetup& setup) const {
    return listening ? sums_from(terms, directions, setup) : sums_toward(terms, directions, setup);
  }
};

WaveTerms terms_of(const WaveSamples& samples, const WaveSetup& setup, const Vector3& place, bool listening, const Feed* feed) {
  return listening ? heard_at(samples, setup, place) : arriving(samples, setup, WaveSource::from_point(place), feed);
}

CutSums cut_sums(const Scene& scene, const WaveSetup& setup, const Vector3& place, bool listening, const Feed* feed,
                 const PatternCut& cut, const std::vector<Vector3>& directions) {
  check_waves(scene, setup);
  std::vector<Vector3> few = few_of(directions);
  few.push_back(cut.axis);
  WaveTask task{{WaveSource::from_point(place)}, as_far(few), {}, directions.size() * 3 * sizeof(Complex)};
  if (setup.targets_shade) task.blocked = blocked_by_targets(scene, cut.axis);
  CutSums sums;
  sums.listening = listening;
  sums.settled = settle(mirror_patches(scene), setup, task, [&](const WaveSamples& samples) {
    // In single precision, 1e-6 of the sum: a hundredth of what the sums must settle to.
    const CutSums trial{{}, terms_of(samples, setup, place, listening, feed), listening};
    return trial.all(few, setup);
  });
  return sums;
}

Pattern pattern_of(const Scene& scene, const WaveSetup& setup, const Vector3& place, bool listening, const Feed* feed,
                   const PatternCut& cut, const std::vector<double>& angles) {
  const std::vector<Vector3> directions = directions_of(cut, angles);
  CutSums sums = cut_sums(scene, setup, place, listening, feed, cut, directions);
  sums.terms = terms_of(sums.settled.samples, setup, place, listening, feed);
  Pattern pattern{angles, sums.all(directions, setup), {}, sums.settled.convergence};
  for (const Vector3& direction : directions) {
    const double amplitude = feed != nullptr ? std::sqrt(feed->gain(direction)) : 1;
    pattern.direct.push_back(std::polar(amplitude, -turn / setup.wavelength() * direction.dot(place)));
  }
  return pattern;
}

Beam beam_of(const Scene& scene, const WaveSetup& setup, const Vector3& place, bool listening, const Feed* feed,
             const PatternCut& cut) {
  const double narrow = setup.wavelength() / rim_width(scene.reflectors.front().shape);  // λ/D
  const double quarter = std::numbers::pi / 2, reach = std::min(quarter, std::max(std::min(0.35, 40 * narrow), 10 * narrow));
  const int count = 2 * std::max(60, static_cast<int>(std::ceil(reach / narrow * 8))) + 1;
  const std::vector<double> angles = angle_steps(-reach, reach, count);
  const std::vector<Vector3> directions = directions_of(cut, angles);
  CutSums sums = cut_sums(scene, setup, place, listening, feed, cut, directions);
  sums.terms = terms_of(sums.settled.samples, setup, place, listening, feed);
  Beam beam =
      beam_figures(angles, sums.all(directions, setup), [&](double angle) { return std::abs(sums.exact(cut.toward(angle))); });
  beam.convergence = sums.settled.convergence;
  return beam;
}

}  // namespace

Vector3 PatternCut::toward(double angle) const { return std::cos(angle) * axis + std::sin(angle) * side; }

std::vector<double> angle_steps(double from, double to, int count) {
  std::vector<double> all;
  all.reserve(static_cast<std::size_t>(count));
  for (int k = 0; k < count; ++k) all.push_back(count > 1 ? from + (to - from) * k / (count - 1) : from);
  return all;
}

Pattern listening_pattern(const Scene& scene, const WaveSetup& setup, const Vector3& place, const PatternCut& cut,
                          const std::vector<double>& angles) {
  return pattern_of(scene, setup, place, true, nullptr, cut, angles);
}
Pattern sending_pattern(const Scene& scene, const WaveSetup& setup, const Feed& feed, const PatternCut& cut,
                        const std::vector<double>& angles) {
  return pattern_of(scene, setup, feed.place, false, &feed, cut, angles);
}
Pattern sending_pattern(const Scene& scene, const WaveSetup& setup, const Vector3& speaker, const PatternCut& cut,
                        const std::vector<double>& angles) {
  return pattern_of(scene, setup, speaker, false, nullptr, cut, angles);
}
Beam listening_beam(const Scene& scene, const WaveSetup& setup, const Vector3& place, const PatternCut& cut) {
  return beam_of(scene, setup, place, true, nullptr, cut);
}
Beam sending_beam(const Scene& scene, const WaveSetup& setup, const Feed& feed, const PatternCut& cut) {
  return beam_of(scene, setup, feed.place, false, &feed, cut);
}

}  // namespace dishwright
