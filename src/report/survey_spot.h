// SPDX-License-Identifier: MIT
// The bright spot that a measured mirror is expected to make.
#pragma once

#include "base/files.h"
#include "picture/page.h"
#include "report/survey_report.h"

namespace dishwright {

/// Draws the brightest face of the first target into a box of a page, at least 45 mm wide: light map, its 50 % and 90 % marks, axes. `report.light` must be there.
void draw_survey_spot(Pages& pages, const Box& box, const SurveyReport& report);

/// Adds the work-card of every target as spot.png (spot-2.png … for more). Returns their names for the list of files, or "".
std::string add_spot_files(const SurveyReport& report, WholeFiles& files);

}  // namespace dishwright
