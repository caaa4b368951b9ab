// SPDX-License-Identifier: MIT
#include "quadrature/image.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

constexpr double worst_narrow = 1e-3;  // error of a NarrowKernel; sharper bowls take points of the sun
constexpr double disc_parts = 50;      // to which a disc's sharp edge is followed, by trial (decision 11)

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
  double gauss = 0;                 // σ of the Gaussian that smears it where it is narrowest [rad]
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
  image.smooth = ray.distance * widths.gauss * (1 - widest * lean);
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

/// Width of the finest detail that a Gaussian of this variance leaves of a disc of that variance, as far as sums over points must
/// follow it: both together where the Gaussian is wide, √2 of the Gaussian where it is narrow, half of the bare disc at least.
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
  widths.gauss = std::sqrt(slope_2 + spread);  // across the plane of incidence it is narrowest
  if (blur.slope > 0) {
    const double share = slope_1 / widths.all_1;  // of the blur that bends
    image.tangent = static_cast<float>(share * tangent);
    image.bend = static_cast<float>(share);
    image.level_bend = static_cast<float>(share * (1 + tangent * tangent) / 2);
    if (blur.sun.lobes.empty()) {
      image.narrow = blur.narrow.table(ray.cosine);
      widths.detail = detail(slope_2 + spread, blur.disc);
      return widths;
    }
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
  widths.detail = detail(slope_2 + spread, blur.disc);
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
  const Blur& blur = *image.blur;
  // All images may have their edges in one place: what sums miss there does not average out.
  const double edge = blur.slope > 0 ? widths.detail : std::max(blur.spread, std::sqrt(blur.disc) / disc_parts);
  image.edge = std::min(image.sigma, ray.distance * edge);
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
  const double widest = std::hypot(2 * blur.slope, blur.spread), narrowest = std::hypot(2 * blur.slope * steepest, blur.spread);
  if (narrowest < narrow_lobes * sun.half_angle && sun.disc != DiscProfile::aureole) {
    blur.narrow = NarrowKernel(sun, blur.slope, blur.spread, steepest);
    if (blur.narrow.error() < worst_narrow) {
      blur.sun = {{}, blur.narrow.error(), blur.narrow.variance()};
      blur.reach = blur.narrow.edge();
      return blur;
    }
  }
  blur.sun = sun_lobes(sun, narrowest);
  for (const Lobe& lobe : blur.sun.lobes)
    blur.reach = std::max(blur.reach, std::hypot(lobe.x, lobe.y) + lobe_reach(lobe.share, widest * widest + lobe.variance));
  return blur;
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
