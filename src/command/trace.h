// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright trace SCENE`: what arrives at each target, and where the rest went.
void add_trace_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
