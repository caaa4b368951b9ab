// SPDX-License-Identifier: MIT
// The inner loops: irradiance of one image at many places.
#include <cmath>

#include "base/bits.h"

#include "quadrature/image.h"

namespace dishwright {

namespace {

/// 2^(−t) for t >= 0, by a polynomial on −1/2 … 1/2; relative error below 3e-6, held at 2^−100 beyond.
[[gnu::always_inline]] inline float power_of_half(float t) {
  const float held = t < 100.0F ? -t : -100.0F;
  const float shifted = held + 12582912.0F;  // 1.5 · 2^23: rounds to a whole number
  const float part = held - (shifted - 12582912.0F);
  const int whole = bits_as<int>(shifted) - 0x4B400000;
  const float fraction =
      1.0F +
      part * (0.693147182F + part * (0.240226507F + part * (0.0555041087F + part * (0.00961812911F + part * 0.00133335581F))));
  return fraction * bits_as<float>((whole + 127) << 23);
}

/// Beyond these a place is far outside of any blur, and the series for roots and slopes are not true there: the square of the
/// ray's tangent, and the share that is left of the half vector's height.
constexpr float farthest = 4, least_height = 0.05F;

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
  [[gnu::always_inline]] InRay operator[](int i) const {
    return {w_0_ + w_x_ * x_[i] + w_y_ * y_[i], xi_x_ * x_[i] + xi_y_ * y_[i], up_x_ * x_[i] + up_y_ * y_[i], level_};
  }

 private:
  const float *x_, *y_;
  float xi_x_, xi_y_, up_x_, up_y_, w_x_, w_y_, w_0_, level_;
};

/// A row of places on the plane.
class OnRow {
 public:
  OnRow(const Image& image, const ImageRow& row, float step)
      : x_(row.x),
        step_(step),
        xi_(image.xi_y * row.y),
        up_(image.upsilon_y * row.y),
        w_(image.w_0 + image.w_y * row.y),
        xi_x_(image.xi_x),
        up_x_(image.upsilon_x),
        w_x_(image.w_x),
        level_(image.level) {}
  [[gnu::always_inline]] InRay operator[](int i) const {
    const float x = x_ + step_ * static_cast<float>(i);
    return {w_ + w_x_ * x, xi_ + xi_x_ * x, up_ + up_x_ * x, level_};
  }

 private:
  float x_, step_, xi_, up_, w_, xi_x_, up_x_, w_x_, level_;
};

/// Places on a body; dark where it faces away.
class OnBody {
 public:
  OnBody(const Image& image, const SurfacePlaces& places)
      : p_(places), ray_(image.space), power_(static_cast<float>(image.power)) {}
  [[gnu::always_inline]] InRay operator[](int i) const {
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

/// Density of slopes as a sum of Gaussians; concentric ones where their number is known.
template <int lobes>
struct LobeSum {
  const ImageLobe* lobe;
  int count;
  [[gnu::always_inline]] float operator()(float a, float b) const {
    float sum = 0;
    for (int j = 0; j < (lobes > 0 ? lobes : count); ++j) {
      const float da = lobes > 0 ? a : a - lobe[j].x, db = lobes > 0 ? b : b - lobe[j].y;
      sum += lobe[j].level * power_of_half(lobe[j].fall_x * da * da + lobe[j].fall_y * db * db);
    }
    return sum;
  }
};

/// Density of slopes from the harmonics of a NarrowKernel.
struct NarrowSum {
  const float* rows;
  float per_step, last;
  [[gnu::always_inline]] float operator()(float a, float b) const {
    const float a2 = a * a, b2 = b * b, r2 = a2 + b2;
    const float place = std::sqrt(r2) * per_step, held = place < last ? place : last;
    const int step = static_cast<int>(held);
    const float part = held - static_cast<float>(step);
    const float* row = rows + NarrowKernel::harmonics * step;
    const auto at = [&](int m) { return row[m] + part * (row[m + NarrowKernel::harmonics] - row[m]); };
    // cos 2φ, cos 4φ, cos 6φ.
    const float c2 = (a2 - b2) / (r2 + 1e-20F), c4 = 2 * c2 * c2 - 1, c6 = c2 * (2 * c4 - 1);
    return at(0) + c2 * at(1) + c4 * at(2) + c6 * at(3);
  }
};

/// Adds with slope error: a density in the plane of slopes.
template <typename Density, typename Places>
[[gnu::always_inline]] inline void add_slopes(const Image& image, const Density density, const Places places, float* irradiance,
                                              int n) {
  const float tangent = image.tangent, bend = image.bend, level_bend = image.level_bend, skew = image.skew;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const InRay at = places[i];
    const float w = at.w, per_w = 1.0F / w;
    const float X = at.xi * per_w, Y = at.upsilon * per_w;
    const float q = X * X + Y * Y;
    const float m = q * (0.5F - q * (0.125F - q * 0.0625F));  // √(1 + q) − 1
    const float height = 1.0F - 0.5F * X * tangent + 0.5F * m * bend, per_d = 1.0F / height;
    const float a = (X - m * tangent) * per_d, b = Y * per_d;
    const float mb = m * bend;
    const float jacobian = (1.0F - X * tangent + m * level_bend) * (1.0F - mb * (1.0F - mb));
    const float scale = per_w * per_d;
    const float value = at.level * density(a, b) * jacobian * (1.0F - skew * a) * scale * scale * scale;
    irradiance[i] += ((w > 0) & (q < farthest) & (height > least_height)) ? value : 0.0F;
  }
}

/// Adds without slope error: a round table in the tangents of the ray.
template <typename Places>
[[gnu::always_inline]] inline void add_round(const Image& image, const Places places, float* irradiance, int n) {
  const float* table = image.blur->round.table.data();
  const float per_step = image.blur->round.per_step, last = static_cast<float>(image.blur->round.table.size() - 2);
  const float skew = image.skew;
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const InRay at = places[i];
    const float w = at.w, per_w = 1.0F / w;
    const float X = at.xi * per_w, Y = at.upsilon * per_w;
    const float q = X * X + Y * Y, place = std::sqrt(q) * per_step;
    const float held = place < last ? place : last;
    const int step = static_cast<int>(held);
    const float part = held - static_cast<float>(step);
    const float density = table[step] + part * (table[step + 1] - table[step]);
    const float value = at.level * density * (1.0F - skew * X) * per_w * per_w * per_w;
    irradiance[i] += ((w > 0) & (q < farthest)) ? value : 0.0F;
  }
}

/// Calls add(density) with the image's density of slopes.
template <typename Add>
void with_density(const Image& image, const Add& add) {
  if (!image.narrow.empty()) {
    const std::size_t rows = image.narrow.size() / NarrowKernel::harmonics;
    return add(NarrowSum{image.narrow.data(), image.blur->narrow.per_step(), static_cast<float>(rows - 2)});
  }
  const int count = static_cast<int>(image.lobes.size());
  const ImageLobe* lobe = image.lobes.data();
  const bool concentric = image.lobes.size() <= 8 && image.lobes.back().x == 0 && image.lobes.back().y == 0;
  if (!concentric) return add(LobeSum<0>{lobe, count});
  switch (image.lobes.size()) {
    case 1: return add(LobeSum<1>{lobe, count});
    case 3: return add(LobeSum<3>{lobe, count});
    case 4: return add(LobeSum<4>{lobe, count});
    case 6: return add(LobeSum<6>{lobe, count});
    case 8: return add(LobeSum<8>{lobe, count});
    default: return add(LobeSum<0>{lobe, count});
  }
}

template <typename Places>
void add_blurred(const Image& image, const Places& places, float* irradiance, int n) {
  if (image.blur->slope <= 0) return add_round(image, places, irradiance, n);
  with_density(image, [&](const auto& density) { add_slopes(image, density, places, irradiance, n); });
}

}  // namespace

void Image::add(const float* x, const float* y, float* irradiance, int n) const {
  half_strip > 0 ? add_strip(x, y, irradiance, n) : add_single(x, y, irradiance, n);
}

void Image::add(const std::vector<ImageRow>& rows, float step, float* irradiance) const {
  half_strip > 0 ? add_strip(rows, step, irradiance) : add_single(rows, step, irradiance);
}

void Image::add_single(const float* x, const float* y, float* irradiance, int n) const {
  add_blurred(*this, OnPlane(*this, x, y), irradiance, n);
}

void Image::add_single(const std::vector<ImageRow>& rows, float step, float* irradiance) const {
  if (blur->slope <= 0) {
    for (const ImageRow& row : rows) add_round(*this, OnRow(*this, row, step), irradiance + row.to, row.count);
    return;
  }
  with_density(*this, [&](const auto& density) {
    for (const ImageRow& row : rows) add_slopes(*this, density, OnRow(*this, row, step), irradiance + row.to, row.count);
  });
}

void Image::add(const SurfacePlaces& places, float* irradiance, int n) const {
  add_blurred(*this, OnBody(*this, places), irradiance, n);
}

}  // namespace dishwright
