// SPDX-License-Identifier: MIT
// How the paths of a trace are shared among independent replicates.
#pragma once

#include <algorithm>
#include <cstdint>

#include "base/sobol.h"

namespace dishwright {

/// Paths first … first + n − 1 of a replicate that has `of` paths; `first` is a multiple of block_size.
struct PathBlock {
  std::uint32_t replicate = 0, first = 0, n = 0, of = 0;
};

/// Replicates are independent scrambles of the same points; the scatter between them is the honest error of their mean.
struct PathPlan {
  std::uint64_t seed = 1;
  std::uint64_t paths = 0;  ///< >= 2
  std::uint32_t replicates = 32;

  static PathPlan of(std::uint64_t seed, std::uint64_t paths) {
    return {seed, paths, static_cast<std::uint32_t>(std::clamp<std::uint64_t>(paths / 2, 1, 32))};
  }
  /// Paths of one replicate; the first few take one more where the number does not divide.
  std::uint32_t count(std::uint32_t replicate) const {
    return static_cast<std::uint32_t>(paths / replicates + (replicate < paths % replicates ? 1 : 0));
  }
  /// Block `number` of a replicate; n = 0 beyond its end.
  PathBlock block(std::uint32_t replicate, std::uint32_t number) const {
    const std::uint32_t of = count(replicate), first = number * block_size;
    return {replicate, first, first < of ? std::min<std::uint32_t>(block_size, of - first) : 0, of};
  }
  struct Place {
    std::uint32_t replicate, index;
  };
  /// Replicate and number within it of path 0 … paths − 1.
  Place locate(std::uint64_t path) const {
    std::uint32_t replicate = 0;
    while (path >= count(replicate)) path -= count(replicate++);
    return {replicate, static_cast<std::uint32_t>(path)};
  }
};

}  // namespace dishwright
