// SPDX-License-Identifier: MIT
// The small image of the sun that one place of a mirror lays on the target's plane.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include "quadrature/narrow_kernel.h"
#include "quadrature/receiver.h"
#include "quadrature/sun_kernel.h"
#include "scene/mirror_patches.h"

namespace dishwright {

/// How one mirror blurs the sun.
///
/// With slope error: in slopes. The half vector m between a ray u and the sun's centre gives the slope that would send light
/// there; its density is Gaussian and the Jacobian of reflection exact, dω_m = dω_u / (4 u·m). The
/// sun's disc, in these coordinates an ellipse, adds its Gaussians (SunLobes), or, where the slope error is narrow, is in the
/// table of a NarrowKernel; specular spread adds its variance. Where disc or
/// spread share in the blur, the bend of the coordinates (second order in the blur) is taken in proportion to the slope error's
/// share.
/// Without: in tangents of the ray's own angles, by RoundKernel: exact.
struct Blur {
  double slope = 0, spread = 0;  ///< of the reflector [rad]
  double disc = 0;               ///< variance of an even disc of the sun's size along one axis [rad²]
  SunLobes sun;                  ///< with slope error
  NarrowKernel narrow;           ///< with a narrow one, instead of lobes
  RoundKernel round;             ///< without
  double reach = 0;              ///< angle beyond which nothing is counted: sun's edge or widest lobe, and 5 σ [rad]
};
/// `steepest` is the smallest cosine of incidence on that mirror.
Blur make_blur(const Sun& sun, const Reflector& reflector, double steepest);

/// One Gaussian with the constants of one place.
struct ImageLobe {
  float level, x, y, fall_x, fall_y;
};

/// An image's central ray as a body's faces see it: own frame of the target.
struct SpaceRay {
  Vector3 from = Vector3::Zero(), along = Vector3::UnitZ();  ///< place on the mirror [m]; unit
  double reach = 0;                                          ///< tangent of the angle beyond which nothing is counted
  std::array<float, 3> at{}, toward{}, across_1{}, across_2{};
  float off_w = 0, off_1 = 0, off_2 = 0;  ///< distances along the axes of the target's origin [m]
};

/// Places on a body, own frame: coordinates, outward normals, normal · place.
struct SurfacePlaces {
  const float *px, *py, *pz, *nx, *ny, *nz, *support;
};

/// Places in a row, evenly spaced along x: the first, relative to the image's central ray [m], and where its light goes.
struct ImageRow {
  float x, y;
  std::ptrdiff_t to;
  int count;
};

/// Irradiance of one image: with tangents X = ξ/w, Y = υ/w of the ray's angles from the central ray, in the plane of incidence
/// and across.
struct Image {
  const Blur* blur = nullptr;
  double power = 0;                   ///< leaves the mirror here [W]
  double distance = 0;                ///< to the target along the central ray [m]
  Vector3 meeting = Vector3::Zero();  ///< where the central ray meets the target [m]
  bool crosses = false;               ///< the plane, so that all down to the footprint is set
  bool front = true;                  ///< comes to the front of the plane
  double x0 = 0, y0 = 0;              ///< where the central ray meets the plane [m]
  double x_mean = 0, y_mean = 0;      ///< centre of the image's light [m]
  double width2 = 0;                  ///< mean square of the image's light about its centre, x and y together [m²]
  double sigma = 0;                   ///< width of its finest detail [m]
  double smooth = 0;                  ///< σ of a Gaussian that smears all its detail on the plane [m]; 0: there may be edges
  double edge = 0;  ///< width of its sharpest edge, as far as sums along lines must follow it [m]; sigma where it is smooth
  float xi_x = 0, xi_y = 0, upsilon_x = 0, upsilon_y = 0, w_x = 0, w_y = 0, w_0 = 0;
  float tangent = 0;  ///< of the incidence, times the slope error's share of the blur
  float bend = 0, level_bend = 0;
  float skew = 0;   ///< light from the sun's lower side meets the mirror more squarely
  float level = 0;  ///< power × distance to the plane [W m]
  std::vector<ImageLobe> lobes;
  std::vector<float> narrow;  ///< rows of NarrowKernel, instead of lobes
  // Footprint: an ellipse about (x0, y0), or the whole plane.
  bool everywhere = false;
  double half_height = 0, lean = 0, half_width = 0;
  SpaceRay space;  ///< bodies only
  // Of a strip of mirror, whose image is the same all along the plane's y: half its length there, and how far a single place of
  // it throws its light up and down [m]. All above is about its middle, with the light of the whole strip; 0: a single place.
  double half_strip = 0, single_height = 0;
  int strip_nodes = 0;  ///< that an integral over all of a single place's light along y takes

  /// Work that one place takes [looks, see effort.h].
  double looks() const { return std::max(1, strip_nodes) * single_looks(); }
  /// Work of rows of places `step` apart.
  double looks(const std::vector<ImageRow>& rows) const;
  static constexpr double narrow_looks = 16;  // by its time
  /// Adds the irradiance at n places (x, y relative to (x0, y0)) [W/m²].
  void add(const float* x, const float* y, float* irradiance, int n) const;
  /// The same at rows of places `step` apart [m], from irradiance[row.to] on.
  void add(const std::vector<ImageRow>& rows, float step, float* irradiance) const;
  /// The same at n places of a body.
  void add(const SurfacePlaces& places, float* irradiance, int n) const;
  /// The same as if all light of a strip came from its middle.
  void add_single(const float* x, const float* y, float* irradiance, int n) const;

 private:
  double single_looks() const { return narrow.empty() ? 2.0 + static_cast<double>(lobes.size()) : narrow_looks; }
  void add_single(const std::vector<ImageRow>& rows, float step, float* irradiance) const;
  void add_strip(const float* x, const float* y, float* irradiance, int n) const;
  void add_strip(const std::vector<ImageRow>& rows, float step, float* irradiance) const;
  bool lit_all_along(float y) const { return std::abs(y) + single_height <= half_strip; }
};

/// Makes the image of a place that of a strip so long along the plane's y [m], with the same light in all. It is flat, crosses
/// the plane and has no sharp edges (Image::smooth).
void draw_out(Image& image, double length);

/// The image of light of `power` [W] that the place sends on, the sun's centre at `sun`. Empty if its central ray runs along the
/// plane or away from it.
std::optional<Image> make_image(const Blur& blur, const ImagePlane& plane, const MirrorPoint& place, const Vector3& sun,
                                double power);
/// The same for a body: it serves all faces; empty if the body is behind. For a pot the plane of its base is set too, where the
/// ray crosses it.
std::optional<Image> make_body_image(const Blur& blur, const Receiver& receiver, const MirrorPoint& place, const Vector3& sun,
                                     double power);
std::optional<Image> image_on(const Blur& blur, const Receiver& receiver, const MirrorPoint& place, const Vector3& sun,
                              double power);
/// How far apart two images lie, in widths of the finer.
double steps_apart(const Image& a, const Image& b);

}  // namespace dishwright
