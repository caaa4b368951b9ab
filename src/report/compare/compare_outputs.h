// SPDX-License-Identifier: MIT
// The files of a comparison.
#pragma once

#include <string>

#include "base/files.h"
#include "report/numbers/number_text.h"
#include "study/compare.h"

namespace dishwright {

/// Adds compare.json, compare.csv, maps.png, maps-each.png and, where the first targets are all disks or all rectangles,
/// share.png and share.svg. Returns the sentences that say what was written where. Throws WriteError.
std::string add_compare_outputs(const Comparison& all, const std::string& name, Units units, WholeFiles& files);

}  // namespace dishwright
