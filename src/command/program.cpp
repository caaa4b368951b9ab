// SPDX-License-Identifier: MIT
#include "command/program.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "base/error.h"
#include "command/aim.h"
#include "command/command_line.h"
#include "command/command_words.h"
#include "command/compare.h"
#include "command/heat.h"
#include "command/help_text.h"
#include "command/new_command.h"
#include "command/output.h"
#include "command/page.h"
#include "command/survey.h"
#include "command/sweep.h"
#include "command/tolerance.h"
#include "command/trace.h"
#include "command/typed_name.h"

namespace dishwright {

namespace {

/// A program built for a newer processor would die here without a word.
void check_processor() {
#if defined(__AVX2__)
  if (!__builtin_cpu_supports("avx2") || !__builtin_cpu_supports("fma")) {
    throw InputError("this program was built for a newer processor than this machine has", "it needs AVX2 and FMA",
                     "build it on this machine: cmake picks the right instructions");
  }
#endif
}

/// Prints helps in our own words.
class Helps : public CLI::FormatterBase {
 public:
  std::string make_help(const CLI::App* app, std::string /*name*/, CLI::AppFormatMode /*mode*/) const override {
    const CLI::App* parent = app->get_parent();
    return parent == nullptr ? program_help(words_of(*app, DISHWRIGHT_VERSION), app->get_name())
                             : command_help(words_of_command(*app), parent->get_name());
  }
};

void add_commands(CLI::App& app, int& exit_code, Watch& watch) {
  app.formatter(std::make_shared<Helps>());
  app.set_help_flag("-h,--help", "print this help, and do no more");
  app.set_version_flag("--version", std::string(DISHWRIGHT_VERSION), "print the version, and do no more");
  app.require_subcommand(1);
  app.failure_message(CLI::FailureMessage::simple);
  add_new_command(app, exit_code, watch);
  add_trace_command(app, exit_code, watch);
  add_compare_command(app, exit_code, watch);
  add_sweep_command(app, exit_code, watch);
  add_tolerance_command(app, exit_code, watch);
  add_aim_command(app, exit_code, watch);
  add_heat_command(app, exit_code, watch);
  add_survey_command(app, exit_code, watch);
  add_page_command(app, exit_code, watch);
}

const char* const about_program =
    "dishwright: one project file for a reflector that a class cuts, skins, measures and aims.\n\n"
    "To begin:\n"
    "  dishwright new kettle.toml\n"
    "      writes a first project file\n"
    "  dishwright trace kettle.toml\n"
    "      tells what arrives at its target, and draws it";

}  // namespace

ProgramWords program_words() {
  CLI::App app{about_program, std::string(plain_program_name)};
  int exit_code = 0;
  Watch watch;
  add_commands(app, exit_code, watch);
  return words_of(app, DISHWRIGHT_VERSION);
}

int run_program(int argc, char** argv, Watch& watch) {
  check_processor();
  const std::string program = typed_name(argc, argv);
  CLI::App app{about_program, program};
  int exit_code = 0;
  add_commands(app, exit_code, watch);
  const std::vector<std::string> words(argv + std::min(argc, 1), argv + argc);
  try {
    check_command_line(words, words_of(app, DISHWRIGHT_VERSION), program);
    app.parse(argc, argv);
  } catch (const CLI::Success& shown) {  // --help, --version
    app.exit(shown);
    check_printed();
    return 0;
  } catch (const CLI::ParseError& error) {
    refuse_command_line(words, words_of(app, DISHWRIGHT_VERSION), program, error.what());
  } catch (const InputError& error) {
    throw as_typed(error, program);
  }
  check_printed();
  return exit_code;
}

}  // namespace dishwright
