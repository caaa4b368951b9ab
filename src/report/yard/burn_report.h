// SPDX-License-Identifier: MIT
// The burn track of a parked dish in words, as JSON, table and drawing, and as a sheet to hang up.
#pragma once

#include <string>
#include <vector>

#include "picture/work_card.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/number_text.h"
#include "study/aim_plan.h"
#include "study/burn_day.h"

namespace dishwright {

/// "left face up", "left leaning (its axis 52 deg up, toward 107 deg (E))".
std::string parked_words(const BurnDay& day);
/// What the spot does on that day: when it burns, from where to where, how near to the ground and to walls. Sentences.
std::vector<std::string> burn_words(const BurnDay& day, Units units);
/// Head and rows, every hour: clock, sun, strength, place.
std::vector<std::vector<std::string>> burn_table(const BurnDay& day, Units units);
/// How it was computed and what is left out.
std::vector<std::string> burn_notes(const BurnDay& day, Units units);
/// The list burn_track, and what it is of.
void add_burn_json(const BurnDay& day, Json& out);

/// Seen toward the north, or from above.
CardPicture burn_picture(const BurnDay& day, const Scene& scene, bool plan, Units units);
/// One sheet: both views, the hours, walls and ground, how to store it.
WorkCard burn_card(const AimPlan& plan, const std::string& name, Units units);

}  // namespace dishwright
