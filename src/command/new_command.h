// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright new [FILE]`: writes a commented starter project file.
void add_new_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
