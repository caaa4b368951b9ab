// SPDX-License-Identifier: MIT
#include "quadrature/work.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "quadrature/between.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double peak_places = 300;  // that an image is asked for while the peak is looked for
constexpr double inner_points = 2;   // to a cell of a curved face, on average

/// Means over the images on the front of a plane, by power.
struct Means {
  double size2 = 0;           // variance of the light along x of a band, else along one axis [m²]
  double sigma = 1e300;       // finest detail [m]
  double looks = 0;           // of all images at one place
  double across = 0, up = 0;  // half widths of the footprints [m]
};

double single_height(const Image& image) { return image.half_strip > 0 ? image.single_height : image.half_height; }

Means means_of(const std::vector<Image>& images, bool band) {
  Means out;
  double total = 0, x = 0, y = 0, x2 = 0, y2 = 0, own = 0;
  for (const Image& image : images) {
    if (!image.crosses || !image.front) continue;
    const double p = image.power, up = image.everywhere ? 8 * std::sqrt(image.width2) : single_height(image);
    total += p, x += p * image.x_mean, y += p * image.y_mean, own += p * image.width2;
    x2 += p * image.x_mean * image.x_mean, y2 += p * image.y_mean * image.y_mean;
    out.sigma = std::min(out.sigma, image.edge), out.looks += image.looks() / std::max(1, image.strip_nodes);
    out.across += p * (image.half_width + std::abs(image.lean) * up), out.up += p * up;
  }
  if (!(total > 0)) return out;
  const double spread_x = x2 / total - x * x / (total * total), spread_y = y2 / total - y * y / (total * total);
  out.size2 = own / total / 2 + (band ? spread_x : (spread_x + spread_y) / 2);
  out.across /= total, out.up /= total;
  return out;
}

}  // namespace

double rough_size(const std::vector<Image>& images, const Receiver& receiver) {
  if (receiver.flat()) return (receiver.band() ? 1.35 : 2.35) * std::sqrt(std::max(0.0, means_of(images, receiver.band()).size2));
  Vector3 middle = Vector3::Zero();
  double total = 0, spread = 0;
  for (const Image& image : images) total += image.power, middle += image.power * image.meeting;
  if (!(total > 0)) return 0;
  middle /= total;
  for (const Image& image : images)
    spread += image.power * ((image.meeting - middle).squaredNorm() + 2 * image.sigma * image.sigma);
  return 1.6 * std::sqrt(spread / total);
}

double widths_work(const std::vector<Image>& images, bool band) {
  const Means means = means_of(images, band);
  if (!(means.size2 > 0)) return 0;
  const double size = std::sqrt(means.size2), farthest = (band ? 1.65 : 2) * size;
  const bool sharp = std::any_of(images.begin(), images.end(), [](const Image& image) { return image.blur->slope <= 0; });
  const double rings = 6 * std::ceil(farthest / std::min(size, (sharp ? 0.8 : 2.5) * means.sigma));
  if (!band) return rings * std::clamp(pi * farthest / (1.1 * means.sigma), 24.0, 4096.0) * means.looks;
  const double along = std::clamp(2 * means.up / (0.9 * means.sigma), 16.0, 8192.0),
               beside = std::min(1.0, 2 * means.across / (2 * farthest));
  return rings * 2 * along * means.looks * beside;
}

double face_work(const std::vector<Image>& images, const MappedFace& face, double sigma) {
  const double across = face.width() / face.layout.columns, up = face.height() / face.layout.rows;
  const auto parts = [sigma, flat = face.flat](double cell) {
    return flat ? std::clamp(std::ceil(cell / (0.8 * sigma)), 1.0, 16.0) : std::clamp(std::ceil(cell / sigma), 1.0, 24.0);
  };
  double points = face.layout.columns * face.layout.rows * parts(across) * parts(up) * (face.flat ? 1 : inner_points);
  if (face.flat) {  // between places that stand apart the field is drawn
    const double smooth = smoothness(images, true);
    points /= steps_between(smooth, across / parts(across)) * steps_between(smooth, up / parts(up));
  }
  double total = 0;
  for (const Image& image : images) {
    const double reach = image.space.reach * image.distance,
                 area = face.flat ? pi * image.half_width * image.half_height : pi * reach * reach;
    const bool all = face.flat && image.everywhere;
    if (image.half_strip > 0) {  // rows at its ends, and all others alike
      const double ends = std::min(1.0, 4 * image.single_height / face.height());
      total += image.looks() * (peak_places + ends * points) + points;
      continue;
    }
    total += image.looks() * (peak_places + (all ? points : points * std::min(1.0, area / (face.width() * face.height()))));
  }
  return total;
}

}  // namespace dishwright
