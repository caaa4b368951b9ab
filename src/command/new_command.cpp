// SPDX-License-Identifier: MIT
#include "command/new_command.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "base/files.h"
#include "base/text.h"
#include "command/output.h"
#include "command/starter_scene.h"
#include "report/numbers/json_quantity.h"

namespace dishwright {

namespace {

struct NewOptions {
  std::filesystem::path file = "kettle.toml";
  std::string like = starter_kinds().front();
  bool json = false;
  std::string program;  ///< as the user typed it
};

[[noreturn]] void refuse(std::string what, std::string why, std::string fix) {
  throw InputError(std::move(what), std::move(why), std::move(fix));
}

/// Throws InputError where there is something of that name. A link that leads nowhere counts as there too.
void refuse_to_overwrite(const std::filesystem::path& file) {
  std::error_code ignored;
  const std::filesystem::file_status status = std::filesystem::symlink_status(file, ignored);
  if (!std::filesystem::exists(status)) return;
  refuse(fmt::format("{} is there already{}", file.string(), std::filesystem::is_symlink(status) ? ", as a link" : ""),
         "`new` never writes over your work", "name another file");
}

/// The file to write: .toml is added to a name without an ending. Throws InputError for names that no new file can have.
std::filesystem::path new_file(const std::filesystem::path& asked) {
  std::filesystem::path file = asked;
  if (file.empty()) refuse("the name of the file is empty", "", "write it like: dishwright new kettle.toml");
  const std::string last = file.filename().string();
  std::error_code ignored;
  if (last.empty() || last == "." || last == ".." || std::filesystem::is_directory(file, ignored)) {
    refuse(fmt::format("{} is the name of a folder", file.string()), "a project file is a file",
           fmt::format("name a file in it: dishwright new {}", shell_word((file / "kettle.toml").string())));
  }
  if (!file.has_extension()) file += last == ".toml" ? "" : ".toml";
  if (file.stem() == ".toml") refuse(fmt::format("{} has no name before .toml", file.string()), "", "write it like: kettle.toml");
  refuse_to_overwrite(file);
  return file;
}

int write_starter(const NewOptions& options, const Watch& watch) {
  const std::filesystem::path file = new_file(options.file);
  const std::string name = file.string(), command = options.program + " trace " + shell_word(name);
  const Starter starter = starter_like(options.like, file.stem().string(), command);
  // A name without a folder means the folder one works in.
  WholeFiles files(file.has_parent_path() ? file.parent_path() : std::filesystem::path("."));
  files.add(file.filename().string(), starter.scene, Standing::kept);
  std::string table;
  if (!starter.table_name.empty()) {
    table = (file.parent_path() / starter.table_name).string();
    refuse_to_overwrite(table);
    files.add(starter.table_name, starter.table, Standing::kept);
  }
  commit(files, watch);
  Json written{{"written", name}};
  if (!table.empty()) written["table"] = table;
  const std::string both = printable(name) + (table.empty() ? "" : " and " + printable(table));
  print(options.json ? json_text(written) : fmt::format("Wrote {}. Change what you like in it, then:\n  {}\n", both, command));
  return 0;
}

}  // namespace

void add_new_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<NewOptions>();
  options->program = app.get_name();
  CLI::App* command = app.add_subcommand("new", "write a commented starter project file");
  command->description(
      "Writes a starter project file in which every key is explained.\n\n"
      "  dishwright new kettle.toml\n"
      "      writes kettle.toml (and never over a file that is there)\n"
      "  dishwright trace kettle.toml\n"
      "      traces it\n"
      "  dishwright new my-trough.toml --like trough\n"
      "      writes one of another kind: petals cut from sheet, flat tiles, a trough, sound, radio, a lamp, or a curve of your\n"
      "      own with its table (profile)");
  command->add_option("FILE", options->file, "file to write (kettle.toml if not given)");
  command->add_option("--like", options->like, "kind of project to begin with: dish (if not given) or another")
      ->check(CLI::IsMember(starter_kinds()));
  command->add_flag("--json", options->json, "print the file's name as a JSON object");
  command->callback([options, &exit_code, &watch] { exit_code = write_starter(*options, watch); });
}

}  // namespace dishwright
