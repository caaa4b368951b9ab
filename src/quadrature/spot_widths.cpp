// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quadrature_rule.h"
#include "quadrature/spot.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr int nodes = 6;    // of a panel in the distance from the centre
constexpr int lanes = 8;    // images are asked for whole vectors
constexpr int batch = 256;  // images between sums in double

/// Irradiance integrated round a circle, or over both sides of a band, per distance from the centre [W/m].
class Spread {
 public:
  Spread(const std::vector<Image>& images, SpotWidths& widths, bool band, Effort& effort)
      : images_(images), widths_(widths), band_(band), effort_(effort) {}

  /// Values at several distances.
  std::vector<double> at(const std::vector<double>& distances) const {
    std::vector<double> values;
    values.reserve(distances.size());
    for (const double distance : distances) values.push_back(band_ ? two_lines(distance) : circle(distance));
    return values;
  }

 private:
  /// Each image is asked for the part of the circle that it reaches. The points stand in the list twice, so that every part of
  /// the circle is one stretch of it.
  double circle(double radius) const {
    const double wanted = std::clamp(2 * pi * radius / (1.1 * widths_.sigma), 16.0, 4096.0);
    const int around = lanes * static_cast<int>(std::ceil(wanted / lanes));
    std::vector<double> x, y;
    for (int k = 0; k < 2 * around; ++k) {
      const double angle = 2 * pi * (k + 0.5) / around;
      x.push_back(widths_.centre[0] + radius * std::cos(angle)), y.push_back(widths_.centre[1] + radius * std::sin(angle));
    }
    std::vector<float> from_x(x.size()), from_y(x.size()), light(x.size(), 0);
    double total = 0;
    int held = 0;
    for (const Image& image : images_) {
      if (!image.crosses || !image.front) continue;
      const Part part = part_of(image, radius, around);
      if (part.count == 0) continue;
      effort_.spend(image.looks() * part.count);
      for (int k = part.begin; k < part.begin + part.count; ++k) {
        const std::size_t i = static_cast<std::size_t>(k);
        from_x[i] = static_cast<float>(x[i] - image.x0), from_y[i] = static_cast<float>(y[i] - image.y0);
      }
      image.add(from_x.data() + part.begin, from_y.data() + part.begin, light.data() + part.begin, part.count);
      if (++held % batch == 0) total += taken(light);
    }
    return (total + taken(light)) * 2 * pi * radius / around;
  }
  struct Part {
    int begin = 0, count = 0;  // count: whole vectors
  };
  /// The points that an image may reach.
  Part part_of(const Image& image, double radius, int around) const {
    const double x = image.x0 - widths_.centre[0], y = image.y0 - widths_.centre[1], away = std::sqrt(x * x + y * y);
    const double wide = image.half_width + std::abs(image.lean) * image.half_height,
                 reach2 = wide * wide + image.half_height * image.half_height;
    if (image.everywhere || reach2 >= (away + radius) * (away + radius)) return {0, around};
    if (reach2 <= (away - radius) * (away - radius)) return {};
    const double half =
        std::acos(std::clamp((away * away + radius * radius - reach2) / (2 * away * radius), -1.0, 1.0)) / (2 * pi);
    const double first = std::atan2(y, x) / (2 * pi) - half;
    const double count = lanes * (std::floor((2 * half * around + 1) / lanes) + 1);
    if (count >= around) return {0, around};
    const double begin = std::floor((first - std::floor(first)) * around);
    return {static_cast<int>(std::min(begin, around - 1.0)), static_cast<int>(count)};
  }
  static double taken(std::vector<float>& light) {
    double sum = 0;
    for (const float one : light) sum += one;
    std::fill(light.begin(), light.end(), 0.0F);
    return sum;
  }
  /// Each image along its own part of the lines; all of a strip's light passes a line of its middle's.
  double two_lines(double distance) const {
    double total = 0;
    std::vector<float> x, y, light;
    for (const Image& image : images_) {
      if (!image.crosses || !image.front) continue;
      const double half = image.everywhere       ? 8 * std::sqrt(image.width2)
                          : image.half_strip > 0 ? image.single_height
                                                 : image.half_height;
      const double reach = image.half_width + std::abs(image.lean) * half;
      const double wanted = std::clamp(2 * half / (0.9 * widths_.sigma), 16.0, 8192.0);
      const int along = lanes * static_cast<int>(std::ceil(wanted / lanes));
      for (const double side : {-1.0, 1.0}) {
        const double aside = widths_.centre[0] + side * distance - image.x0;
        if (!image.everywhere && std::abs(aside) > reach) continue;
        effort_.spend(image.looks() / std::max(1, image.strip_nodes) * along);
        x.assign(static_cast<std::size_t>(along), static_cast<float>(aside)), light.assign(x.size(), 0.0F), y.clear();
        for (int k = 0; k < along; ++k) y.push_back(static_cast<float>(half * ((2 * k + 1.0) / along - 1)));
        image.add_single(x.data(), y.data(), light.data(), along);
        total += taken(light) * 2 * half / along;
      }
    }
    return total;
  }
  const std::vector<Image>& images_;
  const SpotWidths& widths_;
  bool band_;
  Effort& effort_;
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
