// SPDX-License-Identifier: MIT
// --set KEY=VALUE: values that replace or add to those of the file.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "scenefile/document.h"
#include "scenefile/problems.h"

namespace dishwright {

/// Puts each "KEY=VALUE" into the tree, the last of equal keys wins. KEY is dotted as in messages: reflector.dish.width. `takes`
/// picks the options that are applied, by the parts of their keys; without it all are.
void apply_overrides(const std::vector<std::string>& set, Node& root, Problems& problems,
                     const std::function<bool(const std::vector<std::string>& key)>& takes = {});

/// Cuts a dotted key at its dots; parts in double quotes may hold dots and spaces. Empty where it is not a key.
std::vector<std::string> split_key(std::string_view key);

}  // namespace dishwright
