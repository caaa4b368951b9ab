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

/// What a place is to an image: distance w along the central ray, ξ and υ across it, and the factor of density/w³.
struct InRay {
  float w, xi, upsilon, level;
};

/// Places on the plane, relative to the central ray's.
class OnPlane {
 public:
  OnPlane(const Image& image, const float* x, const float* y)
      : x_(x),
        y_(y),
        xi_x_(image.xi_x),
        xi_y_(image.xi_y),
        up_x_(image.upsilon_x),
        up_y_(image.upsilon_y),
        w_x_(image.w_x),
        w_y_(image.w_y),
        w_0_(image.w_0),
        level_(image.level) {}
  InRay operator[](int i) const {
    return {w_0_ + w_x_ * x_[i] + w_y_ * y_[i], xi_x_ * x_[i] + xi_y_ * y_[i], up_x_ * x_[i] + up_y_ * y_[i], level_};
  }

 private:
  const float *x_, *y_;
  float xi_x_, xi_y_, up_x_, up_y_, w_x_, w_y_, w_0_, level_;
};

/// Places on a body; dark where it faces away.
class OnBody {
 public:
  OnBody(const Image& image, const SurfacePlaces& places)
      : p_(places), ray_(image.space), power_(static_cast<float>(image.power)) {}
  InRay operator[](int i) const {
    const float x = p_.px[i], y = p_.py[i], z = p_.pz[i];
    const auto along = [=](const std::array<float, 3>& axis, float off) { return axis[0] * x + axis[1] * y + axis[2] * z + off; };
    const float depth = p_.nx[i] * ray_.at[0] + p_.ny[i] * ray_.at[1] + p_.nz[i] * ray_.at[2] - p_.support[i];
    return {along(ray_.toward, ray_.off_w), along(ray_.across_1, ray_.off_1), along(ray_.across_2, ray_.off_2),
            power_ * (depth > 0 ? depth : 0.0F)};
  }

 private:
  SurfacePlaces p_;
  SpaceRay ray_;
  float power_;
};

/// Adds with slope error: a sum of Gaussians in the plane of slopes.
template <int lobes, typename Places>
void add_lobes(const Image& image, const Places places, float* irradiance, int n) {
  const int count = lobes > 0 ? lobes : static_cast<int>(image.lobes.size());
  const ImageLobe* lobe = image.lobes.data();
  const float tangent = image.tangent, bend = image.bend, level_bend = image.level_bend, skew = image.skew;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const InRay at = places[i];
    const float w = at.w, per_w = 1.0F / w;
    const float X = at.xi * per_w, Y = at.upsilon * per_w;
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
    const float value = at.level * sum * jacobian * (1.0F - skew * a) * scale * scale * scale;
    irradiance[i] += w > 0 ? value : 0.0F;
  }
}

/// Adds without slope error: a round table in the tangents of the ray.
template <typename Places>
void add_round(const Image& image, const Places places, float* irradiance, int n) {
  const float* table = image.blur->round.table.data();
  const float per_step = image.blur->round.per_step, last = static_cast<float>(image.blur->round.table.size() - 2);
  const float skew = image.skew;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const InRay at = places[i];
    const float w = at.w, per_w = 1.0F / w;
    const float X = at.xi * per_w, Y = at.upsilon * per_w;
    const float place = std::sqrt(X * X + Y * Y) * per_step;
    const float held = place < last ? place : last;
    const int step = static_cast<int>(held);
    const float part = held - static_cast<float>(step);
    const float density = table[step] + part * (table[step + 1] - table[step]);
    const float value = at.level * density * (1.0F - skew * X) * per_w * per_w * per_w;
    irradiance[i] += w > 0 ? value : 0.0F;
  }
}

template <typename Places>
void add_blurred(const Image& image, const Places& places, float* irradiance, int n) {
  if (image.blur->slope <= 0) return add_round(image, places, irradiance, n);
  const bool concentric = image.lobes.size() <= 8 && image.lobes.back().x == 0 && image.lobes.back().y == 0;
  if (!concentric) return add_lobes<0>(image, places, irradiance, n);
  switch (image.lobes.size()) {
    case 1: return add_lobes<1>(image, places, irradiance, n);
    case 3: return add_lobes<3>(image, places, irradiance, n);
    case 4: return add_lobes<4>(image, places, irradiance, n);
    case 6: return add_lobes<6>(image, places, irradiance, n);
    case 8: return add_lobes<8>(image, places, irradiance, n);
    default: return add_lobes<0>(image, places, irradiance, n);
  }
}

/// A central ray and its distance to where it goes.
struct Bearings {
  Vector3 along, across_1, across_2;  // central ray; in the plane of incidence; across it
  double cosine = 1, tangent = 0;     // of the incidence
  double distance = 0;
};

Bearings bearings_of(const MirrorPoint& place, const Vector3& sun) {
  Bearings ray;
  ray.cosine = place.normal.dot(sun);
  const double sine = std::sqrt(std::max(0.0, 1 - ray.cosine * ray.cosine));
  ray.tangent = sine / ray.cosine;
  ray.along = 2 * ray.cosine * place.normal - sun;
  const Vector3 aside = sine > 1e-6 ? sun.cross(place.normal).normalized() : place.normal.unitOrthogonal();
  ray.across_2 = aside;
  ray.across_1 = aside.cross(ray.along);
  // In the plane of incidence, positive toward the mirror.
  if (ray.across_1.dot(place.normal) > 0) ray.across_1 = -ray.across_1;
  return ray;
}

/// Widths of a blur along both axes.
struct BlurWidths {
  double all_1 = 0, all_2 = 0;      // variances [rad²]
  double reach_1 = 0, reach_2 = 0;  // angles beyond which nothing is counted
  double detail = 0;                // width of the finest detail [rad]
};

/// How far the footprint is widened for the bend of the coordinates.
double widening(const BlurWidths& widths, double tangent) {
  return 1 + 1.5 * std::max(widths.reach_1, widths.reach_2) * (0.7 + tangent);
}

void set_footprint(Image& image, const Bearings& ray, const ImagePlane& plane, const BlurWidths& widths) {
  const double reach_1 = widths.reach_1, reach_2 = widths.reach_2;
  const double cosine = std::abs(ray.along.dot(plane.normal)), lean = std::sqrt(std::max(0.0, 1 - cosine * cosine)) / cosine;
  const double widest = std::max(reach_1, reach_2);
  if (widest * lean > 0.6) {
    image.everywhere = true;
    return;
  }
  // δ = distance · A⁻¹ (X, Y), widened for perspective and for the bend of the coordinates.
  const double wider = widening(widths, ray.tangent) / (1 - widest * lean);
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
void set_moments(Image& image, const Bearings& ray, const ImagePlane& plane, const BlurWidths& widths) {
  const double sigma_1 = std::sqrt(widths.all_1), sigma_2 = std::sqrt(widths.all_2);
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

/// Constants of the blur at one place.
BlurWidths set_blur(Image& image, const Blur& blur, const Bearings& ray, double power) {
  image.blur = &blur;
  image.power = power;
  BlurWidths widths;
  const double turned = 2 * blur.slope, slope_1 = turned * turned, slope_2 = slope_1 * ray.cosine * ray.cosine,
               spread = blur.spread * blur.spread, tangent = ray.tangent;
  const double own = blur.slope > 0 ? blur.sun.variance : blur.round.variance;
  widths.all_1 = slope_1 + spread + own, widths.all_2 = slope_2 + spread + own;
  image.skew = static_cast<float>(tangent * own / widths.all_1);
  widths.reach_1 = widths.reach_2 = blur.reach;
  if (blur.slope > 0) {
    const double share = slope_1 / widths.all_1;  // of the blur that bends
    image.tangent = static_cast<float>(share * tangent);
    image.bend = static_cast<float>(share);
    image.level_bend = static_cast<float>(share * (1 + tangent * tangent) / 2);
    widths.reach_2 = 0;
    for (const Lobe& lobe : blur.sun.lobes) {
      const double v1 = slope_1 + spread + lobe.variance, v2 = slope_2 + spread + lobe.variance;
      const double log2e = std::numbers::log2e;
      image.lobes.push_back({static_cast<float>(lobe.share / (2 * std::numbers::pi * std::sqrt(v1 * v2))),
                             static_cast<float>(lobe.x), static_cast<float>(lobe.y), static_cast<float>(0.5 * log2e / v1),
                             static_cast<float>(0.5 * log2e / v2)});
      widths.reach_2 = std::max(widths.reach_2, std::hypot(lobe.x, lobe.y) + lobe_reach(lobe.share, v2));
    }
  }
  widths.detail = detail(slope_2 + spread, blur.disc);  // across the plane of incidence it is narrowest
  return widths;
}

/// Distance to the plane; empty where the ray runs along it or away from it.
std::optional<double> plane_distance(const ImagePlane& plane, const Vector3& place, const Bearings& ray) {
  const double toward = ray.along.dot(plane.normal), depth = (plane.at - place).dot(plane.normal);
  if (!(std::abs(toward) > 0.02) || !(depth * toward > 0)) return std::nullopt;
  return depth / toward;
}

/// Sets what the plane needs to know.
void set_plane(Image& image, const ImagePlane& plane, const Vector3& place, const Bearings& ray, const BlurWidths& widths) {
  image.crosses = true;
  image.front = ray.along.dot(plane.normal) > 0;
  const Vector3 meeting = place + ray.distance * ray.along - plane.at;
  image.x0 = meeting.dot(plane.across), image.y0 = meeting.dot(plane.up);
  image.xi_x = static_cast<float>(ray.across_1.dot(plane.across)), image.xi_y = static_cast<float>(ray.across_1.dot(plane.up));
  image.upsilon_x = static_cast<float>(ray.across_2.dot(plane.across));
  image.upsilon_y = static_cast<float>(ray.across_2.dot(plane.up));
  image.w_x = static_cast<float>(ray.along.dot(plane.across)), image.w_y = static_cast<float>(ray.along.dot(plane.up));
  image.w_0 = static_cast<float>(ray.distance);
  image.level = static_cast<float>(image.power * std::abs((plane.at - place).dot(plane.normal)));
  set_footprint(image, ray, plane, widths);
  set_moments(image, ray, plane, widths);
}

void set_distance(Image& image, const MirrorPoint& place, const Bearings& ray, const BlurWidths& widths) {
  image.distance = ray.distance;
  image.meeting = place.place + ray.distance * ray.along;
  image.sigma = ray.distance * widths.detail;
}

SpaceRay space_ray(const Receiver& receiver, const MirrorPoint& place, const Bearings& ray, const BlurWidths& widths) {
  SpaceRay out;
  out.from = receiver.own_place(place.place);
  out.reach = std::tan(std::min(1.5, std::max(widths.reach_1, widths.reach_2) * widening(widths, ray.tangent)));
  const auto set = [&](std::array<float, 3>& axis, const Vector3& own) {
    for (int k = 0; k < 3; ++k) axis[static_cast<std::size_t>(k)] = static_cast<float>(own[k]);
    return static_cast<float>(-own.dot(out.from));
  };
  out.along = receiver.own_direction(ray.along);
  set(out.at, out.from);
  out.off_w = set(out.toward, out.along);
  out.off_1 = set(out.across_1, receiver.own_direction(ray.across_1));
  out.off_2 = set(out.across_2, receiver.own_direction(ray.across_2));
  return out;
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
  add_blurred(*this, OnPlane(*this, x, y), irradiance, n);
}

void Image::add(const SurfacePlaces& places, float* irradiance, int n) const {
  add_blurred(*this, OnBody(*this, places), irradiance, n);
}

std::optional<Image> make_image(const Blur& blur, const ImagePlane& plane, const MirrorPoint& place, const Vector3& sun,
                                double power) {
  Bearings ray = bearings_of(place, sun);
  const auto distance = plane_distance(plane, place.place, ray);
  if (!distance) return std::nullopt;
  ray.distance = *distance;
  Image image;
  const BlurWidths widths = set_blur(image, blur, ray, power);
  set_distance(image, place, ray, widths);
  set_plane(image, plane, place.place, ray, widths);
  return image;
}

std::optional<Image> make_body_image(const Blur& blur, const Receiver& receiver, const MirrorPoint& place, const Vector3& sun,
                                     double power) {
  Bearings ray = bearings_of(place, sun);
  ray.distance = receiver.distance(receiver.own_place(place.place), receiver.own_direction(ray.along));
  if (!(ray.distance > 0)) return std::nullopt;
  Image image;
  const BlurWidths widths = set_blur(image, blur, ray, power);
  set_distance(image, place, ray, widths);
  image.space = space_ray(receiver, place, ray, widths);
  const auto to_plane = receiver.has_plane() ? plane_distance(receiver.plane(), place.place, ray) : std::nullopt;
  if (to_plane) {
    ray.distance = *to_plane;
    set_plane(image, receiver.plane(), place.place, ray, widths);
  }
  return image;
}

std::optional<Image> image_on(const Blur& blur, const Receiver& receiver, const MirrorPoint& place, const Vector3& sun,
                              double power) {
  if (receiver.flat()) return make_image(blur, receiver.plane(), place, sun, power);
  return make_body_image(blur, receiver, place, sun, power);
}

double steps_apart(const Image& a, const Image& b) { return (a.meeting - b.meeting).norm() / std::min(a.sigma, b.sigma); }

}  // namespace dishwright
