// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright survey POINTS`: where the focus really is, and whether the surface is good enough.
void add_survey_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
