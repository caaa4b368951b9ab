// SPDX-License-Identifier: MIT
#include "wave/samples.h"

#include <algorithm>
#include <cmath>

#include "base/quadrature_rule.h"

namespace dishwright {

namespace {

/// Probes along u and v: enough to see how a way grows; few where there are many small pieces.
int probes_of(const MirrorPatch& patch, std::size_t patch_count) {
  if (patch.triangle) return 2;
  return patch_count > 16 ? 4 : 17;
}

struct Probes {
  int n = 0;
  std::vector<Vector3> places;  // u-major
  const Vector3& at(int i, int j) const { return places[static_cast<std::size_t>(i * (n + 1) + j)]; }
};

Probes probe(const MirrorPatch& patch, std::size_t patch_count) {
  Probes probes{probes_of(patch, patch_count), {}};
  for (int i = 0; i <= probes.n; ++i) {
    for (int j = 0; j <= probes.n; ++j)
      probes.places.push_back(patch.at(static_cast<double>(i) / probes.n, static_cast<double>(j) / probes.n).place);
  }
  return probes;
}

/// Longest change of way along any line of u and of v, for one pair of ends [m].
PatchCounts longest_ways(const Probes& probes, const WaveSource& source, const WaveSource& end) {
  const int n = probes.n;
  std::vector<double> way(probes.places.size());
  for (std::size_t k = 0; k < way.size(); ++k) way[k] = way_to(source, probes.places[k]) + way_to(end, probes.places[k]);
  const auto at = [&](int i, int j) { return way[static_cast<std::size_t>(i * (n + 1) + j)]; };
  PatchCounts longest{0, 0};
  for (int line = 0; line <= n; ++line) {
    double u = 0, v = 0;
    for (int k = 0; k < n; ++k) u += std::abs(at(k + 1, line) - at(k, line)), v += std::abs(at(line, k + 1) - at(line, k));
    longest.along_u = std::max(longest.along_u, u), longest.along_v = std::max(longest.along_v, v);
  }
  return longest;
}

/// Each step of 1.35 in density gives at least one point more, be there ever so few.
int points(double count, double density) {
  return std::max(1, static_cast<int>(std::ceil(std::ceil(count) * density + density - 1 - 1e-9)));
}

/// Stretches of u on one line of v that nothing blocks.
std::vector<std::pair<double, double>> free_stretches(const MirrorPatch& patch, double v, const Blocked& blocked) {
  if (!blocked) return {{0, 1}};
  constexpr int steps = 128;
  const auto is_blocked = [&](double u) { return blocked(patch.at(u, v).place); };
  std::vector<std::pair<double, double>> stretches;
  bool before = is_blocked(0);
  double from = 0;
  for (int k = 1; k <= steps; ++k) {
    const bool now = is_blocked(static_cast<double>(k) / steps);
    if (now != before) {
      double low = (k - 1.0) / steps, high = static_cast<double>(k) / steps;
      while (high - low > 1e-9) {
        const double middle = (low + high) / 2;
        (is_blocked(middle) == before ? low : high) = middle;
      }
      if (now) stretches.emplace_back(from, low);
      from = high, before = now;
    }
  }
  if (!before) stretches.emplace_back(from, 1);
  return stretches;
}

void add(WaveSamples& samples, const MirrorPatch& patch, double u, double v, double weight) {
  const MirrorPoint p = patch.at(u, v);
  samples.x.push_back(p.place.x()), samples.y.push_back(p.place.y()), samples.z.push_back(p.place.z());
  samples.nx.push_back(p.normal.x()), samples.ny.push_back(p.normal.y()), samples.nz.push_back(p.normal.z());
  samples.area.push_back(p.area * weight);
  samples.reflector.push_back(patch.reflector);
}

void sample_patch(WaveSamples& samples, const MirrorPatch& patch, const PatchCounts& counts, double density,
                  const Blocked& blocked) {
  const int n_u = points(counts.along_u, density), n_v = points(counts.along_v, density);
  // A small triangle: its middle.
  if (patch.triangle && n_u == 1 && n_v == 1) {
    if (!blocked || !blocked(patch.at(2.0 / 3, 0.5).place)) add(samples, patch, 2.0 / 3, 0.5, 0.75);
    return;
  }
  const Rule along_v = patch.closed ? even_rule(n_v) : gauss_rule(n_v);
  const Rule whole_u = gauss_rule(n_u);
  for (std::size_t j = 0; j < along_v.at.size(); ++j) {
    for (const auto& [from, to] : free_stretches(patch, along_v.at[j], blocked)) {
      const double length = to - from;
      const Rule part = length < 1 ? gauss_rule(points(3 + length * counts.along_u, density)) : whole_u;
      for (std::size_t i = 0; i < part.at.size(); ++i)
        add(samples, patch, from + length * part.at[i], along_v.at[j], length * part.weight[i] * along_v.weight[j]);
    }
  }
}

}  // namespace

double way_to(const WaveSource& end, const Vector3& place) {
  return end.kind == WaveSource::Kind::far ? -end.direction.dot(place) : (place - end.place).norm();
}

std::vector<PatchCounts> counts_for(const std::vector<MirrorPatch>& patches, double wavelength,
                                    const std::vector<WaveSource>& sources, const std::vector<WaveSource>& ends) {
  std::vector<PatchCounts> all;
  for (const MirrorPatch& patch : patches) {
    const Probes probes = probe(patch, patches.size());
    PatchCounts way{0, 0};
    for (const WaveSource& source : sources) {
      for (const WaveSource& end : ends) {
        const PatchCounts one = longest_ways(probes, source, end);
        way.along_u = std::max(way.along_u, one.along_u), way.along_v = std::max(way.along_v, one.along_v);
      }
    }
    const double base = patch.triangle ? 0.7 : patches.size() > 16 ? 1.6 : 4;
    all.push_back({base + 2.5 * way.along_u / wavelength,
                   patch.closed ? 3 * base + 1.9 * way.along_v / wavelength : base + 2.5 * way.along_v / wavelength});
  }
  return all;
}

double sample_count(const std::vector<MirrorPatch>& patches, const std::vector<PatchCounts>& counts, double density) {
  double total = 0;
  for (std::size_t k = 0; k < patches.size(); ++k)
    total += static_cast<double>(points(counts[k].along_u, density)) * points(counts[k].along_v, density);
  return total;
}

WaveSamples sample(const std::vector<MirrorPatch>& patches, const std::vector<PatchCounts>& counts, double density,
                   const Blocked& blocked) {
  WaveSamples samples;
  for (std::size_t k = 0; k < patches.size(); ++k) sample_patch(samples, patches[k], counts[k], density, blocked);
  return samples;
}

Blocked blocked_by_targets(const Scene& scene, const Vector3& toward) {
  struct InTheWay {
    TargetBody body;
    Pose pose;
  };
  std::vector<InTheWay> all;
  for (const Target& target : scene.targets) {
    if (target.shades) all.push_back({body_of(target.shape), target.pose});
  }
  return [all, toward](const Vector3& place) {
    return std::any_of(all.begin(), all.end(), [&](const InTheWay& one) {
      return one.body.meets(one.pose.turn.transpose() * (place - one.pose.at), one.pose.turn.transpose() * toward);
    });
  };
}

}  // namespace dishwright
