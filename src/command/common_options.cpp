// SPDX-License-Identifier: MIT
#include "command/common_options.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <thread>

#include "base/error.h"
#include "base/text.h"

namespace dishwright {

namespace {

std::string stem_of(const std::filesystem::path& file, const std::string& otherwise) {
  const std::string stem = file.stem().string();
  return stem.empty() || stem == "." || stem == ".." ? otherwise : stem;
}

}  // namespace

std::filesystem::path OutputOptions::folder(const std::filesystem::path& file, const std::string& after,
                                            const std::string& otherwise) const {
  return out.empty() ? std::filesystem::path("out") / (stem_of(file, otherwise) + after) : std::filesystem::path(out);
}

void add_output_options(CLI::App& command, OutputOptions& options, const std::string& folder) {
  options.threads = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  command.add_flag("--json", options.json, "print the results as one JSON object (and write no files unless --out is given)");
  command.add_option("--units", options.units, "units of what is printed: us (in) or si (mm)")
      ->check(CLI::IsMember({"si", "us"}));
  command.add_option("--out", options.out, "folder for the files (" + folder + " if not given)")->type_name("FOLDER");
  command.add_option("--threads", options.threads, "threads to use; the figures do not depend on it")
      ->type_name("COUNT")
      ->check(CLI::Range(1, 256));
}

void add_paper_option(CLI::App& command, OutputOptions& options, const std::string& sheets) {
  command.add_option("--paper", options.paper, "paper of " + sheets + ": letter (if not given) or a4")
      ->check(CLI::IsMember({"letter", "a4"}));
}

void add_verbose_option(CLI::App& command, OutputOptions& options) {
  command.add_flag("--verbose", options.verbose,
                   "tell also how the figures were found: method, replicates, places on the mirror");
}

void add_read_options(CLI::App& command, ReadOptions& options, bool all) {
  command.add_option("--set", options.set, "change a key of the project file, e.g. reflector.dish.width=36in; repeatable")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
  const std::string each = all ? ", or all of them: all" : "";
  std::vector<std::string> words = {"light", "sound", "radio"};
  if (all) words.emplace_back("all");
  command.add_option("--as", options.as, "which source to use where a file has several: light, sound or radio" + each)
      ->check(CLI::IsMember(words));
}

void refuse_idle(const CLI::App& command, const std::vector<std::string>& options, const std::string& here,
                 const std::string& why) {
  for (const std::string& option : options) {
    if (command.count(option) == 0) continue;
    throw InputError(fmt::format("{} does nothing {}", option, here), why, "leave it out");
  }
}

void refuse_paper_of_json(const CLI::App& command, const OutputOptions& options) {
  if (!options.writes()) refuse_idle(command, {"--paper"}, "with --json alone", "no sheet is written");
}

void refuse_verbose_of_json(const CLI::App& command, const OutputOptions& options) {
  if (options.json) refuse_idle(command, {"--verbose"}, "with --json", "the JSON object tells the method as it is");
}

void refuse_units_of_json(const CLI::App& command, const OutputOptions& options) {
  if (options.writes() || options.shown() == Units::si) return;
  refuse_idle(command, {"--units"}, "with --json", "the numbers of a JSON object are in SI units, with their unit beside them");
}

std::string name_of(const std::filesystem::path& file, const std::string& otherwise) {
  return printable(stem_of(file, otherwise));
}

}  // namespace dishwright
