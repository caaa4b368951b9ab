// SPDX-License-Identifier: MIT
// Options that most commands share, and what follows from them.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "picture/pages.h"
#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "scenefile/read_scene.h"

namespace CLI {
class App;
}

namespace dishwright {

/// What is printed, and where files go.
struct OutputOptions {
  std::string out;
  std::string units = "us";
  std::string paper = "letter";  ///< of commands with add_paper_option()
  bool json = false;
  bool verbose = false;  ///< of commands with add_verbose_option()
  int threads = 1;       ///< add_output_options() sets all cores
  Units shown() const { return units == "si" ? Units::si : Units::us; }
  PageSize page() const { return paper == "a4" ? a4_page : letter_page; }
  Detail detail() const { return verbose ? Detail::method : Detail::answer; }
  /// With --json files are written only where --out is given.
  bool writes() const { return !json || !out.empty(); }
  /// Files go into the folder that results have of their own accord: there those of other settings stay.
  bool keeps_others() const { return !json && out.empty(); }
  /// --out, or out/NAME with the name of a file without its ending, as its bytes are; `otherwise` where it has none.
  std::filesystem::path folder(const std::filesystem::path& file, const std::string& after = "",
                               const std::string& otherwise = "scene") const;
};

/// --json, --units, --out (its default is told as `folder`), --threads.
void add_output_options(CLI::App& command, OutputOptions& options, const std::string& folder);
/// --paper, of commands that write a sheet for print; `sheets` says which.
void add_paper_option(CLI::App& command, OutputOptions& options, const std::string& sheets);
/// --verbose.
void add_verbose_option(CLI::App& command, OutputOptions& options);
/// --set, --as; `all` lets --as all pass.
void add_read_options(CLI::App& command, ReadOptions& options, bool all = false);

/// Throws InputError where one of these options was given: it does nothing in this case (`here`: "with --replay").
void refuse_idle(const CLI::App& command, const std::vector<std::string>& options, const std::string& here,
                 const std::string& why);
/// Throws InputError where --paper was given for results in JSON alone: no sheet is written.
void refuse_paper_of_json(const CLI::App& command, const OutputOptions& options);
/// Throws InputError where --verbose was given for results in JSON, which hold all of it.
void refuse_verbose_of_json(const CLI::App& command, const OutputOptions& options);
/// Throws InputError where --units us was given for results in JSON alone, which are in SI units.
void refuse_units_of_json(const CLI::App& command, const OutputOptions& options);

/// The name of a file without its ending, fit for printing; `otherwise` where it has none.
std::string name_of(const std::filesystem::path& file, const std::string& otherwise = "scene");

}  // namespace dishwright
