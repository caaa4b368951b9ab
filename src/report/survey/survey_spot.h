// SPDX-License-Identifier: MIT
// The bright spot that a measured mirror is expected to make.
#pragma once

#include <string>
#include <vector>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/survey/survey_report.h"

namespace dishwright {

/// The work-card of every target; none where no light was traced.
std::vector<WorkCard> spot_cards(const SurveyReport& report);

/// The light on the face of the first target that gets most of it, for the verdict sheet.
CardPicture spot_picture(const SurveyReport& report, const WorkCard& card);

/// Adds the cards as spot.png (spot-2.png … for more). Returns their names for the list of files, or "".
std::string add_spot_files(const std::vector<WorkCard>& cards, WholeFiles& files);

}  // namespace dishwright
