// SPDX-License-Identifier: MIT
#include "wave/float_sum.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

struct Turned {
  float cosine, sine;
};

/// cos and sin of 2π·turns, |turns| < 4e6. Whole turns go off by adding and taking off 1.5·2^23; sin and cos of the half angle by
/// Taylor's series to x^11 and x^12 on |x| <= π/2 (error 6e-8), then doubled.
inline Turned turned(float turns) {
  constexpr float whole = 12582912.0F;
  const float part = turns - ((turns + whole) - whole);
  const float x = part * 3.14159265358979F, q = x * x;
  const float s = x * (1 + q * (-1.0F / 6 + q * (1.0F / 120 + q * (-1.0F / 5040 + q * (1.0F / 362880 - q * (1.0F / 39916800))))));
  const float c =
      1 +
      q * (-1.0F / 2 + q * (1.0F / 24 + q * (-1.0F / 720 + q * (1.0F / 40320 + q * (-1.0F / 3628800 + q * (1.0F / 479001600))))));
  return {1 - 2 * s * s, 2 * s * c};
}

}  // namespace

LaneTerms::LaneTerms(std::size_t count) : count_((count + together - 1) / together * together) {
  for (std::vector<float>* all : {&re_, &im_, &vx_, &vy_, &vz_, &nx_, &ny_, &nz_, &way_}) all->assign(count_, 0);
  for (std::size_t j = count; j < count_; ++j) vx_[j] = 1, way_[j] = 1;
}

void LaneTerms::set(std::size_t j, Complex amplitude, const Vector3& to_reference, const Vector3& normal, double reference_way) {
  re_[j] = static_cast<float>(amplitude.real()), im_[j] = static_cast<float>(amplitude.imag());
  vx_[j] = static_cast<float>(to_reference.x()), vy_[j] = static_cast<float>(to_reference.y());
  vz_[j] = static_cast<float>(to_reference.z());
  nx_[j] = static_cast<float>(normal.x()), ny_[j] = static_cast<float>(normal.y()), nz_[j] = static_cast<float>(normal.z());
  way_[j] = static_cast<float>(reference_way);
}

Complex LaneTerms::sum_at(const Vector3& offset, double per_metre) const {
  Complex total = 0;
  for (std::size_t from = 0; from < count_; from += block)
    total += block_at(from, std::min(from + block, count_), offset, per_metre);
  return total;
}

void LaneTerms::sums_at(const Vector3* offsets, std::size_t n, double per_metre, Complex* sums) const {
  std::fill(sums, sums + n, Complex(0));
  for (std::size_t from = 0; from < count_; from += block) {
    const std::size_t to = std::min(from + block, count_);
    for (std::size_t k = 0; k < n; ++k) sums[k] += block_at(from, to, offsets[k], per_metre);
  }
}

Complex LaneTerms::block_at(std::size_t from, std::size_t to, const Vector3& offset, double per_metre) const {
  const auto dx = static_cast<float>(offset.x()), dy = static_cast<float>(offset.y()), dz = static_cast<float>(offset.z());
  const auto scale = static_cast<float>(per_metre);
  const float squared = dx * dx + dy * dy + dz * dz;
  const float *re = &re_[from], *im = &im_[from], *vx = &vx_[from], *vy = &vy_[from], *vz = &vz_[from];
  const float *nx = &nx_[from], *ny = &ny_[from], *nz = &nz_[from], *way = &way_[from];
  float sum_re = 0, sum_im = 0;
  const std::size_t groups = (to - from) / together;
#pragma omp simd reduction(+ : sum_re, sum_im)
  for (std::size_t j = 0; j < groups * together; ++j) {
    const float px = vx[j] + dx, py = vy[j] + dy, pz = vz[j] + dz;
    const float longer = 2 * (dx * vx[j] + dy * vy[j] + dz * vz[j]) + squared;
    const float far2 = px * px + py * py + pz * pz, both = std::sqrt(far2) + way[j];
    const float once = 1 / (far2 * both);
    const Turned t = turned(scale * longer * far2 * once);
    const float weight = (nx[j] * px + ny[j] * py + nz[j] * pz) * both * once;
    sum_re += weight * (re[j] * t.cosine - im[j] * t.sine);
    sum_im += weight * (re[j] * t.sine + im[j] * t.cosine);
  }
  return {sum_re, sum_im};
}

Complex LaneTerms::sum_toward(const Vector3& direction, const Vector3& change, double per_metre, bool sign_only) const {
  return sign_only ? sum_toward<true>(direction, change, per_metre) : sum_toward<false>(direction, change, per_metre);
}

template <bool sign_only>
Complex LaneTerms::sum_toward(const Vector3& direction, const Vector3& change, double per_metre) const {
  const auto ux = static_cast<float>(direction.x()), uy = static_cast<float>(direction.y()),
             uz = static_cast<float>(direction.z());
  const Vector3 scaled = per_metre * change;
  const auto cx = static_cast<float>(scaled.x()), cy = static_cast<float>(scaled.y()), cz = static_cast<float>(scaled.z());
  Complex total = 0;
  for (std::size_t from = 0; from < count_; from += block) {
    const float *re = &re_[from], *im = &im_[from], *vx = &vx_[from], *vy = &vy_[from], *vz = &vz_[from];
    const float *nx = &nx_[from], *ny = &ny_[from], *nz = &nz_[from];
    float sum_re = 0, sum_im = 0;
    const std::size_t groups = (std::min(from + block, count_) - from) / together;
#pragma omp simd reduction(+ : sum_re, sum_im)
    for (std::size_t j = 0; j < groups * together; ++j) {
      const Turned t = turned(cx * vx[j] + cy * vy[j] + cz * vz[j]);
      const float cosine = nx[j] * ux + ny[j] * uy + nz[j] * uz;
      const float weight = sign_only ? std::copysign(1.0F, cosine) : cosine;
      sum_re += weight * (re[j] * t.cosine - im[j] * t.sine);
      sum_im += weight * (re[j] * t.sine + im[j] * t.cosine);
    }
    total += Complex(sum_re, sum_im);
  }
  return total;
}

}  // namespace dishwright
