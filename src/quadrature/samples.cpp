// SPDX-License-Identifier: MIT
#include "quadrature/samples.h"

#include <algorithm>
#include <cmath>

#include "base/quadrature_rule.h"

namespace dishwright {

namespace {

constexpr double smooth_u = 4;                         // points along u that a mirror needs which sends all light to one place
constexpr double alone = 0.4;                          // part of them that even the shortest stretch keeps
constexpr double one_break = 1e-4;                     // of v, between breaks that are as good as one
constexpr double most_smooth = 60;                     // σ of the smear in half an image's height, of images drawn out
constexpr int probes_u = 9, probes_v = 16, finer = 8;  // finer: of surfaces that are known by heights

std::vector<double> breaks_of_v(const std::vector<double>& changes) {
  std::vector<double> breaks = changes;
  breaks.insert(breaks.begin(), 0);
  breaks.push_back(1);
  return breaks;
}

/// Those at which strips end. Where the sun leans along a trough, a shadow ends a little sooner on high places than on low ones:
/// breaks that near to one another are one, in their middle, which has the same lit area.
std::vector<double> ends_of_strips(const std::vector<double>& changes) {
  std::vector<double> ends;
  double first = 0, last = 0;
  const auto close = [&] { ends.push_back(first <= 0 ? 0 : last >= 1 ? 1 : (first + last) / 2); };
  for (const double at : breaks_of_v(changes)) {
    if (at - first > one_break) {
      close();
      first = at;
    }
    last = at;
  }
  close();
  return ends;
}

/// The middles of the strips.
Rule strips_of_v(const std::vector<double>& changes) {
  const std::vector<double> breaks = ends_of_strips(changes);
  Rule rule;
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    rule.at.push_back((breaks[i] + breaks[i + 1]) / 2), rule.weight.push_back(breaks[i + 1] - breaks[i]);
  }
  return rule;
}

/// Gauss-Legendre points between the breaks of 0 … 1, or evenly spaced ones round a closed line. A shadow begins and ends as the
/// root of the
/// distance: toward a break the points crowd, so that the root is smooth to them.
Rule rule_of_v(const MirrorPatch& patch, const std::vector<double>& changes, double count, int order) {
  if (patch.closed && changes.empty()) return even_rule(points_at(count, order));
  const std::vector<double> breaks = breaks_of_v(changes);
  Rule rule;
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    const double length = breaks[i + 1] - breaks[i];
    if (length <= 0) continue;
    const bool low = i > 0, high = i + 2 < breaks.size();
    const double least = low || high ? 5 : 4;
    const Rule part = gauss_rule(points_at(std::max(least, 1.3 * count * length), order));
    for (std::size_t k = 0; k < part.at.size(); ++k) {
      const double t = part.at[k], r = 1 - t;
      const double at = low && high ? t * t * (3 - 2 * t) : low ? t * t : high ? 1 - r * r : t;
      const double slope = low && high ? 6 * t * r : low ? 2 * t : high ? 2 * r : 1;
      rule.at.push_back(breaks[i] + length * at);
      rule.weight.push_back(length * slope * part.weight[k]);
    }
  }
  return rule;
}

}  // namespace

bool falls_in_strips(const MirrorPatch& patch, const Blur& blur, const Receiver& receiver, const Shadow& shadow,
                     const std::vector<double>& changes, const Vector3& sun) {
  if (!patch.drawn || !receiver.flat() || !receiver.band()) return false;
  const Vector3 along = (patch.at(0.5, 1).place - patch.at(0.5, 0).place).normalized();
  if (along.cross(receiver.plane().up).norm() > 1e-9) return false;
  for (int i = 0; i < probes_u; ++i) {
    const auto image = image_on(blur, receiver, patch.at((i + 0.5) / probes_u, 0.5), sun, 1);
    if (!image || image->everywhere || image->half_height > most_smooth * image->smooth) return false;
  }
  const std::vector<double> breaks = ends_of_strips(changes);
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    const double from = breaks[i], length = breaks[i + 1] - from;
    const auto low = shadow.lit(patch, from + 0.01 * length), high = shadow.lit(patch, from + 0.99 * length);
    const auto same = [](const Shadow::Stretch& a, const Shadow::Stretch& b) {
      return std::abs(a.from - b.from) < 1e-8 && std::abs(a.to - b.to) < 1e-8;
    };
    if (!std::equal(low.begin(), low.end(), high.begin(), high.end(), same)) return false;
  }
  return true;
}

int points_at(double wanted, int order) {
  const auto whole = [wanted](double share) { return static_cast<int>(std::clamp(std::ceil(share * wanted - 1e-9), 1.0, 1e6)); };
  double share = 1;
  int points = whole(0.7);
  for (int k = 1; k <= order; ++k) {
    points = std::max(points + 1, whole(share));
    share *= 1.4;
  }
  return points;
}

SampleCounts counts_for(const MirrorPatch& patch, const Blur& blur, const Receiver& receiver, const Vector3& sun) {
  const int across = patch.heights ? probes_u * finer : probes_u, round = patch.heights ? probes_v * finer : probes_v;
  // Length of the path of the image, in image widths, along lines of u and of v.
  std::vector<double> path_u(static_cast<std::size_t>(round), 0), path_v(static_cast<std::size_t>(across), 0);
  std::vector<std::optional<Image>> before(static_cast<std::size_t>(across));
  for (int j = 0; j <= round; ++j) {
    std::optional<Image> last;
    for (int i = 0; i < across; ++i) {
      const MirrorPoint place = patch.at((i + 0.5) / across, static_cast<double>(j) / round);
      std::optional<Image> image = image_on(blur, receiver, place, sun, 1);
      const auto apart = [&image](const std::optional<Image>& other) {
        return image && other ? steps_apart(*image, *other) : 0.0;
      };
      if (i > 0 && j < round) path_u[static_cast<std::size_t>(j)] += apart(last);
      if (j > 0) path_v[static_cast<std::size_t>(i)] += apart(before[static_cast<std::size_t>(i)]);
      last = image;
      before[static_cast<std::size_t>(i)] = std::move(image);
    }
  }
  const double longest_u = *std::max_element(path_u.begin(), path_u.end());
  const double longest_v = *std::max_element(path_v.begin(), path_v.end());
  // Gauss points lie wider in the middle than even ones.
  const double along_v = patch.closed ? std::max(16.0, 8 + 0.75 * longest_v) : 4 + 0.85 * longest_v;
  return {smooth_u + 1.1 * longest_u, along_v};
}

std::optional<Image> image_of(const MirrorSample& sample, const Blur& blur, const Receiver& receiver, const Vector3& sun,
                              double power) {
  auto image = image_on(blur, receiver, sample.place, sun, power);
  if (image && sample.strip != Vector3::Zero()) draw_out(*image, std::abs(sample.strip.dot(receiver.plane().up)));
  return image;
}

std::vector<MirrorSample> mirror_samples(const MirrorPatch& patch, const Shadow& shadow, const std::vector<double>& changes,
                                         const Vector3& sun, double beam, const SampleCounts& counts, int order) {
  std::vector<MirrorSample> samples;
  const Rule along_v = counts.strips ? strips_of_v(changes) : rule_of_v(patch, changes, counts.along_v, order);
  for (std::size_t j = 0; j < along_v.at.size(); ++j) {
    for (const Shadow::Stretch& stretch : shadow.lit(patch, along_v.at[j])) {
      const double length = stretch.to - stretch.from;
      const double wanted = (counts.along_u - smooth_u) * length + smooth_u * (alone + (1 - alone) * length);
      const Rule along_u = gauss_rule(points_at(wanted, order));
      for (std::size_t i = 0; i < along_u.at.size(); ++i) {
        const double u = stretch.from + length * along_u.at[i];
        MirrorSample sample{patch.reflector, patch.at(u, along_v.at[j]), 0};
        if (counts.strips) sample.strip = along_v.weight[j] * (patch.at(u, 1).place - patch.at(u, 0).place);
        const double cosine = std::max(0.0, sample.place.normal.dot(sun));
        sample.power = beam * cosine * sample.place.area * length * along_u.weight[i] * along_v.weight[j];
        samples.push_back(sample);
      }
    }
  }
  return samples;
}

}  // namespace dishwright
