// SPDX-License-Identifier: MIT
// The manual page, section 1.
#pragma once

#include <string>

#include "command/command_words.h"

namespace dishwright {

/// The page as text for the man macros; plain ASCII, the same at any time and place. What each command asks, its options and
/// examples come from the command line itself; files, exit codes and cautions are told here.
std::string manual_page(const ProgramWords& program);

}  // namespace dishwright
