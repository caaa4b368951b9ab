// SPDX-License-Identifier: MIT
// Depth readings that were typed into the page.
#pragma once

#include "base/progress.h"
#include "page/answers.h"

namespace dishwright {

/// {"form": {"table": the blank table of `survey --form` as text, "unit"}}, of the project's first mirror. Throws InputError
/// where its depths cannot be read, and for tiles, whose form is longer.
EngineAnswer form_answer(const Project& project, const Question& question);

/// The readings judged as `survey --scene` judges them: {"survey": survey.json, "words": {"answer", "verdicts", "first", "spots",
/// "hidden"}, "places": [{"x", "y", "height"}]}, the places in the readings' x and y [m], their smoothed height off the fitted
/// shape, + = toward the sun [m]. Throws InputError for what is wrong with a row, Interrupted.
EngineAnswer survey_answer(const Project& project, const Question& question, Watch& watch);

}  // namespace dishwright
