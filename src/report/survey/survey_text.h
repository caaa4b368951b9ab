// SPDX-License-Identifier: MIT
// What `survey` prints, and survey.json.
#pragma once

#include <string>

#include "report/numbers/detail.h"
#include "report/survey/survey_report.h"
#include "survey/found_dish.h"

namespace dishwright {

/// Plain text, 80 columns: the fit, the surface, the worst spots, the design.
std::string survey_text(const SurveyReport& report, Detail detail = Detail::answer);
/// The verdicts, and what to do first: printed last.
std::string survey_answer(const SurveyReport& report);
/// {"points", "version", "fit": {…}, "fits": {…}, "residual_rms": Q, "slope_rms": Q, "uses": […], …}; SI units, radians.
std::string survey_json(const SurveyReport& report);

/// The same for a found dish.
std::string found_text(const FoundMeasures& measures, const FoundDish& dish, Units units);
std::string found_json(const FoundMeasures& measures, const FoundDish& dish);

}  // namespace dishwright
