// SPDX-License-Identifier: MIT
#include "command/heat.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "command/common_options.h"
#include "command/kept_results.h"
#include "command/study_run.h"
#include "report/heat/heat_report.h"
#include "scene/water.h"

namespace dishwright {

namespace {

struct HeatOptions {
  std::filesystem::path scene, log;
  ReadOptions read;
  OutputOptions output;
};

const char* const heat_help =
    R"(How long until the water boils, and is that soon enough? The traced light into a balance of heat, as a band.

  dishwright heat kettle-boil.toml
      by the [load] in the file: power taken in, minutes as a band, what an empty vessel would reach, the goal
  dishwright heat kettle-boil.toml --set 'load.volume=1 L' --set load.minutes=30 --set 'air.wind=10 mph'
      another amount, another goal, a windy day
  dishwright heat kettle-boil.toml --log kettle-log.csv
      beside what a class measured: cooking power in steps of ten minutes, and whether the band held

A file without [load] is asked by --set 'load.volume=1 L'. The log is a table: time [min],temperature [degC],beam [W/m2] and,
if it was read, wind [m/s] and air [degC]. Exit code 0: the goal is met, or too close to call; 1: it is not. It writes
heat-card.pdf, heat.png, heat.csv and heat.json into out/SCENE-heat. More: docs/heat.md.)";

Scene read_loaded(const HeatOptions& options) {
  Scene scene = read_scene(options.scene, options.read);
  if (scene.lamp || scene.is_wave())
    throw InputError("heat needs sunlight", "it reckons what the sun heats", "give the file a [sun], or add --as light");
  if (!scene.load)
    throw InputError("heat needs a [load]", "how long it takes depends on what is heated",
                     "write a header [load] and under it volume = \"1 L\", or add --set 'load.volume=1 L'");
  return scene;
}

/// The scene under the sky of the log, with its load as warm as at its start.
Scene under_log(Scene scene, const DemoLog& log) {
  Load& load = *scene.load;
  if (!(log.mean_beam > 0))
    throw InputError("--log: its mean beam is 0", "nothing is heated without sun", "look whether the column beam is right");
  load.start = log.rows.front().temperature;
  if (load.start >= load.wanted)
    throw InputError("--log: the load is as hot as wanted in its first row", "then there is nothing to heat",
                     "leave out the rows after it was hot, or raise load.wanted");
  scene.sun.beam = log.mean_beam;
  if (scene.outdoors) scene.outdoors->clear_sky = false;
  load.wind = log.mean_wind.value_or(load.wind);
  load.air_temperature = log.mean_air.value_or(load.air_temperature);
  return scene;
}

int run_heat(const HeatOptions& options, Watch& watch) {
  const Units units = options.output.shown();
  const std::string name = name_of(options.scene);
  // Read the project file and the log.
  Scene scene = read_loaded(options);
  std::optional<DemoLog> log;
  if (!options.log.empty()) {
    constexpr double over_boiling = 3, hottest = 1773.15;  // what a thermometer may be off [K]
    log = read_demo_log(options.log, boils(*scene.load) ? boiling_point(scene.load->pressure) + over_boiling : hottest);
    if (!boils(*scene.load))
      throw InputError("--log needs a load of water", "cooking power is reckoned for water",
                       "write stuff = \"water\" below [load]");
    scene = under_log(scene, *log);
  }
  ResultsFolder results{options.output.folder(options.scene, "-heat"), ""};
  if (options.output.keeps_others()) results = results_folder(results.folder, heat_mark(scene));
  // The light, the band, the goal.
  StudySteps<HeatFindings> steps;
  steps.solve = [&] {
    const double measured = log ? log->rows.back().time - log->rows.front().time : 0;
    HeatFindings found{heat_plan(scene, options.output.threads, watch, measured), std::nullopt};
    if (log) found.log = compare_log(found.plan, *log);
    return found;
  };
  steps.write = [&](const HeatFindings& found, WholeFiles& files) {
    return add_heat_outputs(found, name, units, options.output.page(), files) + results.note;
  };
  steps.json = [&](const HeatFindings& found) { return heat_json(found, name); };
  steps.text = [&](const HeatFindings& found) { return heat_text(found, name, units, options.output.detail()); };
  steps.answer = [&](const HeatFindings& found) { return heat_answer(found, units); };
  const HeatFindings found = run_study(steps, options.output, results.folder, watch);
  return found.plan.goal.holds.value_or(true) ? 0 : 1;
}

}  // namespace

void add_heat_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<HeatOptions>();
  CLI::App* command = app.add_subcommand("heat", "how long it takes to heat a load; the goal, the log");
  command->description(heat_help);
  command->add_option("SCENE", options->scene, "project file")->required();
  command->add_option("--log", options->log, "what was measured, to be compared")->type_name("FILE");
  add_read_options(*command, options->read);
  add_output_options(*command, options->output, "out/SCENE-heat");
  add_paper_option(*command, options->output, "the heat card");
  add_verbose_option(*command, options->output);
  command->callback([command, options, &exit_code, &watch] {
    refuse_units_of_json(*command, options->output);
    refuse_verbose_of_json(*command, options->output);
    refuse_paper_of_json(*command, options->output);
    exit_code = run_heat(*options, watch);
  });
}

}  // namespace dishwright
