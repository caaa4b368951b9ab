// SPDX-License-Identifier: MIT
// The files of a survey.
#pragma once

#include <string>

#include "base/files.h"
#include "picture/page.h"
#include "report/survey_report.h"

namespace dishwright {

/// Adds survey.json, residual-map.png, slope-map.png, section.png, verdict.pdf and, where there is a target, spot.png. Returns the sentence that says what was written where.
/// Throws WriteError.
std::string add_survey_files(const SurveyReport& report, bool a4, WholeFiles& files);

/// The one-page verdict sheet.
std::string verdict_sheet(const SurveyReport& report, bool a4);

// ---- Pictures ----
enum class SurveyPicture { residual, slope, section };
/// Draws a picture into a box of a page, at least 60 mm wide.
void draw_survey_picture(Pages& pages, const Box& box, const SurveyReport& report, SurveyPicture kind);
/// The same as an image of its own.
Pixels survey_image(const SurveyReport& report, SurveyPicture kind);

}  // namespace dishwright
