// SPDX-License-Identifier: MIT
// How every summary on a terminal begins and is laid out.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "scene/scene.h"

namespace dishwright {

/// "  label                        text", wrapped beside the label.
std::string summary_line(const std::string& label, const std::string& text);
std::string summary_heading(const std::string& text);
/// What is odd about a scene, above everything else; empty where nothing is.
std::string oddity_lines(const std::vector<std::string>& oddities);
/// The same of several scenes that are compared, each oddity once.
template <class Contestants>
std::string oddities_of_all(const Contestants& all) {
  std::vector<std::string> told;
  for (const auto& one : all) {
    for (const std::string& oddity : one.scene.oddities) {
      if (std::find(told.begin(), told.end(), oddity) == told.end()) told.push_back(oddity);
    }
  }
  return oddity_lines(told);
}
/// What is odd, title, source, mirrors, targets, notes.
std::string title_block(const Scene& scene, const std::string& scene_name, Units units);

}  // namespace dishwright
