// SPDX-License-Identifier: MIT
// A number with unit and uncertainty as JSON: {"value", "std_error", "unit"}, SI.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "base/estimate.h"
#include "scene/scene.h"

namespace dishwright {

using Json = nlohmann::ordered_json;

/// The text of a JSON object with a line end, fit for a terminal. Bytes that are not UTF-8, as names of files may have, become
/// U+FFFD.
std::string json_text(const Json& json);

/// The number itself. Throws std::logic_error where it is not finite, as the others do.
double json_number(double value);
Json json_quantity(const Estimate& estimate);
/// null where there is none.
Json json_quantity(const std::optional<Estimate>& estimate);
/// How the JSON of a study begins: {"scene", "version", "scene_digest", "seed", "paths"}; the scene by its title, or else its
/// file's `name`.
Json json_head(const Scene& scene, const std::string& name);

}  // namespace dishwright
