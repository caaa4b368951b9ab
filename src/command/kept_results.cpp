// SPDX-License-Identifier: MIT
#include "command/kept_results.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "base/files.h"
#include "base/text.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

/// The digest in a folder's figures.json; empty where there is none that can be read.
std::string digest_in(const std::filesystem::path& folder) {
  constexpr std::size_t largest = 64'000'000;  // bytes
  const FileBytes found = file_bytes(folder / "figures.json", largest);
  if (found.fault != FileBytes::Fault::none) return "";
  const nlohmann::json json = nlohmann::json::parse(found.bytes, nullptr, false);
  if (!json.is_object() || !json.contains("scene_digest") || !json["scene_digest"].is_string()) return "";
  return json["scene_digest"].get<std::string>();
}

}  // namespace

ResultsFolder results_folder(const std::filesystem::path& wanted, const std::string& digest) {
  constexpr int most = 99;
  std::filesystem::path folder = wanted;
  for (int number = 2; number <= most + 1; ++number) {
    const std::string there = digest_in(folder);
    if (there.empty() || there == digest) break;
    if (number > most)
      return {folder, wrapped(fmt::format("{} held results of other settings; they are replaced, for there are {} such folders.",
                                          printable(folder.string()), most),
                              "Note: ", "  ")};
    folder = wanted.string() + "-" + std::to_string(number);
  }
  if (folder == wanted) return {folder, ""};
  return {folder, wrapped(fmt::format("{} holds the results of other settings and stays as it is; these are in {}.",
                                      printable(wanted.string()), printable(folder.string())),
                          "Note: ", "  ")};
}

}  // namespace dishwright
