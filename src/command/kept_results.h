// SPDX-License-Identifier: MIT
// Results of other settings are not written over where nobody named a folder.
#pragma once

#include <filesystem>
#include <string>

namespace dishwright {

/// Where results go, and a word on it.
struct ResultsFolder {
  std::filesystem::path folder;
  std::string note;  ///< lines for the screen; empty where nothing stood in the way
};

/// `wanted`, or the first of wanted-2, wanted-3, … that holds no figures.json of a scene with another digest. A folder without
/// one is free. After 99 of them the last is taken again, and the note says so.
ResultsFolder results_folder(const std::filesystem::path& wanted, const std::string& digest);

}  // namespace dishwright
