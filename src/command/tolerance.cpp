// SPDX-License-Identifier: MIT
#include "command/tolerance.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "base/quantity.h"
#include "base/text.h"
#include "command/common_options.h"
#include "command/kept_results.h"
#include "command/study_run.h"
#include "question/light_answer.h"
#include "question/target_number.h"
#include "report/tolerance/tolerance_outputs.h"
#include "scenefile/read_scene.h"
#include "study/tolerance.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

constexpr double least_loss = 0.01, most_loss = 20;  // [dB]

struct ToleranceOptions {
  std::filesystem::path scene;
  std::string wanted, loss, target;
  bool paper_given = false;
  ReadOptions read;
  OutputOptions output;
};

const char* const tolerance_help =
    R"(How true must surface, aim and place of the target be? Each may be off until the target no longer catches enough of the light.

  dishwright tolerance kettle.toml
      what still brings 90 % of the mirror's light onto the target
  dishwright tolerance kettle.toml --wanted '75 %' --set reflector.dish.slope_error='10 mrad'

Each limit is found with all else as the file has it: slope error of the surface, aim error (of a trough across and along it), the target too near, too far or
to a side, the rim too deep or too shallow; for a round dish also how few petals and how large flat tiles would do. Then surface, aim and place at once. Where the
share is missed, or nearly, it tells how wide the same target would have to be.

Of [sound] and [radio] the question is how much gain a thing costs, at the highest frequency of the file:
  dishwright tolerance bird-song-dish.toml --loss '1 dB'
      random bumps (rms) and waves (peak) of the surface, aim, place of the microphone or feed, focal length: each may cost 1 dB
Exit code 0 then: the file's own gain is within the loss of the dish without flaws, shifts and aim error.

Exit code 0: as the file has it the target catches enough; 1: it does not. Writes tolerance.pdf and .png (the table, --paper a4: for that
paper), tolerance-chart.png and .svg, tolerance.txt, .json and .csv into out/SCENE-tolerance; of sound and radio no sheet.)";

/// The value of --loss or --wanted between two bounds; `why` says which they are.
double read_value(const std::string& word, const char* option, const std::string& text, Dimension dimension, bool (*fits)(double),
                  const std::string& why, const std::string& fix) {
  const std::string shown = fmt::format("{} {}: ", option, clipped(printable(text), 60));
  const auto parsed = parse_quantity(text, dimension);
  if (const auto* bad = std::get_if<BadQuantity>(&parsed))
    throw InputError(fmt::format("{}this is not a {}: it {}", shown, word, printable(bad->what)), why, fix);
  const double value = std::get<Quantity>(parsed).value;
  if (fits(value)) return value;
  throw InputError(fmt::format("{}no such {} can be asked for", shown, word), why, fix);
}

double read_loss(const std::string& text) {
  return read_value(
      "loss", "--loss", text, Dimension::level, [](double value) { return value >= least_loss && value <= most_loss; },
      fmt::format("the loss of gain that is allowed is {} dB to {} dB", least_loss, most_loss), "write it like --loss '1 dB'");
}

double read_share(const std::string& text) {
  return read_value(
      "share", "--wanted", text, Dimension::number, [](double value) { return value > 0 && value < 1; },
      "the wanted share of the mirror's light is more than 0 % and less than 100 %",
      "write it like --wanted '90 %' or --wanted 0.9");
}

/// A share for light, a loss for sound and radio.
double read_wanted(const ToleranceOptions& options, const Scene& scene) {
  if (!scene.is_wave() && options.loss.empty()) return read_share(options.wanted.empty() ? "90 %" : options.wanted);
  if (scene.is_wave() && options.wanted.empty()) return read_loss(options.loss.empty() ? "1 dB" : options.loss);
  if (scene.is_wave())
    throw InputError("--wanted is for light", "sound and radio have a gain, not a share that is caught",
                     "write --loss '1 dB' instead");
  throw InputError("--loss is for sound and radio", "light is judged by the share that the target catches",
                   "write --wanted '90 %' instead, or add --as sound or --as radio");
}

/// Of light, with the paths of one point.
Scene searched(const Scene& scene) {
  Scene out = scene;
  if (!scene.is_wave()) out.trace.paths = std::min(scene.trace.paths, most_tolerance_paths);
  return out;
}

Tolerance find_limits(const Scene& scene, std::size_t target, double wanted, int threads, Watch& watch) {
  if (scene.is_wave()) return find_wave_tolerance(scene, target, wanted, threads, watch);
  return find_tolerance(scene, target, wanted, searched(scene).trace.paths, threads, watch);
}

int run_tolerance(const ToleranceOptions& options, Watch& watch) {
  const Units units = options.output.shown();
  const std::string name = name_of(options.scene);
  // Read the project file.
  const Scene scene = read_scene(options.scene, options.read);
  const double wanted = read_wanted(options, scene);
  if (scene.lamp)
    throw InputError("tolerance needs sunlight",
                     "aim and slope limits are about light that is drawn together; a lamp's beam is judged by its picture",
                     "give the file a [sun], or use trace and compare for the lamp");
  if (scene.is_wave() && options.paper_given)
    throw InputError("--paper does nothing for sound and radio", "of them no sheet for print is written", "leave --paper out");
  if (scene.is_wave()) check_wave_limits(scene);
  const std::size_t target = target_number(scene, options.target);
  ResultsFolder results{options.output.folder(options.scene, "-tolerance"), ""};
  if (options.output.keeps_others())
    results = results_folder(results.folder, tolerance_mark(searched(scene), scene.targets[target].name, wanted));
  // Find the limits.
  StudySteps<Tolerance> steps;
  steps.solve = [&] { return find_limits(scene, target, wanted, options.output.threads, watch); };
  steps.write = [&](const Tolerance& all, WholeFiles& files) {
    return add_tolerance_outputs(all, name, units, options.output.page(), files) + results.note;
  };
  steps.json = [&](const Tolerance& all) { return tolerance_json(all, name, units); };
  steps.text = [&](const Tolerance& all) { return tolerance_text(all, name, units, options.output.detail()); };
  steps.answer = [&](const Tolerance& all) { return tolerance_answer(all, units); };
  const Tolerance all = run_study(steps, options.output, results.folder, watch);
  return all.holds() ? 0 : 1;
}

}  // namespace

void add_tolerance_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<ToleranceOptions>();
  CLI::App* command = app.add_subcommand("tolerance", "how good surface, aim and place of the target must be");
  command->description(tolerance_help);
  command->add_option("SCENE", options->scene, "project file")->required();
  command->add_option("--wanted", options->wanted, "wanted share of the mirror's light on the target (90 % if not given)")
      ->type_name("SHARE");
  command
      ->add_option("--loss", options->loss,
                   "sound and radio, in place of --wanted: loss of gain that is allowed (1 dB if not given)")
      ->type_name("LOSS");
  command->add_option("--target", options->target, "which target (the first if not given)")->type_name("NAME");
  add_read_options(*command, options->read);
  add_output_options(*command, options->output, "out/SCENE-tolerance");
  add_verbose_option(*command, options->output);
  add_paper_option(*command, options->output, "the sheet of light");
  command->callback([command, options, &exit_code, &watch] {
    refuse_verbose_of_json(*command, options->output);
    refuse_paper_of_json(*command, options->output);
    options->paper_given = command->count("--paper") > 0;
    exit_code = run_tolerance(*options, watch);
  });
}

}  // namespace dishwright
