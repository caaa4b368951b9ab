// SPDX-License-Identifier: MIT
// Traces of measured mirrors, and of the same mirrors a little changed.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "base/estimate.h"
#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

constexpr std::uint64_t most_survey_paths = 100'000, few_survey_paths = 10'000;  ///< few: for differences of the same paths

/// The scene by rays alone, with that many paths and no stop rule.
TraceFigures survey_figures(Scene scene, std::uint64_t count, int threads);
/// Share of the mirror's light that each target catches; 0 where none is known [1].
std::vector<Estimate> shares_of(const TraceFigures& figures);
/// Shares of each of `count` scenes, few paths and the same random numbers for all. Side by side; each by one thread, so that
/// the figures do not depend on how many there are.
std::vector<std::vector<Estimate>> shares_of_all(std::size_t count, const std::function<Scene(std::size_t)>& scene, int threads);

}  // namespace dishwright
