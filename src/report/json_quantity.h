// SPDX-License-Identifier: MIT
// A number with unit and uncertainty as JSON: {"value", "std_error", "unit"}, SI.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "base/estimate.h"

namespace dishwright {

using Json = nlohmann::ordered_json;

/// Throws std::logic_error for a value that is not finite.
Json json_quantity(const Estimate& estimate);
/// null where there is none.
Json json_quantity(const std::optional<Estimate>& estimate);

}  // namespace dishwright
