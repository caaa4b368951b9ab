// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright compare SCENE…`: the same figures side by side for several curves, and who catches most.
void add_compare_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
