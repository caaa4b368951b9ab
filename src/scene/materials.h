// SPDX-License-Identifier: MIT
// The table of finishes: how much sunlight a mirror skin reflects. A finish sets the reflectance only, never the scatter.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace dishwright {

struct Finish {
  std::string_view name;
  double reflectance = 0;    ///< share of sunlight that is reflected, new and clean [1]
  double low = 0, high = 0;  ///< range met in practice [1]
  std::string_view source;
};

/// All finishes, most common first.
const std::vector<Finish>& all_finishes();

/// Another name for the skin of a row.
struct FinishSynonym {
  std::string_view name, row;
};
/// Names of the trade and of the kitchen that mean the same skin as a row.
const std::vector<FinishSynonym>& finish_synonyms();

/// The row of that name or synonym, in small or capital letters, or null. American spellings (aluminum, aluminized, anodized)
/// name the same rows.
const Finish* find_finish(std::string_view name);

}  // namespace dishwright
