// SPDX-License-Identifier: MIT
// The blank form for depth readings.
#pragma once

#include <string>
#include <vector>

#include "picture/work_card.h"
#include "report/survey/survey_places.h"

namespace dishwright {

/// Its sheets: how to measure, and the table to write into.
std::vector<WorkCard> readings_cards(const FormDish& dish, Units units);
/// The same as PDF bytes.
std::string readings_form(const FormDish& dish, Units units, PageSize paper);

}  // namespace dishwright
