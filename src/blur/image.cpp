// SPDX-License-Identifier: MIT
#include "blur/image.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

/// 2^(−t) for t >= 0, by a polynomial on −1/2 … 1/2; relative error below 3e-6, held at 2^−100 beyond.
inline float power_of_half(float t) {
  const float held = t < 100.0F ? -t : -100.0F;
  const float shifted = held + 12582912.0F;  // 1.5 · 2^23: rounds to a whole number
  const float part = held - (shifted - 12582912.0F);
  const int whole = std::bit_cast<int>(shifted) - 0x4B400000;
  const float fraction =
      1.0F +
      part * (0.693147182F + part * (0.240226507F + part * (0.0555041087F + part * (0.00961812911F + part * 0.00133335581F))));
  return fraction * std::bit_cast<float>((whole + 127) << 23);
}

/// Adds with slope error: a sum of Gaussians in the plane of slopes.
template <int lobes>
void add_lobes(const Image& image, const float* x, const float* y, float* irradiance, int n) {
  const int count = lobes > 0 ? lobes : static_cast<int>(image.lobes.size());
  const ImageLobe* lobe = image.lobes.data();
  const float xi_x = image.xi_x, xi_y = image.xi_y, up_x = image.upsilon_x, up_y = image.upsilon_y;
  const float w_x = image.w_x, w_y = image.w_y, w_0 = image.w_0;
  const float tangent = image.tangent, bend = image.bend, level_bend = image.level_bend, skew = image.skew, level = image.level;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float w = w_0 + w_x * x[i] + w_y * y[i], per_w = 1.0F / w;
    const float X = (xi_x * x[i] + xi_y * y[i]) * per_w, Y = (up_x * x[i] + up_y * y[i]) * per_w;
    const float q = X * X + Y * Y;
    const float m = q * (0.5F - q * (0.125F - q * 0.0625F));  // √(1 + q) − 1
    const float per_d = 1.0F / (1.0F - 0.5F * X * tangent + 0.5F * m * bend);
    const float a = (X - m * tangent) * per_d, b = Y * per_d;
    float sum = 0;
    for (int j = 0; j < count; ++j) {
      const float da = lobes > 0 ? a : a - lobe[j].x, db = lobes > 0 ? b : b - lobe[j].y;
      sum += lobe[j].level * power_of_half(lobe[j].fall_x * da * da + lobe[j].fall_y * db * db);
    }
    const float mb = m * bend;
    const float jacobian = (1.0F - X * tangent + m * level_bend) * (1.0F - mb * (1.0F - mb));
    const float scale = per_w * per_d;
    const float value = level * sum * jacobian * (1.0F - skew * a) * scale * scale * scale;
    irradiance[i] += w > 0 ? value : 0.0F;
  }
}

/// Adds without slope error: a round table in the tangents of the ray.
void add_round(const Image& image, const float* x, const float* y, float* irradiance, int n) {
  const float* table = image.blur->round.table.data();
  const float per_step = image.blur->round.per_step, last = static_cast<float>(image.blur->round.table.size() - 2);
  const float xi_x = image.xi_x, xi_y = image.xi_y, up_x = image.upsilon_x, up_y = image.upsilon_y;
  const float w_x = image.w_x, w_y = image.w_y, w_0 = image.w_0, skew = image.skew, level = image.level;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float w = w_0 + w_x * x[i] + w_y * y[i], per_w = 1.0F / w;
    const float X = (xi_x * x[i] + xi_y * y[i]) * per_w, Y = (up_x * x[i] + up_y * y[i]) * per_w;
    const float place = std::sqrt(X * X + Y * Y) * per_step;
    const float held = place < last ? place : last;
    const int step = static_cast<int>(held);
    const float part = held - static_cast<float>(step);
    const float density = table[step] + part * (table[step + 1] - table[step]);
    const float value = level * density * (1.0F - skew * X) * per_w * per_w * per_w;
    irradiance[i] += w > 0 ? value : 0.0F;
  }
}

/// Where a ray with tangents (a, b) from the central ray meets the plane, relative to the central ray's place.
struct Bearings {
  Vector3 along, across_1, across_2;  // central ray; in the plane of incidence; across it
  double distance = 0;
};

void set_footprint(Image& image, const Bearings& ray, const ImagePlane& plane, double reach_1, double reach_2, double tangent) {
  const double cosine = std::abs(ray.along.dot(plane.normal)), lean = std::sqrt(std::max(0.0, 1 - cosine * cosine)) / cosine;
  const double widest = std::max(reach_1, reach_2);
  if (widest * lean > 0.6) {
    image.everywhere = true;
    return;
  }
  // δ = distance · A⁻¹ (X, Y), widened for perspective and for the bend of the coordinates.
  const double wider = (1 + 1.5 * widest * (0.7 + tangent)) / (1 - widest * lean);
  const double a = ray.across_1.dot(plane.across), b = ray.across_1.dot(plane.up), c = ray.across_2.dot(plane.across),
               d = ray.across_2.dot(plane.up), det = a * d - b * c;
  const double s1 = wider * reach_1 * ray.distance / det, s2 = wider * reach_2 * ray.distance / det;
  const double x1 = d * s1, x2 = -b * s2, y1 = -c * s1, y2 = a * s2;
  const double xx = x1 * x1 + x2 * x2, xy = x1 * y1 + x2 * y2, yy = y1 * y1 + y2 * y2;
  image.half_height = std::sqrt(yy);
  image.lean = xy / yy;
  image.half_width = std::sqrt(std::max(0.0, xx - xy * xy / yy));
}

/// Width of the finest detail that a Gaussian of this variance leaves of a disc of that variance, as far as sums over points must follow it:
/// both together where the Gaussian is wide, √2 of the Gaussian where it is narrow, half of the bare disc at least.
double detail(double gauss, double disc) {
  return std::sqrt(std::max(gauss + (gauss > 0 ? disc * gauss / (gauss + disc) : 0), disc / 4));
}

/// Centre and size of the image's light, by the four rays at ±√2 σ along each axis: right to third order in the blur.
void set_moments(Image& image, const Bearings& ray, const ImagePlane& plane, double sigma_1, double sigma_2) {
  double x = 0, y = 0, r2 = 0;
  for (int k = 0; k < 4; ++k) {
    const double side = (k % 2 == 0 ? 1 : -1) * std::numbers::sqrt2;
    const Vector3 u = ray.along + side * (k < 2 ? sigma_1 * ray.across_1 : sigma_2 * ray.across_2);
    const double toward = std::max(u.dot(plane.normal) / ray.along.dot(plane.normal), 0.1);
    const Vector3 apart = ray.distance * (u / toward - ray.along);
    const double dx = apart.dot(plane.across), dy = apart.dot(plane.up);
    x += dx / 4, y += dy / 4, r2 += (dx * dx + dy * dy) / 4;
  }
  image.x_mean = image.x0 + x, image.y_mean = image.y0 + y;
  image.width2 = r2 - x * x - y * y;
}

}  // namespace

Blur make_blur(const Sun& sun, const Reflector& reflector, double steepest) {
  Blur blur;
  blur.slope = reflector.slope_error, blur.spread = reflector.specular_spread;
  blur.disc = std::pow(std::sin(sun.half_angle), 2) / 4;
  if (blur.slope <= 0) {
    blur.round = round_kernel(sun, blur.spread);
    blur.reach = blur.round.edge;
    return blur;
  }
  const double widest = std::hypot(2 * blur.slope, blur.spread);
  blur.sun = sun_lobes(sun, std::hypot(2 * blur.slope * steepest, blur.spread));
  for (const Lobe& lobe : blur.sun.lobes)
    blur.reach = std::max(blur.reach, std::hypot(lobe.x, lobe.y) + lobe_reach(lobe.share, widest * widest + lobe.variance));
  return blur;
}

void Image::add(const float* x, const float* y, float* irradiance, int n) const {
  if (blur->slope <= 0) return add_round(*this, x, y, irradiance, n);
  const bool concentric = lobes.size() <= 8 && lobes.back().x == 0 && lobes.back().y == 0;
  if (!concentric) return add_lobes<0>(*this, x, y, irradiance, n);
  switch (lobes.size()) {
    case 1: return add_lobes<1>(*this, x, y, irradiance, n);
    case 3: return add_lobes<3>(*this, x, y, irradiance, n);
    case 4: return add_lobes<4>(*this, x, y, irradiance, n);
    case 6: return add_lobes<6>(*this, x, y, irradiance, n);
    case 8: return add_lobes<8>(*this, x, y, irradiance, n);
    default: return add_lobes<0>(*this, x, y, irradiance, n);
  }
}

std::optional<Image> make_image(const Blur& blur, const ImagePlane& plane, const MirrorPoint& place, const Vector3& sun,
                                double power) {
  const double cosine = place.normal.dot(sun), sine = std::sqrt(std::max(0.0, 1 - cosine * cosine)), tangent = sine / cosine;
  Bearings ray;
  ray.along = 2 * cosine * place.normal - sun;
  const double toward = ray.along.dot(plane.normal), depth = (plane.at - place.place).dot(plane.normal);
  if (!(std::abs(toward) > 0.02) || !(depth * toward > 0)) return std::nullopt;
  ray.distance = depth / toward;
  const Vector3 aside = sine > 1e-6 ? sun.cross(place.normal).normalized() : place.normal.unitOrthogonal();
  ray.across_2 = aside;
  ray.across_1 = aside.cross(ray.along);
  // In the plane of incidence, positive toward the mirror.
  if (ray.across_1.dot(place.normal) > 0) ray.across_1 = -ray.across_1;

  Image image;
  image.blur = &blur;
  image.power = power;
  image.front = toward > 0;
  const Vector3 meeting = place.place + ray.distance * ray.along - plane.at;
  image.x0 = meeting.dot(plane.across), image.y0 = meeting.dot(plane.up);
  image.xi_x = static_cast<float>(ray.across_1.dot(plane.across)), image.xi_y = static_cast<float>(ray.across_1.dot(plane.up));
  image.upsilon_x = static_cast<float>(aside.dot(plane.across)), image.upsilon_y = static_cast<float>(aside.dot(plane.up));
  image.w_x = static_cast<float>(ray.along.dot(plane.across)), image.w_y = static_cast<float>(ray.along.dot(plane.up));
  image.w_0 = static_cast<float>(ray.distance);
  image.level = static_cast<float>(power * std::abs(depth));

  const double turned = 2 * blur.slope, slope_1 = turned * turned, slope_2 = slope_1 * cosine * cosine,
               spread = blur.spread * blur.spread;
  const double own = blur.slope > 0 ? blur.sun.variance : blur.round.variance;
  const double all_1 = slope_1 + spread + own, all_2 = slope_2 + spread + own;
  image.skew = static_cast<float>(tangent * own / all_1);
  double reach_2 = blur.reach;
  if (blur.slope > 0) {
    const double share = slope_1 / all_1;  // of the blur that bends
    image.tangent = static_cast<float>(share * tangent);
    image.bend = static_cast<float>(share);
    image.level_bend = static_cast<float>(share * (1 + tangent * tangent) / 2);
    reach_2 = 0;
    for (const Lobe& lobe : blur.sun.lobes) {
      const double v1 = slope_1 + spread + lobe.variance, v2 = slope_2 + spread + lobe.variance;
      const double log2e = std::numbers::log2e;
      image.lobes.push_back({static_cast<float>(lobe.share / (2 * std::numbers::pi * std::sqrt(v1 * v2))),
                             static_cast<float>(lobe.x), static_cast<float>(lobe.y), static_cast<float>(0.5 * log2e / v1),
                             static_cast<float>(0.5 * log2e / v2)});
      reach_2 = std::max(reach_2, std::hypot(lobe.x, lobe.y) + lobe_reach(lobe.share, v2));
    }
  }
  set_footprint(image, ray, plane, blur.reach, reach_2, tangent);
  set_moments(image, ray, plane, std::sqrt(all_1), std::sqrt(all_2));
  image.sigma = ray.distance * detail(slope_2 + spread, blur.disc);  // across the plane of incidence it is narrowest
  return image;
}

}  // namespace dishwright
