// SPDX-License-Identifier: MIT
// A dish of petals, met by rays on the vector lanes.
#include <iterator>

#include "base/simd_math.h"
#include "trace/float_lanes.h"

namespace dishwright {

namespace {

/// Azimuth of a place in turns, −½ to ½; the polynomial of turns_of().
inline Lanes azimuth(const Lanes& y, const Lanes& x) {
  const Lanes a = xsimd::abs(x), b = xsimd::abs(y), large = xsimd::max(a, b), small = xsimd::min(a, b);
  const Lanes z = small / (large + Lanes(1e-30F)), t = z * z;
  constexpr int terms = static_cast<int>(std::size(turn_terms));
  Lanes sum(turn_terms[terms - 1]);
  for (int k = terms - 2; k >= 0; --k) sum = xsimd::fma(sum, t, Lanes(turn_terms[k]));
  const Lanes near_axis = z * sum, eighth = xsimd::select(a > b, near_axis, Lanes(0.25F) - near_axis);
  return xsimd::copysign(xsimd::select(x < Lanes(0), Lanes(0.5F) - eighth, eighth), y);
}

/// Which petals a ray passes over, one after another: first, first ± 1, …, in whole numbers that may lie beyond the circle.
struct Passed {
  Lanes first, way, more;  // way: ±1; more: how many beyond the first, below 0 for none
};

Passed passed_by(const FloatPetals& petals, const OwnLanes& ray, const Lanes& near_end, const Lanes& far_end) {
  Lanes from = near_end - ray.ahead, to = far_end - ray.ahead;
  clip(ray.z, ray.w, petals.z_from, petals.z_to, from, to);
  clip_round(petals.first.region, ray, from, to);
  const Marks alive = from < to;
  if (!xsimd::any(alive)) return {Lanes(0), Lanes(1), Lanes(-1)};
  const auto petal_at = [&](const Lanes& t) {
    return azimuth(xsimd::fma(t, ray.v, ray.y), xsimd::fma(t, ray.u, ray.x)) * Lanes(static_cast<float>(petals.count));
  };
  // Straight on in plan, the azimuth turns one way, by less than half a turn; near a seam both petals are asked.
  const float all = static_cast<float>(petals.count), seam = 0.01F;
  const Lanes start = petal_at(from), turned = petal_at(to) - start;
  const Lanes change = turned - Lanes(all) * xsimd::floor(turned * Lanes(1 / all) + Lanes(0.5F));
  const Lanes way = xsimd::copysign(Lanes(1), change);
  const Lanes first = xsimd::floor(start - Lanes(seam) * way + Lanes(0.5F));
  const Lanes last = xsimd::floor(start + change + Lanes(seam) * way + Lanes(0.5F));
  return {xsimd::select(alive, first, Lanes(0)), way, xsimd::select(alive, (last - first) * way, Lanes(-1))};
}

}  // namespace

Lanes meet_petals(const FloatPetals& petals, const RayLanes& rays, const Lanes& far_end, Lanes& element) {
  const OwnLanes ray = own_rays(petals.first, rays);
  const Passed passed = passed_by(petals, ray, rays.near_end, far_end);
  const float all = static_cast<float>(petals.count);
  Lanes found = far_end;
  for (float k = 0; k < all; k += 1) {
    const Marks asked = passed.more >= Lanes(k);
    if (!xsimd::any(asked)) break;
    const Lanes beyond = xsimd::select(asked, passed.first + passed.way * Lanes(k), Lanes(0));
    const Lanes petal = xsimd::min(beyond - Lanes(all) * xsimd::floor(beyond * Lanes(1 / all)), Lanes(all - 1));
    const WholeLanes place = xsimd::to_int(petal);
    // Into the petal's own frame.
    const Lanes c = gather(petals.cosine.data(), place), s = gather(petals.sine.data(), place);
    const OwnLanes own = {xsimd::fma(c, ray.x, s * ray.y),
                          xsimd::fma(c, ray.y, -(s * ray.x)),
                          ray.z,
                          xsimd::fma(c, ray.u, s * ray.v),
                          xsimd::fma(c, ray.v, -(s * ray.u)),
                          ray.w,
                          ray.ahead};
    const Lanes t = meet<true>(petals.first, own, rays.near_end, found);
    const Marks nearer = asked & (t < found);
    element = xsimd::select(nearer, petal, element);
    found = xsimd::select(nearer, t, found);
  }
  return found;
}

}  // namespace dishwright
