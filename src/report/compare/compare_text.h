// SPDX-License-Identifier: MIT
// The answer of a comparison as text for a terminal.
#pragma once

#include <string>

#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "study/compare.h"

namespace dishwright {

/// What is compared and how the shapes follow, the table, best places, differences, the caution, the settings. Lines are at most
/// 80 characters wide. `name` is of the (first) project file.
std::string compare_text(const Comparison& all, const std::string& name, Units units, Detail detail = Detail::answer);
/// The verdict: printed last.
std::string compare_answer(const Comparison& all, Units units);

/// "Kettle dish", or the file's name where it has no title.
std::string compare_title(const Comparison& all, const std::string& name);

/// "22.91 ± 0.02 in from the vertex, 1.1 in nearer than the focus"; says where the best is flat, at an edge or nowhere.
std::string best_place_words(const Contestant& one, Units units);

}  // namespace dishwright
