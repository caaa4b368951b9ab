// SPDX-License-Identifier: MIT
// Tolerances of light as one table in the words of tape, straightedge and watch.
#pragma once

#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "study/tolerance.h"

namespace dishwright {

/// One thing that may be off. Allowances and margins are rounded down, what the file has is rounded up.
struct ShopRow {
  std::string question;  ///< "surface slope over 6 in", "aim across the trough", "target to the right", "rim too deep"
  std::string may;       ///< "9/64 in", "4.3 deg", "18 or more"; "83 % at best", "99.9 % at 2 in" where that is what it brings
  std::string here;      ///< what the file has: "1/32 in", "0.5 deg", "as drawn"; "-" where that has no meaning
  std::string margin;    ///< what is left: "7/64 in", "3.8 deg (15 min)"; "over by 1.2 deg" where the file has too much of it
};

/// A row a limit; of a trough aimed across or along it only the two of its own ways. Light only.
std::vector<ShopRow> shop_rows(const Tolerance& all, Units units);
/// The same with its heads, as rows of cells.
std::vector<std::vector<std::string>> shop_cells(const Tolerance& all, Units units);
/// How the table is meant, a sentence each.
std::vector<std::string> shop_notes(const Tolerance& all);

/// Surface, aim and place all at once, in a line: the harder one of the two ways that the place may be off. Empty where there is
/// no budget.
std::string budget_sentence(const Tolerance& all, Units units);
/// "Or a pot 7 1/2 in wide: it catches 90 % with all else as the file has it."; empty where the margin is not small.
std::string width_sentence(const Tolerance& all, Units units);

}  // namespace dishwright
