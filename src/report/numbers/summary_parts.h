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
/// The title of a text, underlined. A long one has several lines.
std::string title_lines(const std::string& title);
/// The heading of what the eye meets last: the answer. What is odd about a scene is told there once more.
std::string answer_heading(const std::string& heading, const std::vector<std::string>& oddities);
/// The last line of an answer about something that can hurt.
std::string mind_caution_line();
/// What is odd about a scene, above everything else; empty where nothing is.
std::string oddity_lines(const std::vector<std::string>& oddities);
/// What is odd about several scenes that are compared, each oddity once.
template <class Contestants>
std::vector<std::string> oddities_of_all(const Contestants& all) {
  std::vector<std::string> told;
  for (const auto& one : all) {
    for (const std::string& oddity : one.scene.oddities) {
      if (std::find(told.begin(), told.end(), oddity) == told.end()) told.push_back(oddity);
    }
  }
  return told;
}
/// What is odd, title, source, mirrors, targets, notes.
std::string title_block(const Scene& scene, const std::string& scene_name, Units units);

}  // namespace dishwright
