// SPDX-License-Identifier: MIT
#include "base/sobol.h"

#include "base/wide.h"

namespace dishwright {

namespace {

constexpr std::uint32_t reverse_bits(std::uint32_t x) {
  x = __builtin_bswap32(x);
  x = ((x >> 4U) & 0x0F0F0F0FU) | ((x & 0x0F0F0F0FU) << 4U);
  x = ((x >> 2U) & 0x33333333U) | ((x & 0x33333333U) << 2U);
  return ((x >> 1U) & 0x55555555U) | ((x & 0x55555555U) << 1U);
}

/// One dimension of the published table: degree of the primitive polynomial, its inner coefficients, first direction integers.
struct JoeKuoRow {
  int degree;
  std::uint32_t coefficients;
  std::array<std::uint32_t, 5> first;
};
constexpr std::array<JoeKuoRow, draw_count - 1> joe_kuo = {{
    {1, 0, {1}},
    {2, 1, {1, 3}},
    {3, 1, {1, 3, 1}},
    {3, 2, {1, 1, 1}},
    {4, 1, {1, 1, 3, 3}},
    {4, 4, {1, 3, 5, 13}},
    {5, 2, {1, 1, 5, 5, 17}},
}};

using Directions = std::array<std::array<std::uint32_t, 32>, draw_count>;

constexpr Directions make_directions() {
  Directions v{};
  for (unsigned k = 0; k < 32; ++k) v[0][k] = 1U << (31U - k);
  for (std::size_t d = 1; d < draw_count; ++d) {
    const JoeKuoRow& row = joe_kuo[d - 1];
    const unsigned s = static_cast<unsigned>(row.degree);
    for (unsigned k = 0; k < 32; ++k) {
      if (k < s) {
        v[d][k] = row.first[k] << (31U - k);
        continue;
      }
      std::uint32_t x = v[d][k - s] ^ (v[d][k - s] >> s);
      for (unsigned j = 1; j < s; ++j) {
        if (((row.coefficients >> (s - 1U - j)) & 1U) != 0U) x ^= v[d][k - j];
      }
      v[d][k] = x;
    }
  }
  return v;
}
constexpr Directions directions = make_directions();

/// Bit-reversed Sobol' numbers of the points 0 … block_size − 1: a block is its first point's number combined with these.
struct BlockTable {
  alignas(64) std::array<std::array<std::uint32_t, block_size>, draw_count> bits;
};
BlockTable make_block_table() {
  BlockTable table{};
  for (int d = 0; d < draw_count; ++d) {
    for (unsigned i = 0; i < block_size; ++i) table.bits[static_cast<std::size_t>(d)][i] = reverse_bits(sobol_bits(i, d));
  }
  return table;
}

/// The numbers of a block in one dimension.
void scramble(const std::uint32_t* bits, std::uint32_t base, std::uint32_t seed, float* u) {
  const std::uint32_t odd = (seed >> 16U) | 1U;
#pragma omp simd
  for (int i = 0; i < block_size; ++i) {
    // Permutes each binary subtree at random: low bits may change high bits, never the other way (bits are reversed here).
    std::uint32_t x = bits[i] ^ base;
    x ^= x * 0x3D20ADEAU;
    x += seed;
    x *= odd;
    x ^= x * 0x05526C56U;
    x ^= x * 0x53A22864U;
    x = __builtin_bswap32(x);
    x = ((x >> 4U) & 0x0F0F0F0FU) | ((x & 0x0F0F0F0FU) << 4U);
    x = ((x >> 2U) & 0x33333333U) | ((x & 0x33333333U) << 2U);
    x = ((x >> 1U) & 0x55555555U) | ((x & 0x55555555U) << 1U);
    // 23 bits and a half step: exact in float, never 0 or 1.
    u[i] = (static_cast<float>(static_cast<std::int32_t>(x >> 9U)) + 0.5F) * 0x1p-23F;
  }
}

}  // namespace

std::uint32_t sobol_bits(std::uint32_t index, int dimension) {
  std::uint32_t x = 0;
  for (unsigned k = 0; k < 32; ++k) {
    if (((index >> k) & 1U) != 0U) x ^= directions[static_cast<std::size_t>(dimension)][k];
  }
  return x;
}

SobolReplicate::SobolReplicate(std::uint64_t seed, std::uint32_t replicate) {
  for (std::size_t d = 0; d < draw_count; ++d) {
    const std::uint64_t key = mix_bits(mix_bits(seed) + mix_bits((static_cast<std::uint64_t>(replicate) << 8U) | d));
    scramble_seed_[d] = static_cast<std::uint32_t>(key >> 32U);
  }
}

void SobolReplicate::fill(std::uint32_t first, int from, int to, DrawBlock& out) const {
  static const BlockTable table = make_block_table();
  for (std::size_t d = static_cast<std::size_t>(from); d < static_cast<std::size_t>(to); ++d) {
    const std::uint32_t base = reverse_bits(sobol_bits(first, static_cast<int>(d)));
    const std::uint32_t seed = scramble_seed_[d];
    const std::uint32_t* bits = table.bits[d].data();
    float* u = out[d].data();
    on_wide_lanes<scramble>(bits, base, seed, u);
  }
}

}  // namespace dishwright
