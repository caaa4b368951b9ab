// SPDX-License-Identifier: MIT
#include "folders.h"

namespace dishwright::testing {

std::filesystem::path source_folder() { return DISHWRIGHT_SOURCE_DIR; }

std::filesystem::path program_file() { return DISHWRIGHT_PROGRAM; }

}  // namespace dishwright::testing
