// SPDX-License-Identifier: MIT
#include "command/trace.h"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <list>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/error.h"
#include "base/unfinished.h"
#include "command/common_options.h"
#include "command/kept_results.h"
#include "command/output.h"
#include "command/progress.h"
#include "command/replay_json.h"
#include "command/replay_text.h"
#include "report/numbers/card_files.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/provenance.h"
#include "report/trace/figures_json.h"
#include "report/trace/outputs.h"
#include "report/trace/summary.h"
#include "report/trace/three_uses.h"
#include "report/waves/wave_json.h"
#include "report/waves/wave_outputs.h"
#include "report/waves/wave_summary.h"
#include "scenefile/read_scene.h"
#include "study/solve_scene.h"
#include "study/wave_figures.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

struct TraceOptions {
  std::filesystem::path scene;
  ReadOptions read;
  OutputOptions output;
  std::string method;
  std::optional<std::uint64_t> replay;
  bool printed = false;  ///< --paper was given: the card of light is written for print, too
  /// Every source of the file is traced, and a sheet holds them all.
  bool several() const { return read.as == "all"; }
  std::optional<PageSize> paper_of_light() const { return printed && !several() ? std::optional(output.page()) : std::nullopt; }
};

const char* const trace_help =
    R"(What arrives at each target: light, sound or radio. Of light: power, how big and how strong the hot spot is, where the rest went, a map.

A project file describes the mirror, what shines on it (the sun, or a lamp) and the target. The smallest one (save it as kettle.toml):

  [sun]
  beam = "850 W/m2"

  [reflector.dish]
  shape = "paraboloid"
  focal_length = "24 in"
  width = "48 in"
  reflectance = 0.86
  slope_error = "4 mrad"

  [target.kettle]
  shape = "disk"
  width = "6 in"
  at = "focus of dish"

Then:
  dishwright trace kettle.toml
      prints the figures and writes figures.json, map.png, map.exr and map.csv into out/kettle
  dishwright trace kettle.toml --set sun.aim_error="2 deg" --json
      the same with the dish aimed 2 degrees off; one JSON object, no files
  dishwright trace kettle.toml --set sun.aim_error="2 deg"
      the same with files: out/kettle holds those of other settings, so these go into out/kettle-2
  dishwright trace kettle.toml --paper a4
      the same, and map.pdf: the card to print
  dishwright trace kettle.toml --method quadrature
      the same figures without chance, in a blink; says so where that cannot be done or takes far too long
  dishwright trace kettle.toml --method auto
      without chance where that is quicker, else by rays
  dishwright trace kettle.toml --replay 7
      follows path number 7 in words and numbers

With [sound] or [radio] in place of [sun] the figures are gains, beam width and what a miss costs:
  dishwright trace scenes/bird-song-dish.toml
      how many dB the dish gives at the microphone, from which pitch on it helps, how narrow it hears
Where one file has several of them, --as light, --as sound or --as radio says which is traced. More: docs/waves.md.
  dishwright trace scenes/three-uses.toml --as all
      traces each of them, and says on one sheet what the dish is fit for (--paper a4: for that paper)

With a [lamp] in place of [sun] the mirror throws a beam on a screen: see scenes/yard-lamp.toml and docs/scene-file.md.
`dishwright new kettle.toml` writes a longer starter with every key explained.)";

Scene read(const TraceOptions& options, const ProjectFile& file, const std::string& as) {
  ReadOptions how = options.read;
  how.as = as;
  Scene scene = file.scene(how);
  if (!options.method.empty()) scene.trace.method = *method_of(options.method);
  return scene;
}

void check_replay(const TraceOptions& options, const Scene& scene) {
  if (*options.replay < scene.trace.paths) return;
  throw InputError("--replay " + std::to_string(*options.replay) + ": there is no such path",
                   "paths are numbered from 0 to " + std::to_string(scene.trace.paths - 1), "take a smaller number");
}

int run_replay(const TraceOptions& options) {
  const Scene scene = read(options, ProjectFile(options.scene), options.read.as);
  check_replay(options, scene);
  const PathHistory story = replay_path(scene, *options.replay);
  print(options.output.json ? replay_json(story) : replay_text(scene, story, options.output.shown()));
  return 0;
}

TraceFigures trace_with_progress(const Scene& scene, int threads, Watch& watch) {
  const Progress progress(watch);
  return solve_scene(scene, threads, watch);
}

WaveFigures waves_with_progress(const Scene& scene, WaveMaps maps, int threads, Watch& watch) {
  const Progress progress(watch);
  return wave_figures(scene, maps, threads, watch);
}

/// What one source gave: to be printed, and its line on a sheet of several.
struct Traced {
  nlohmann::ordered_json json;
  std::string text, written, answer;  // in the order of the screen
  UseLine use;
};

/// Figures of sound or radio; the files wait to be put in place.
Traced trace_waves(const TraceOptions& options, const Scene& scene, const std::string& name, WholeFiles& files, Watch& watch) {
  const bool writes = options.output.writes();
  const std::string digest = scene_digest(scene);
  const WaveFigures figures = waves_with_progress(scene, writes ? WaveMaps::made : WaveMaps::none, options.output.threads, watch);
  const WaveResult result{scene, name, digest, figures, options.output.shown()};
  Traced traced;
  traced.json = wave_json(scene, name, digest, figures);
  if (writes) traced.written = add_wave_outputs(result, json_text(traced.json), options.output.page(), files);
  if (!options.output.json) traced.text = wave_summary(scene, name, digest, figures, result.units, options.output.detail());
  if (!options.output.json) traced.answer = wave_answer(scene, figures, result.units);
  if (options.several()) traced.use = wave_use_line(result, writes);
  return traced;
}

/// The same for light.
Traced trace_light(const TraceOptions& options, const Scene& scene, const std::string& name, WholeFiles& files, Watch& watch) {
  const bool writes = options.output.writes();
  const std::string digest = scene_digest(scene);
  const TraceFigures figures = trace_with_progress(scene, options.output.threads, watch);
  const Result result{scene, name, digest, figures, options.output.shown()};
  const std::vector<WorkCard> cards = writes ? map_cards(result) : std::vector<WorkCard>{};
  Traced traced;
  traced.json = figures_json(scene, name, digest, figures);
  if (writes) traced.written = add_outputs(result, json_text(traced.json), cards, files, options.paper_of_light());
  if (!options.output.json) traced.text = summary(scene, name, digest, figures, result.units, options.output.detail());
  if (!options.output.json) traced.answer = trace_answer(scene, figures, result.units);
  if (options.several()) traced.use = light_use_line(result, writes ? &cards.front() : nullptr);
  return traced;
}

Traced trace_source(const TraceOptions& options, Scene& scene, const std::string& name, WholeFiles& files, Watch& watch) {
  end_if_stopped(watch);
  scene.is_wave() ? check_wave_limits(scene) : check_method(scene);
  // Make sure that the results can be kept.
  if (options.output.writes()) files.prepare();
  return scene.is_wave() ? trace_waves(options, scene, name, files, watch) : trace_light(options, scene, name, files, watch);
}

/// Every source of the file, then one sheet.
int run_all(const TraceOptions& options, Watch& watch) {
  if (options.replay) throw InputError("--replay does not go with --as all", "a path is one of light", "write --as light");
  const std::string name = name_of(options.scene);
  const ProjectFile file(options.scene);
  const std::vector<std::string> words = file.source_words(options.read);
  if (words.size() < 2) {
    throw InputError("--as all needs several sources in the file",
                     words.empty() ? "there is no [sun], [lamp], [sound] or [radio]" : "it has " + words.front() + " only",
                     "add a table such as [sound], or leave --as out");
  }
  if (words.front() != "light" && words.back() != "light") refuse_method_of_waves(options.method);
  // Read all before any is traced: a mistake shows at once.
  std::vector<Scene> scenes;
  scenes.reserve(words.size());
  for (const std::string& word : words) scenes.push_back(read(options, file, word));
  const std::filesystem::path folder = options.output.folder(options.scene);
  WholeFiles sheet(folder);
  if (options.output.writes()) sheet.prepare();  // it makes the folder, and being destroyed last takes it away again
  std::list<WholeFiles> files;
  nlohmann::ordered_json json;
  std::string text, written;
  std::vector<UseLine> uses;
  for (std::size_t k = 0; k < words.size(); ++k) {
    const Traced traced = trace_source(options, scenes[k], name, files.emplace_back(folder / words[k]), watch);
    if (options.output.json) json[words[k]] = traced.json;
    text += (text.empty() ? "" : "\n") + traced.text;
    written += traced.written;
    uses.push_back(traced.use);
  }
  if (options.output.writes()) {
    add_printed_card(sheet, "three-uses", uses_card(scenes.front(), name, uses, options.output.shown()), options.output.page());
    std::vector<WholeFiles*> all = {&sheet};
    for (WholeFiles& one : files) all.push_back(&one);
    end_if_stopped(watch);
    WholeFiles::commit_together(all);
    written += "\nWritten into " + folder.string() + ":\n  three-uses.pdf  one page to print\n";
  }
  print(options.output.json ? json_text(json) : text + written + uses_text(uses));
  return 0;
}

void refuse_idle_options(const CLI::App& command, const TraceOptions& options) {
  refuse_units_of_json(command, options.output);
  refuse_verbose_of_json(command, options.output);
  if (!options.replay) {
    refuse_paper_of_json(command, options.output);
    return;
  }
  refuse_idle(command, {"--paper", "--out", "--verbose"}, "with --replay", "one path is printed, and no file is written");
  if (options.method != "rays") refuse_idle(command, {"--method"}, "with --replay", "a path that is followed is one of rays");
}

int run_trace(const TraceOptions& options, Watch& watch) {
  if (options.several()) return run_all(options, watch);
  if (options.replay) return run_replay(options);
  const std::string name = name_of(options.scene);
  // Read the project file and check that it makes sense.
  Scene scene = read(options, ProjectFile(options.scene), options.read.as);
  refuse_method(scene, options.method);
  // Trace, and write the files whole.
  ResultsFolder results{options.output.folder(options.scene), ""};
  if (options.output.out.empty() && options.output.writes()) results = results_folder(results.folder, scene_digest(scene));
  WholeFiles files(results.folder);
  const Traced traced = trace_source(options, scene, name, files, watch);
  if (options.output.writes()) commit(files, watch);
  // Say it.
  print(options.output.json ? json_text(traced.json) : traced.text + traced.written + results.note + traced.answer);
  return 0;
}

}  // namespace

void add_trace_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<TraceOptions>();
  CLI::App* command = app.add_subcommand("trace", "what arrives at each target, and where the rest went");
  command->description(trace_help);
  command->add_option("SCENE", options->scene, "project file")->required();
  command
      ->add_option(
          "--method", options->method,
          "rays (paths by chance), quadrature (smooth images, not for every scene) or auto; instead of the key trace.method")
      ->check(CLI::IsMember({"rays", "quadrature", "auto"}));
  add_read_options(*command, options->read, true);
  add_output_options(*command, options->output, "out/SCENE");
  add_paper_option(*command, options->output,
                   "the card of sound or radio and of the sheet of --as all; of light it asks for map.pdf");
  add_verbose_option(*command, options->output);
  command->add_option("--replay", options->replay, "follow one path (its number, from 0) instead of tracing all")
      ->type_name("NUMBER");
  command->callback([command, options, &exit_code, &watch] {
    refuse_idle_options(*command, *options);
    options->printed = command->count("--paper") > 0;
    exit_code = run_trace(*options, watch);
  });
}

}  // namespace dishwright
