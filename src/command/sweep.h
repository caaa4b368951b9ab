// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright sweep SCENE --vary KEY=FROM:TO:COUNT`: how the figures change with one or two values.
void add_sweep_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
