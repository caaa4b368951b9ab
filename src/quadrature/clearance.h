// SPDX-License-Identifier: MIT
// Whether the light goes from the mirrors to the target with nothing in its way.
#pragma once

#include <optional>

#include "quadrature/setting.h"

namespace dishwright {

/// Places all over a patch, its ends included.
template <typename Visit>
void go_over(const MirrorPatch& patch, const Visit& visit) {
  constexpr int across = 12, round = 24;
  for (int i = 0; i <= across; ++i) {
    for (int j = 0; j <= round; ++j) visit(patch.at(static_cast<double>(i) / across, static_cast<double>(j) / round));
  }
}

/// What stands in the way, if more than a share of 1e-4 of the light may be touched: mirrors, tiles of one mirror, a target below
/// a rim, light that runs along the target's plane. Cautious: some scenes that are clear are taken for obstructed.
std::optional<Refusal> clearance_refusal(const Scene& scene, const Setting& setting);

}  // namespace dishwright
