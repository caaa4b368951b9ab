// SPDX-License-Identifier: MIT
#include "command/new_command.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/error.h"
#include "base/files.h"
#include "command/new.h"
#include "command/output.h"

namespace dishwright {

namespace {

struct NewOptions {
  std::filesystem::path file = "kettle.toml";
  bool json = false;
};

int write_starter(const NewOptions& options, const Watch& watch) {
  std::filesystem::path file = options.file;
  if (!file.has_extension()) file += ".toml";
  std::error_code code;
  // A link that leads nowhere counts as there too.
  if (std::filesystem::exists(std::filesystem::symlink_status(file, code))) {
    throw InputError(fmt::format("{} is there already", file.string()), "`new` never writes over your work", "name another file");
  }
  // A name without a folder means the folder one works in.
  WholeFiles files(file.has_parent_path() ? file.parent_path() : std::filesystem::path("."));
  files.add(file.filename().string(), starter_scene(file.stem().string()));
  commit(files, watch);
  if (options.json) {
    print(nlohmann::ordered_json{{"written", file.string()}}.dump(2) + "\n");
  } else {
    print(fmt::format("Wrote {}. Change what you like in it, then:\n  dishwright trace {}\n", file.string(), file.string()));
  }
  return 0;
}

}  // namespace

void add_new_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<NewOptions>();
  CLI::App* command = app.add_subcommand("new", "write a commented starter project file");
  command->description(
      "Writes a starter project file in which every key is explained.\n\n"
      "  dishwright new kettle.toml\n"
      "      writes kettle.toml (and never over a file that is there)\n"
      "  dishwright trace kettle.toml\n"
      "      traces it");
  command->add_option("FILE", options->file, "file to write (kettle.toml if not given)");
  command->add_flag("--json", options->json, "print the file's name as a JSON object");
  command->callback([options, &exit_code, &watch] { exit_code = write_starter(*options, watch); });
}

}  // namespace dishwright
