// SPDX-License-Identifier: MIT
// Slips of the pen in tables of depths that turn a good survey into nonsense: found, and named with their row.
#pragma once

#include <string>
#include <vector>

#include "base/csv.h"

namespace dishwright {

/// One typed row, in SI. By ring: first = ring radius [m], second = clock [h]; by grid: first = x, second = y [m].
struct TypedReading {
  double first = 0, second = 0, depth = 0;
  const CsvRow* row = nullptr;
};

struct TypedTable {
  const CsvTable& table;
  bool by_ring = false;
  int first = 0, second = 0, depth = 0;  ///< column numbers
  std::vector<TypedReading> readings;
};

/// The place of a reading [m]: clock 12 is +y, 3 is +x, seen from the sun.
void place_of(const TypedTable& typed, const TypedReading& reading, double& x, double& y);

/// What is wrong with the table as it was typed: columns swapped, inches in a millimetre column (all of it or single rows),
/// sixteenths typed as decimals (3.8 for 3 8/16; all of them, or three and more among fractions), heights above the bench typed
/// as depths, fractions in a millimetre column. Each suspicion is accepted only if the depths read the other way make a far
/// better bowl: a quadric over the places.
std::vector<Problem> find_mistakes(const TypedTable& typed);

/// A sentence where fractions and decimals that are no sixteenths stand in one column, without sign of a slip; else "".
std::string mixed_depths(const TypedTable& typed);

}  // namespace dishwright
