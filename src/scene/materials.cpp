// SPDX-License-Identifier: MIT
#include "scene/materials.h"

#include <algorithm>

namespace dishwright {

const std::vector<Finish>& all_finishes() {
  constexpr std::string_view practice = "common practice, no source; measure yours";
  constexpr std::string_view one_sample = "one maker's sample sheet, restated (0.914); measure yours";
  static const std::vector<Finish> finishes = {
      {"aluminised film", 0.86, 0.83, 0.88, practice},
      {"silvered film", 0.93, 0.92, 0.94, practice},
      {"silvered glass", 0.92, 0.90, 0.94, practice},
      {"acrylic mirror", 0.84, 0.82, 0.86, practice},
      {"kitchen foil", 0.82, 0.80, 0.86, practice},
      {"polished aluminium", 0.91, 0.88, 0.92, practice},
      {"anodised mirror aluminium", 0.914, 0.909, 0.919, one_sample},
      {"stainless steel", 0.60, 0.55, 0.67, practice},
  };
  return finishes;
}

const std::vector<FinishSynonym>& finish_synonyms() {
  // A rescue blanket and "mylar" are polyester film with aluminium on it; tin foil has been aluminium foil for a century.
  static const std::vector<FinishSynonym> synonyms = {
      {"mylar", "aluminised film"},
      {"aluminised mylar", "aluminised film"},
      {"aluminised polyester", "aluminised film"},
      {"rescue blanket", "aluminised film"},
      {"emergency blanket", "aluminised film"},
      {"space blanket", "aluminised film"},
      {"aluminium foil", "kitchen foil"},
      {"tin foil", "kitchen foil"},
      {"tinfoil", "kitchen foil"},
      {"foil", "kitchen foil"},
      {"glass mirror", "silvered glass"},
      {"mirror glass", "silvered glass"},
      {"mirrored acrylic", "acrylic mirror"},
      {"anodised aluminium mirror", "anodised mirror aluminium"},
      {"stainless", "stainless steel"},
  };
  return synonyms;
}

const Finish* find_finish(std::string_view name) {
  std::string wanted(name);
  for (char& c : wanted) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  constexpr std::pair<std::string_view, std::string_view> spellings[] = {
      {"aluminized", "aluminised"}, {"anodized", "anodised"}, {"aluminum", "aluminium"}};
  for (const auto& [american, ours] : spellings) {
    const std::size_t at = wanted.find(american);
    if (at != std::string::npos) wanted.replace(at, american.size(), ours);
  }
  for (const FinishSynonym& synonym : finish_synonyms()) {
    if (synonym.name == wanted) wanted = synonym.row;
  }
  const auto& finishes = all_finishes();
  const auto row = std::find_if(finishes.begin(), finishes.end(), [&](const Finish& f) { return f.name == wanted; });
  return row == finishes.end() ? nullptr : &*row;
}

}  // namespace dishwright
