// SPDX-License-Identifier: MIT
// Words of mirror shapes by their names in a project file.
#pragma once

#include <string>
#include <string_view>

namespace dishwright {

/// "the dish of petals" for "petals", "the flat mirror" for "flat", "the paraboloid"; "the NAME" where no shape has that word.
std::string the_shape(std::string_view word);

}  // namespace dishwright
