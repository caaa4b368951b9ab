// SPDX-License-Identifier: MIT
// --vary KEY=FROM:TO:COUNT: one numeric key of a project file takes even steps from one value to another.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "scenefile/keys.h"
#include "scenefile/read_scene.h"

namespace dishwright {

/// A key with the values it takes.
struct Variation {
  std::string key;                          ///< as written: "sun.aim_error", or one entry of a list: "target.kettle.offset.z"
  Dimension dimension = Dimension::number;  ///< of its values
  const Unit* unit = nullptr;               ///< as FROM was written; null for a pure number
  std::vector<double> values;               ///< [SI], the first is FROM and the last is TO
  std::vector<std::string> set;             ///< the --set option that gives the key each value
  std::optional<double> own = {};           ///< the file's own value, or the one that is taken where it has none [SI]
  bool whole = false;                       ///< counts whole things
  /// Of times, whose values are counted from this midnight, by the clock of FROM.
  std::optional<Moment> midnight = {};
};

/// Most points of one sweep.
inline constexpr std::size_t most_sweep_points = 10'000;

/// Understands the --vary options for this file. Any key of the key table that holds a quantity, a number or a whole number can
/// vary; of a list of three, one entry, named x, y or z behind the key. Throws InputError: unknown or text key, an end without
/// its unit or of another kind, FROM = TO, a count below 2, steps of a whole number that are not whole, a key twice, more than
/// most_sweep_points points in all.
std::vector<Variation> read_variations(const ProjectFile& file, const ReadOptions& options, const std::vector<std::string>& vary);

}  // namespace dishwright
