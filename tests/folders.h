// SPDX-License-Identifier: MIT
// Where the tree and the built program are. The only unit of the tests that knows a path of this machine is folders.cpp, so that
// all others are the same in every checkout and a compiler cache serves them.
#pragma once

#include <filesystem>

namespace dishwright::testing {

std::filesystem::path source_folder();  ///< top of the tree
std::filesystem::path program_file();   ///< the built dishwright

}  // namespace dishwright::testing
