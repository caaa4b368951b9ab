// SPDX-License-Identifier: MIT
// `dishwright sweep`.
#pragma once

namespace CLI {
class App;
}

namespace dishwright {

void add_sweep_command(CLI::App& app, int& exit_code);

}  // namespace dishwright
