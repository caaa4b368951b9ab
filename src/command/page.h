// SPDX-License-Identifier: MIT
// dishwright page: one file for a browser that holds the project and the program itself.
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// Adds the command. When it runs it writes the page and sets `exit_code` to 0; throws InputError, WriteError, Interrupted.
void add_page_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
