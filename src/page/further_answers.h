// SPDX-License-Identifier: MIT
// How long the dish can be left standing, and what else it is fit for.
#pragma once

#include "base/progress.h"
#include "page/answers.h"

namespace dishwright {

/// {"drift": {"angle": Q, "direction": Q, "seconds", "open", "words"}} of the asked target, for the share question.wanted of
/// its light;
/// "drift" is null where no light arrives. Throws InputError for sound, radio and lamps.
EngineAnswer drift_answer(const Project& project, const Question& question, Watch& watch);

/// The same dish for light, sound and radio: {"uses": [{"source", "assumed": what the file does not say and was taken, as --set
/// has it, "trace": as of a trace, "words"} or {"source", "problem": why it cannot be one}]}.
EngineAnswer uses_answer(const Project& project, const Question& question, Watch& watch);

}  // namespace dishwright
