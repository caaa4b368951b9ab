// SPDX-License-Identifier: MIT
// What the readings cannot show, as JSON.
#pragma once

#include "report/numbers/json_quantity.h"
#include "report/survey/survey_report.h"

namespace dishwright {

/// One entry a ring: {"ring", "radius", "places", "wave", "height", "share_at_risk"}; of readings on no rings one entry with
/// "ring": null, "wave" and "slope". The share is that of the first target, null without light.
Json hidden_json(const SurveyReport& report);

}  // namespace dishwright
