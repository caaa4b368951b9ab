// SPDX-License-Identifier: MIT
#include "command/sweep.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "command/common_options.h"
#include "command/kept_results.h"
#include "command/study_run.h"
#include "question/sweep_points.h"
#include "question/target_number.h"
#include "report/sweep/sweep_data.h"
#include "report/sweep/sweep_outputs.h"
#include "scenefile/vary.h"
#include "study/sweep.h"

namespace dishwright {

namespace {

constexpr int interrupted = 130;  // exit code

struct SweepOptions {
  std::filesystem::path scene;
  std::vector<std::string> vary, figures;
  std::string target, method;
  ReadOptions read;
  OutputOptions output;
};

const char* const sweep_help =
    R"(How do the figures change while one value, or two, change? A table, a sentence, a chart.

  dishwright sweep kettle.toml --vary 'sun.aim_error=0 deg:4 deg:21'
      21 points from an aim that is true to one that is 4 degrees off: share of the mirror's light that the target catches
  dishwright sweep kettle.toml --vary 'target.kettle.offset.z=-2 in:2 in:17' --figure intercept --figure spot_width_90
      the target too near, right and too far; two figures
  dishwright sweep kettle.toml --vary 'sun.aim_error=0 deg:4 deg:9' --vary 'reflector.dish.slope_error=0 mrad:20 mrad:11'
      two keys: a grid of 99 points

  dishwright sweep kettle-yard.toml --set mount.aimed=2026-06-21T10:30-05:00 \
      --vary 'sun.time=2026-06-21T10:30-05:00:2026-06-21T11:20-05:00:11'
      times: the second begins behind the colon that a date follows; a dish that was aimed at half past ten and left

KEY is named as in --set; each end carries its unit. Any quantity, number or whole number of the file's tables can vary; of a list of three (offset,
turn, at) one entry, by .x, .y or .z. All points meet the same random numbers.

Of sound the figures are gain, reflected_gain, half_power_width and side_lobe; of radio gain, aperture_efficiency, spillover, taper, phase, surface,
blockage, reflection, half_power_width and side_lobe. They have one frequency a point:
  dishwright sweep bird-song-dish.toml --vary 'sound.frequency=500 Hz:8 kHz:31' --figure gain --figure half_power_width

Points of light are solved by mirror quadrature where that applies and is quicker (no chance), else by rays; --method forces one. It writes sweep.json, sweep.csv and
for each --figure sweep-FIGURE.png and .svg into out/SCENE-sweep. Ctrl-C keeps the points that are finished ("complete": false).)";

/// Each figure has a column and a chart of its own.
void refuse_twice(const std::vector<std::string>& figures) {
  for (auto one = figures.begin(); one != figures.end(); ++one) {
    if (std::find(figures.begin(), one, *one) == one) continue;
    throw InputError(fmt::format("--figure {} was given twice", *one), "each figure is shown once", "take one of them out");
  }
}

int run_sweep_command(const SweepOptions& options, Watch& watch) {
  const Units units = options.output.shown();
  const std::string name = name_of(options.scene);
  // Read the file once, understand what varies, and check every point before any work.
  const ProjectFile file(options.scene);
  const SweepPoints points(file, options.read, read_variations(file, options.read, options.vary), options.method);
  const Scene first = points.checked(0);
  const std::vector<std::string> figures = options.figures.empty() ? std::vector{usual_figure(first)} : options.figures;
  check_sweep(first, figures);
  refuse_twice(figures);
  const std::size_t target = target_number(first, options.target);
  for (std::size_t k = 1; k < points.count(); ++k) {
    end_if_stopped(watch);
    points.checked(k);
  }
  ResultsFolder results{options.output.folder(options.scene, "-sweep"), ""};
  if (options.output.keeps_others())
    results = results_folder(results.folder, sweep_mark(first, points.axes(), first.targets[target].name));
  // Solve point after point; a stop keeps those that are done.
  StudySteps<Sweep> steps;
  steps.solve = [&] { return run_sweep(points.axes(), target, points, options.output.threads, watch); };
  steps.write = [&](const Sweep& sweep, WholeFiles& files) {
    return add_sweep_outputs(sweep, figures, name, units, files) + results.note;
  };
  steps.json = [&](const Sweep& sweep) { return sweep_json(sweep, name); };
  steps.text = [&](const Sweep& sweep) { return sweep_text(sweep, figures, name, units, options.output.detail()); };
  steps.answer = [&](const Sweep& sweep) { return sweep_answer(sweep, figures, units); };
  steps.keeps_what_is_done = true;
  const Sweep sweep = run_study(steps, options.output, results.folder, watch);
  return sweep.complete ? 0 : interrupted;
}

}  // namespace

void add_sweep_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<SweepOptions>();
  CLI::App* command = app.add_subcommand("sweep", "how the figures change with one or two values");
  command->description(sweep_help);
  command->add_option("SCENE", options->scene, "project file")->required();
  command->add_option("--vary", options->vary, "the key to vary, its first and last value, how many values; once or twice")
      ->type_name("KEY=FROM:TO:COUNT")
      ->required()
      ->allow_extra_args(false);
  command
      ->add_option("--figure", options->figures,
                   "figure to show (intercept, or gain of sound and radio, if not given); repeatable")
      ->type_name("NAME")
      ->allow_extra_args(false);
  command->add_option("--target", options->target, "whose figures are shown (the first target if not given)")->type_name("NAME");
  command->add_option("--method", options->method, "auto (quadrature where it applies and is quicker), rays or quadrature")
      ->check(CLI::IsMember({"rays", "quadrature", "auto"}));
  add_read_options(*command, options->read);
  add_output_options(*command, options->output, "out/SCENE-sweep");
  add_verbose_option(*command, options->output);
  command->callback([command, options, &exit_code, &watch] {
    refuse_units_of_json(*command, options->output);
    refuse_verbose_of_json(*command, options->output);
    exit_code = run_sweep_command(*options, watch);
  });
}

}  // namespace dishwright
