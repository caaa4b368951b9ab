// SPDX-License-Identifier: MIT
// Blocks of rays, one array a component, so that every context runs on the vector lanes.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/sobol.h"

namespace dishwright {

/// One component of a block. A line of padding: arrays of exactly one page would all fall on the same few lines of the first
/// cache.
template <typename T>
struct alignas(64) BlockArray : std::array<T, block_size> {
  std::array<char, 64> padding;
};

/// A path's power at the start, in the whole numbers in which power is scored: sums of whole numbers are exact in any order.
inline constexpr double full_weight = 0x1p26;

/// Rays on their way, in the frame.
struct RayBlock {
  int n = 0;
  BlockArray<double> ox, oy, oz;      ///< start [m]
  BlockArray<double> dx, dy, dz;      ///< unit direction of travel
  BlockArray<double> weight;          ///< whole number, full_weight at the start
  BlockArray<float> start_gap;        ///< how far from the start hits count [m]
  BlockArray<int> own_surface;        ///< quadric surface that the ray starts on, −1 = none
  BlockArray<float> own_again;        ///< where it meets that surface's whole quadric again [m]; infinity if never
  BlockArray<std::uint32_t> lane;     ///< which path of the block
  BlockArray<std::uint8_t> bounces;   ///< reflections so far
  BlockArray<std::uint64_t> crossed;  ///< bit k: the ray's path has crossed the plane of target k from its front
  BlockArray<int> surface;            ///< nearest surface, −1 = none
  BlockArray<float> distance;         ///< to it [m]; infinity where none
  BlockArray<std::uint32_t> element;  ///< which petal, tile or triangle of it
};

/// Rays that meet the bright side of mirrors, grouped by mirror, in each mirror's own frame.
struct Arrivals {
  struct Group {
    int surface, begin, end;
  };
  int n = 0;
  std::vector<Group> groups;
  BlockArray<double> x, y, z;     ///< point on the mirror [m]
  BlockArray<double> nx, ny, nz;  ///< normal of the true surface there, toward the bright side; any length
  BlockArray<double> dx, dy, dz;  ///< unit direction of travel
  BlockArray<double> weight;
  BlockArray<std::uint32_t> lane;
  BlockArray<std::uint8_t> bounces;
  BlockArray<std::uint64_t> crossed;
  void clear() {
    n = 0;
    groups.clear();
  }
  /// Copies arrival `from` of `other` to place `to`.
  void take(const Arrivals& other, std::size_t from, std::size_t to) {
    x[to] = other.x[from], y[to] = other.y[from], z[to] = other.z[from];
    nx[to] = other.nx[from], ny[to] = other.ny[from], nz[to] = other.nz[from];
    dx[to] = other.dx[from], dy[to] = other.dy[from], dz[to] = other.dz[from];
    weight[to] = other.weight[from];
    lane[to] = other.lane[from];
    bounces[to] = other.bounces[from];
    crossed[to] = other.crossed[from];
  }
};

}  // namespace dishwright
