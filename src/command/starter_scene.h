// SPDX-License-Identifier: MIT
// `dishwright new`: a first project file of some kind, with a word on every key.
#pragma once

#include <string>
#include <vector>

namespace dishwright {

/// A project file, and the table beside it where it names one.
struct Starter {
  std::string scene;
  std::string table_name, table;  ///< empty where the project file needs no other
};

/// The words of --like: "dish" (if not given), "petals", "tiles", "trough", "sound", "radio", "lamp", "profile".
const std::vector<std::string>& starter_kinds();
/// A commented starter of that kind with the title `name`; its first lines tell how to trace it (`command`). A table is named
/// after `name`. It reads without error, and its target catches more than 90 % of the mirror's light. Throws std::out_of_range
/// for another kind.
Starter starter_like(const std::string& kind, const std::string& name, const std::string& command);
/// The text of the starter of a dish.
std::string starter_scene(const std::string& name, const std::string& command = "dishwright trace FILE");

}  // namespace dishwright
