// SPDX-License-Identifier: MIT
// The rows of [reflector.NAME] in the key table.
#pragma once

#include <vector>

#include "scenefile/keys.h"

namespace dishwright {

std::vector<KeyRow> reflector_key_rows();

}  // namespace dishwright
