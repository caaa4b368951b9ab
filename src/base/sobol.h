// SPDX-License-Identifier: MIT
// Low-discrepancy random numbers: Sobol' points with nested uniform (Owen) scrambling. A number depends only on seed, replicate,
// path number and dimension, so threads and batch order change nothing.
#pragma once

#include <array>
#include <cstdint>

namespace dishwright {

/// What each of the eight numbers of a path is for.
/// In the order of the Sobol' dimensions: the first pair is spread most evenly, and the slope of the surface blurs a spot most.
enum class Draw { slope_a, slope_b, disc_radius, disc_turn, position_a, position_b, spread_a, spread_b };
inline constexpr int draw_count = 8;

/// Paths that are drawn together.
inline constexpr int block_size = 512;

/// One number a path and purpose, uniform on (0, 1), in steps of 2^-23.
struct alignas(64) DrawBlock : std::array<std::array<float, block_size>, draw_count> {};

/// The points of one replicate: an independent scramble of the same Sobol' sequence.
///
/// Direction numbers: [joe2008], dimensions 1–8. Scrambling: hash-based nested uniform
/// scramble, [laine2011] as in [burley2020], with the multipliers of [vegdahl2021].
class SobolReplicate {
 public:
  SobolReplicate(std::uint64_t seed, std::uint32_t replicate);
  /// Fills out[d][i] with point first + i for the purposes from <= d < to; `first` is a multiple of block_size.
  void fill(std::uint32_t first, int from, int to, DrawBlock& out) const;

 private:
  std::array<std::uint32_t, draw_count> scramble_seed_{};
};

/// The unscrambled Sobol' number (32 bits) of a point, by its binary digits (not in Gray-code order).
std::uint32_t sobol_bits(std::uint32_t index, int dimension);

/// 64 mixed bits (the finaliser of SplitMix64 [steele2014]).
constexpr std::uint64_t mix_bits(std::uint64_t x) {
  x += 0x9E3779B97F4A7C15U;
  x = (x ^ (x >> 30U)) * 0xBF58476D1CE4E5B9U;
  x = (x ^ (x >> 27U)) * 0x94D049BB133111EBU;
  return x ^ (x >> 31U);
}

/// Plain pseudo-random numbers for later bounces: uniform on (0, 1), a function of (seed, replicate, path, bounce, purpose).
class HashedDraws {
 public:
  HashedDraws(std::uint64_t seed, std::uint32_t replicate) : key_(mix_bits(mix_bits(seed) ^ (replicate + 0x5851F42DU))) {}
  float at(std::uint32_t path, int bounce, Draw purpose) const {
    const std::uint64_t place = (static_cast<std::uint64_t>(path) << 16U) | (static_cast<std::uint64_t>(bounce) << 8U) |
                                static_cast<std::uint64_t>(purpose);
    return (static_cast<float>(mix_bits(key_ ^ mix_bits(place)) >> 41U) + 0.5F) * 0x1p-23F;
  }

 private:
  std::uint64_t key_;
};

}  // namespace dishwright
