// SPDX-License-Identifier: MIT
// The files of a survey.
#pragma once

#include <string>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/survey/survey_report.h"

namespace dishwright {

/// Adds survey.json, residual-map.png, slope-map.png, section.png, verdict.pdf and, where there is a target, spot.png. Returns
/// the sentence that says what was written where. Throws WriteError.
std::string add_survey_files(const SurveyReport& report, PageSize paper, WholeFiles& files);

/// Residual map, slope map and section with their headings. What they show is reckoned once, however often they are drawn.
struct SurveyPictures {
  CardPicture residual, slope, section;
};
SurveyPictures survey_pictures(const SurveyReport& report);

/// The verdict sheet with these pictures and, where it is given, the light on the first target.
WorkCard verdict_card(const SurveyReport& report, const SurveyPictures& pictures, const WorkCard* spot);

}  // namespace dishwright
