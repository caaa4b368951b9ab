// SPDX-License-Identifier: MIT
// The page as one file: the engine's template with a project in it.
#pragma once

#include <string>
#include <vector>

#include "page/engine.h"
#include "report/numbers/number_text.h"

namespace dishwright {

/// What the page begins with.
struct PageProject {
  std::string name;              ///< of the file; empty: none
  std::string text;              ///< of the file
  std::vector<NamedFile> files;  ///< that it names
  Units units = Units::us;
  std::vector<std::string> inks;  ///< "#ffffff" … from no light to the most
  std::string answer;             ///< what the command line says of it: for browsers that cannot run the engine
  std::string picture;            ///< its card, as the bytes of a PNG; may be empty
  struct Example {
    std::string name, title, text;
  };
  std::vector<Example> examples;  ///< that the page offers
};

/// `made`: the page without a project, as src/page/web/build.js makes it. No text of the project can end an element or begin one.
/// Throws std::logic_error where `made` is no such page.
std::string page_with_project(const std::string& made, const PageProject& project);

}  // namespace dishwright
