// SPDX-License-Identifier: MIT
#include "command/tolerance.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>
#include <thread>

#include "base/error.h"
#include "base/quantity.h"
#include "command/output.h"
#include "command/progress.h"
#include "command/target_number.h"
#include "report/tolerance_outputs.h"
#include "scenefile/read_scene.h"
#include "study/tolerance.h"

namespace dishwright {

namespace {

constexpr std::uint64_t most_paths = 65'536;  // of one point: an error of the share of some 0.0003

struct ToleranceOptions {
  std::filesystem::path scene;
  std::string share = "90 %", target;
  ReadOptions read;
  std::string out;
  std::string units = "us";
  bool json = false;
  int threads = 0;
};

const char* const tolerance_help =
    R"(How true must the surface be, how good the aim, how close the target to its place, for the target to catch enough of the light?

  dishwright tolerance kettle.toml
      what still brings 90 % of the mirror's light onto the target
  dishwright tolerance kettle.toml --share '75 %' --set reflector.dish.slope_error='10 mrad'

Each limit is found with all else as the file has it: slope error of the surface, aim error, the target too near, too far or to a side, the focal length too
long or too short; for a round dish also how few petals and how large flat tiles would do. Then three of them at once, beside the textbook's root sum square.

Exit code 0: as the file has it the target catches enough; 1: it does not. Writes tolerance.txt, .json, .csv, .png and .svg into out/SCENE-tolerance.)";

double read_share(const std::string& text) {
  const auto parsed = parse_quantity(text, Dimension::number);
  const auto* quantity = std::get_if<Quantity>(&parsed);
  if (quantity != nullptr && quantity->value > 0 && quantity->value < 1) return quantity->value;
  throw InputError(
      fmt::format("--share {}: {}", text, quantity != nullptr ? "no such share can be asked for" : "this is not a share"),
      "the wanted share of the mirror's light is more than 0 % and less than 100 %",
      "write it like --share '90 %' or --share 0.9");
}

Tolerance search_with_progress(const Scene& scene, std::size_t target, double wanted, int threads) {
  Watch watch;
  const Progress progress(watch);
  return find_tolerance(scene, target, wanted, std::min(scene.trace.paths, most_paths), threads, watch);
}

int run_tolerance(const ToleranceOptions& options) {
  const Units units = options.units == "si" ? Units::si : Units::us;
  const std::string stem = options.scene.stem().string(), name = stem.empty() ? "scene" : stem;
  const double wanted = read_share(options.share);
  // Read the project file.
  const Scene scene = read_scene(options.scene, options.read);
  if (scene.lamp)
    throw InputError("tolerance needs sunlight",
                     "aim and slope limits are about light that is drawn together; a lamp's beam is judged by its picture",
                     "give the file a [sun], or use trace and compare for the lamp");
  const std::size_t target = target_number(scene, options.target);
  // Make sure that the results can be kept.
  const bool writes = !options.json || !options.out.empty();
  WholeFiles files(options.out.empty() ? std::filesystem::path("out") / (name + "-tolerance")
                                       : std::filesystem::path(options.out));
  if (writes) files.prepare();
  // Find the limits.
  const Tolerance all = search_with_progress(scene, target, wanted, options.threads);
  // Write the files whole.
  std::string written;
  if (writes) {
    written = add_tolerance_outputs(all, name, units, files);
    files.commit();
  }
  // Say it.
  print(options.json ? tolerance_json(all, name, units) : tolerance_text(all, name, units) + written);
  return all.holds() ? 0 : 1;
}

}  // namespace

void add_tolerance_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<ToleranceOptions>();
  options->threads = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  CLI::App* command = app.add_subcommand("tolerance", "how good surface, aim and place of the target must be");
  command->description(tolerance_help);
  command->add_option("SCENE", options->scene, "project file")->required();
  command->add_option("--share", options->share, "wanted share of the mirror's light on the target (90 % if not given)");
  command->add_option("--target", options->target, "which target (the first if not given)");
  command->add_flag("--json", options->json, "print the results as one JSON object (and write no files unless --out is given)");
  command->add_option("--units", options->units, "units of what is printed: us (in) or si (mm)")
      ->check(CLI::IsMember({"si", "us"}));
  command->add_option("--out", options->out, "folder for the files (out/SCENE-tolerance if not given)");
  command->add_option("--set", options->read.set, "KEY=VALUE: change a key of the project file; repeatable")
      ->allow_extra_args(false);
  command->add_option("--as", options->read.as, "which source to use where a file has several: light")
      ->check(CLI::IsMember({"light", "sound", "radio"}));
  command->add_option("--threads", options->threads, "threads to use; the figures do not depend on it")
      ->check(CLI::Range(1, 256));
  command->callback([options, &exit_code] { exit_code = run_tolerance(*options); });
}

}  // namespace dishwright
