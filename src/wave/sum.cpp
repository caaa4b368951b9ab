// SPDX-License-Identifier: MIT
#include "wave/sum.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "base/threads.h"
#include "wave/float_sum.h"

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

double root_reflectance(const WaveSetup& setup, int reflector) {
  const auto k = static_cast<std::size_t>(reflector);
  return k < setup.reflectance.size() ? std::sqrt(setup.reflectance[k]) : 1;
}

/// −ik/(2π) · sum.
Complex with_front_factor(const WaveTerms& terms, Complex sum) { return Complex(0, -terms.wave_number / turn) * sum; }

Complex phase_of(const WaveTerms& terms, double way) {
  // Whole turns taken off first: the sine of a large angle is slow.
  const double turns = terms.wave_number / turn * way, angle = turn * (turns - std::round(turns));
  return {std::cos(angle), std::sin(angle)};
}

template <typename Term>
Complex exact_sum(const WaveTerms& terms, const Term& term) {
  Complex sum = 0;
  for (std::size_t j = 0; j < terms.way.size(); ++j) {
    const auto [factor, way] = term(j);
    sum += terms.amplitude[j] * factor * phase_of(terms, terms.way[j] + way);
  }
  return with_front_factor(terms, sum);
}

/// Float copies of the samples with the phase at one reference, for the lanes.
template <typename ReferenceWay>
LaneTerms lane_terms(const WaveTerms& terms, const Vector3& origin, const ReferenceWay& reference_way) {
  const WaveSamples& s = *terms.samples;
  LaneTerms lanes(s.count());
  for (std::size_t j = 0; j < s.count(); ++j) {
    const double way = reference_way(j);
    const Complex a = terms.amplitude[j] * phase_of(terms, terms.way[j] + way);
    const Vector3 to_origin = origin - s.place(j);
    lanes.set(j, a, to_origin, s.normal(j), way);
  }
  return lanes;
}

/// Runs of neighbours within `reach` of the run's first member.
std::vector<std::pair<std::size_t, std::size_t>> runs_within(const std::vector<Vector3>& all, double reach) {
  std::vector<std::pair<std::size_t, std::size_t>> runs;
  std::size_t from = 0;
  for (std::size_t k = 1; k <= all.size(); ++k) {
    if (k < all.size() && (all[k] - all[from]).norm() <= reach) continue;
    runs.emplace_back(from, k);
    from = k;
  }
  return runs;
}

constexpr std::size_t at_once = 16;  // places for which samples are fetched once

/// Calls some(first, last) for pieces of from … to − 1 of up to `at_once` places.
template <typename Some>
void for_places(std::size_t from, std::size_t to, const WaveSetup& setup, const Some& some) {
  const auto work = [&] {
    for_pieces(from, to, at_once, [&](std::size_t first, std::size_t last) {
      for (; first < last; first += at_once) {
        if (setup.watch != nullptr && setup.watch->stopped()) return;
        some(first, std::min(first + at_once, last));
      }
    });
  };
  if (setup.threads > 0) {
    on_threads(setup.threads, work);
  } else {
    work();
  }
  if (setup.watch != nullptr && setup.watch->stopped()) throw Interrupted();
}

/// Directions in runs, each with its own reference. kind: toward (receiver, factor n·direction) or from (source, factor its
/// sign).
std::vector<Complex> sums_of_directions(const WaveTerms& terms, const std::vector<Vector3>& directions, const WaveSetup& setup,
                                        bool from_there) {
  const WaveSamples& s = *terms.samples;
  double reach = 0;
  for (std::size_t j = 0; j < s.count(); ++j) reach = std::max(reach, s.place(j).norm());
  std::vector<Complex> sums(directions.size());
  for (const auto& [from, to] : runs_within(directions, 60 * turn / terms.wave_number / std::max(reach, 1e-300))) {
    const Vector3 reference = directions[from];
    const LaneTerms lanes = lane_terms(terms, Vector3::Zero(), [&](std::size_t j) { return -reference.dot(s.place(j)); });
    for_places(from, to, setup, [&](std::size_t first, std::size_t last) {
      for (std::size_t k = first; k < last; ++k) {
        const Complex sum = lanes.sum_toward(directions[k], directions[k] - reference, terms.wave_number / turn, from_there);
        sums[k] = with_front_factor(terms, sum);
      }
    });
  }
  return sums;
}

}  // namespace

WaveTerms arriving(const WaveSamples& samples, const WaveSetup& setup, const WaveSource& source, const Feed* feed) {
  WaveTerms terms{&samples, turn / setup.wavelength(), {}, {}};
  for (std::size_t j = 0; j < samples.count(); ++j) {
    const Vector3 place = samples.place(j);
    const bool far = source.kind == WaveSource::Kind::far;
    const Vector3 to_source = far ? source.direction : Vector3(source.place - place);
    const double distance = far ? 1 : to_source.norm();
    const double side = samples.normal(j).dot(to_source) < 0 ? -1 : 1;
    double amplitude = side * samples.area[j] * root_reflectance(setup, samples.reflector[j]) / distance;
    if (feed != nullptr) amplitude *= std::sqrt(feed->gain(-to_source));
    terms.amplitude.push_back(amplitude);
    terms.way.push_back(way_to(source, place));
  }
  return terms;
}

WaveTerms heard_at(const WaveSamples& samples, const WaveSetup& setup, const Vector3& place) {
  WaveTerms terms{&samples, turn / setup.wavelength(), {}, {}};
  for (std::size_t j = 0; j < samples.count(); ++j) {
    const Vector3 to_place = place - samples.place(j);
    const double distance = to_place.norm(), cosine = samples.normal(j).dot(to_place) / distance;
    terms.amplitude.push_back(cosine / distance * samples.area[j] * root_reflectance(setup, samples.reflector[j]));
    terms.way.push_back(distance);
  }
  return terms;
}

Complex exact_at_place(const WaveTerms& terms, const Vector3& place) {
  return exact_sum(terms, [&](std::size_t j) {
    const Vector3 to_place = place - terms.samples->place(j);
    const double squared = to_place.squaredNorm();
    return std::pair(terms.samples->normal(j).dot(to_place) / squared, std::sqrt(squared));
  });
}

Complex exact_toward(const WaveTerms& terms, const Vector3& toward) {
  return exact_sum(terms, [&](std::size_t j) {
    return std::pair(terms.samples->normal(j).dot(toward), -toward.dot(terms.samples->place(j)));
  });
}

Complex exact_from(const WaveTerms& terms, const Vector3& from) {
  return exact_sum(terms, [&](std::size_t j) {
    return std::pair(terms.samples->normal(j).dot(from) < 0 ? -1.0 : 1.0, -from.dot(terms.samples->place(j)));
  });
}

std::vector<Complex> sums_at_places(const WaveTerms& terms, const std::vector<Vector3>& places, const WaveSetup& setup) {
  const WaveSamples& s = *terms.samples;
  std::vector<Complex> sums(places.size());
  for (const auto& [from, to] : runs_within(places, 60 * turn / terms.wave_number)) {
    const Vector3 reference = places[from];
    const LaneTerms lanes = lane_terms(terms, reference, [&](std::size_t j) { return (reference - s.place(j)).norm(); });
    for_places(from, to, setup, [&](std::size_t first, std::size_t last) {
      std::array<Vector3, at_once> offsets;
      std::array<Complex, at_once> found;
      const std::size_t n = last - first;
      for (std::size_t k = 0; k < n; ++k) offsets[k] = places[first + k] - reference;
      lanes.sums_at(offsets.data(), n, terms.wave_number / turn, found.data());
      for (std::size_t k = 0; k < n; ++k) sums[first + k] = with_front_factor(terms, found[k]);
    });
  }
  return sums;
}

std::vector<Complex> sums_toward(const WaveTerms& terms, const std::vector<Vector3>& directions, const WaveSetup& setup) {
  return sums_of_directions(terms, directions, setup, false);
}

std::vector<Complex> sums_from(const WaveTerms& terms, const std::vector<Vector3>& directions, const WaveSetup& setup) {
  return sums_of_directions(terms, directions, setup, true);
}

}  // namespace dishwright
