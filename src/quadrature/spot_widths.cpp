// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quadrature_rule.h"
#include "quadrature/spot.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr int nodes = 6;  // of a panel in the distance from the centre

/// Irradiance integrated round a circle, or over both sides of a band, per distance from the centre [W/m].
class Spread {
 public:
  Spread(const std::vector<Image>& images, SpotWidths& widths, bool band, Effort& effort)
      : images_(images), widths_(widths), band_(band), effort_(effort) {
    for (const Image& image : images) {
      if (!image.crosses || !image.front) continue;
      const double half = image.everywhere ? 8 * std::sqrt(image.width2) : image.half_height;
      y_from_ = std::min(y_from_, image.y0 - half), y_to_ = std::max(y_to_, image.y0 + half);
    }
  }

  /// Values at several distances.
  std::vector<double> at(const std::vector<double>& distances) const {
    std::vector<double> values;
    values.reserve(distances.size());
    for (const double distance : distances) values.push_back(band_ ? two_lines(distance) : circle(distance));
    return values;
  }

 private:
  double circle(double radius) const {
    const int around = static_cast<int>(std::clamp(std::ceil(2 * pi * radius / (1.1 * widths_.sigma)), 24.0, 4096.0));
    PlanePoints points;
    for (int k = 0; k < around; ++k) {
      const double angle = 2 * pi * (k + 0.5) / around;
      points.x.push_back(widths_.centre[0] + radius * std::cos(angle));
      points.y.push_back(widths_.centre[1] + radius * std::sin(angle));
    }
    return sum(points) * 2 * pi * radius / around;
  }
  double two_lines(double distance) const {
    const int along = static_cast<int>(std::clamp(std::ceil((y_to_ - y_from_) / (0.9 * widths_.sigma)), 16.0, 8192.0));
    // In short pieces, so that only the images near a piece are asked.
    constexpr int piece = 48;
    double total = 0;
    for (const double side : {-1.0, 1.0}) {
      for (int first = 0; first < along; first += piece) {
        PlanePoints points;
        for (int k = first; k < std::min(along, first + piece); ++k) {
          points.x.push_back(widths_.centre[0] + side * distance);
          points.y.push_back(y_from_ + (k + 0.5) * (y_to_ - y_from_) / along);
        }
        total += sum(points);
      }
    }
    return total * (y_to_ - y_from_) / along;
  }
  double sum(const PlanePoints& points) const {
    double total = 0;
    for (const double value : field_at_points(images_, true, points, effort_)) total += value;
    return total;
  }
  const std::vector<Image>& images_;
  const SpotWidths& widths_;
  bool band_;
  Effort& effort_;
  double y_from_ = 1e300, y_to_ = -1e300;
};

/// A panel of distances with the values there; integrals of the polynomial through them.
struct Panel {
  double from = 0, to = 0;
  std::vector<double> values;

  double polynomial(const Rule& rule, double at) const {
    double value = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
      double basis = 1;
      for (std::size_t j = 0; j < values.size(); ++j) {
        if (j != i) basis *= (at - rule.at[j]) / (rule.at[i] - rule.at[j]);
      }
      value += values[i] * basis;
    }
    return value;
  }
  /// ∫ from the panel's start to a share of its length.
  double integral(const Rule& rule, double share) const {
    double total = 0;
    for (std::size_t i = 0; i < rule.at.size(); ++i) total += rule.weight[i] * polynomial(rule, share * rule.at[i]);
    return total * share * (to - from);
  }
  double where(const Rule& rule, double wanted) const {
    double low = 0, high = 1;
    for (int step = 0; step < 40; ++step) {
      const double middle = (low + high) / 2;
      (integral(rule, middle) < wanted ? low : high) = middle;
    }
    return from + (low + high) / 2 * (to - from);
  }
};

}  // namespace

SpotWidths spot_widths(const std::vector<Image>& images, bool band, const std::optional<std::array<double, 2>>& about,
                       double coarser, Effort& effort) {
  SpotWidths out;
  double total = 0, x = 0, y = 0;
  bool sharp = false;
  out.sigma = 1e300;
  for (const Image& image : images) {
    if (!image.crosses || !image.front) continue;
    total += image.power, x += image.power * image.x_mean, y += image.power * image.y_mean;
    out.sigma = std::min(out.sigma, coarser * image.edge);
    sharp = sharp || image.blur->slope <= 0;
  }
  if (!(total > 0)) return out;
  out.centre = about.value_or(std::array<double, 2>{x / total, y / total});
  double size2 = 0;
  for (const Image& image : images) {
    if (!image.crosses || !image.front) continue;
    const double dx = image.x_mean - out.centre[0], dy = image.y_mean - out.centre[1];
    size2 += image.power / total * (band ? dx * dx + image.width2 / 2 : (dx * dx + dy * dy + image.width2) / 2);
  }
  // Panels outward until nine tenths are inside; narrow ones where the sun's edge is sharp.
  const Rule rule = gauss_rule(nodes);
  const Spread spread(images, out, band, effort);
  const double size = std::sqrt(size2), step = std::min(coarser * size, (sharp ? 0.8 : 2.5) * out.sigma);
  double inside = 0;
  const int most_panels = static_cast<int>(std::ceil(12 * size / step));
  for (int k = 0; k < most_panels; ++k) {
    const double from = k * step;
    Panel panel{from, from + step, {}};
    std::vector<double> distances;
    for (const double at : rule.at) distances.push_back(from + step * at);
    panel.values = spread.at(distances);
    const double more = panel.integral(rule, 1);
    if (!out.half && inside + more >= 0.5 * total) out.half = 2 * panel.where(rule, 0.5 * total - inside);
    if (inside + more >= 0.9 * total) {
      out.most = 2 * panel.where(rule, 0.9 * total - inside);
      break;
    }
    inside += more;
  }
  return out;
}

}  // namespace dishwright
