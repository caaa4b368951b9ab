// SPDX-License-Identifier: MIT
#include "command/trace.h"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>
#include <variant>

#include "base/error.h"
#include "command/common_options.h"
#include "command/kept_results.h"
#include "command/output.h"
#include "command/replay_json.h"
#include "command/replay_text.h"
#include "command/set_changes.h"
#include "command/study_run.h"
#include "question/light_answer.h"
#include "question/method.h"
#include "report/compare/before_after.h"
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
#include "study/light_figures.h"
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
  bool exr = false;      ///< --exr was given
  /// Every source of the file is traced, and a sheet holds them all.
  bool several() const { return read.as == "all"; }
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
      prints the figures and writes map.png, map.csv, figures.json and safety.pdf into out/kettle
  dishwright trace kettle.toml --set sun.aim_error="2 deg" --json
      the same with the dish aimed 2 degrees off; one JSON object, no files
  dishwright trace kettle.toml --set sun.aim_error="2 deg"
      the same with files: out/kettle holds those of other settings, so these go into out/kettle-2; with a sheet
      before-after.pdf that sets two maps and the figures of the file as it is beside those
  dishwright trace kettle.toml --paper a4
      the same, and map.pdf: the card to print
  dishwright trace kettle.toml --exr
      the same, and map.exr: the map's numbers for image programs
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

/// The file as it is, where --set changed it, and what was changed.
struct Unchanged {
  Scene scene;
  TraceFigures figures;
  std::vector<SetChange> changes;
};

/// What one source of the file gave.
struct Traced {
  Scene scene;
  std::string digest;
  std::variant<TraceFigures, WaveFigures> figures;
  std::optional<LightStory> story;
  std::optional<Unchanged> before;

  Result light(const std::string& name, Units units) const {
    return {scene, name, digest, std::get<0>(figures), units, story ? &*story : nullptr};
  }
  WaveResult waves(const std::string& name, Units units) const { return {scene, name, digest, std::get<1>(figures), units}; }
};

/// A source that was checked. `light` has a scene of its own.
struct Source {
  Scene scene;
  std::optional<PreparedLight> light;
  const Scene& scene_read() const { return light ? light->scene() : scene; }
};

Source prepare(Scene scene) {
  if (!scene.is_wave()) return {{}, PreparedLight(std::move(scene), LightMap::made)};
  check_wave_limits(scene);
  return {std::move(scene), std::nullopt};
}

Traced solve(Source& source, const TraceOptions& options, Watch& watch) {
  end_if_stopped(watch);
  watch.done = 0, watch.planned = 0;
  Traced traced{source.scene_read(), "", {}, {}, {}};
  traced.digest = scene_digest(traced.scene);
  if (traced.scene.is_wave()) {
    const WaveMaps maps = options.output.writes() ? WaveMaps::made : WaveMaps::none;
    traced.figures = wave_figures(traced.scene, maps, options.output.threads, watch);
  } else {
    traced.figures = light_answer(*source.light, options.output.threads, watch);
    if (options.output.writes()) traced.story = light_story(traced.scene, options.output.threads, watch);
  }
  return traced;
}

Json json_of(const Traced& traced, const std::string& name) {
  if (traced.scene.is_wave()) return wave_json(traced.scene, name, traced.digest, std::get<1>(traced.figures));
  return figures_json(traced.scene, name, traced.digest, std::get<0>(traced.figures));
}

std::string text_of(const Traced& traced, const std::string& name, const OutputOptions& output) {
  const auto& [scene, digest, figures, story, before] = traced;
  if (scene.is_wave()) return wave_summary(scene, name, digest, std::get<1>(figures), output.shown(), output.detail());
  return summary(scene, name, digest, std::get<0>(figures), output.shown(), output.detail(), story ? &*story : nullptr);
}

std::string answer_of(const Traced& traced, Units units) {
  if (traced.scene.is_wave()) return wave_answer(traced.scene, std::get<1>(traced.figures), units);
  return trace_answer(traced.scene, std::get<0>(traced.figures), units);
}

/// The scene of the file as it is, with the paths of the changed one; empty where there is nothing to set beside it: no light,
/// nothing changed, another first target, or a file that needs what was set.
std::optional<Scene> unchanged_scene(const TraceOptions& options, const ProjectFile& file, const Scene& changed) {
  if (options.read.set.empty() || !options.output.writes() || changed.is_wave() || changed.targets.empty()) return std::nullopt;
  try {
    TraceOptions plain = options;
    plain.read.set.clear();
    Scene scene = read(plain, file, options.read.as);
    const bool same_light = !scene.is_wave() && scene.lamp.has_value() == changed.lamp.has_value() &&
                            (!scene.lamp || scene.lamp->in_lumens == changed.lamp->in_lumens);
    if (!same_light || scene.targets.empty() || scene.targets.front().name != changed.targets.front().name ||
        scene.targets.front().shape.index() != changed.targets.front().shape.index())
      return std::nullopt;
    scene.trace = changed.trace;
    if (scene.trace.method == Method::quadrature) PreparedLight(scene, LightMap::none);  // throws where it does not apply
    return scene_digest(scene) == scene_digest(changed) ? std::nullopt : std::optional(std::move(scene));
  } catch (const InputError&) {
    return std::nullopt;
  }
}

/// The sheet before-after, and the words that say so.
std::string add_before_after(const Traced& traced, const Result& after, const TraceOptions& options, WholeFiles& files) {
  if (!traced.before || traced.before->changes.empty()) return "";
  Comparison pair;
  pair.contestants.push_back({"before", "the file", traced.before->scene, std::nullopt, traced.before->figures, false, {}});
  pair.contestants.push_back({"after", "with what was set", after.scene, std::nullopt, after.figures, false, {}});
  add_printed_card(files, "before-after", before_after_card(pair, traced.before->changes, after), options.output.page(), true);
  return "  before-after.pdf, before-after.png  the file as it is beside this\n";
}

/// Files of one source: which they are, and its line, with a picture, on a sheet of several.
struct WrittenFiles {
  std::string told;
  UseLine use;
};

WrittenFiles add_files(const Traced& traced, const std::string& name, const TraceOptions& options, WholeFiles& files) {
  const std::string json = json_text(json_of(traced, name));
  WrittenFiles out;
  if (traced.scene.is_wave()) {
    const WaveResult result = traced.waves(name, options.output.shown());
    out.told = add_wave_outputs(result, json, options.output.page(), files);
    if (options.several()) out.use = wave_use_line(result, true);
    return out;
  }
  const Result result = traced.light(name, options.output.shown());
  const std::vector<WorkCard> cards = map_cards(result);
  out.told = add_outputs(result, json, cards, options.output.page(), files, {options.printed && !options.several(), options.exr});
  out.told += add_before_after(traced, result, options, files);
  if (options.several()) out.use = light_use_line(result, &cards.front());
  return out;
}

/// The sources of --as all. Throws InputError where the file has one source only, or a mistake in any.
std::vector<Source> read_all(const TraceOptions& options) {
  if (options.replay) throw InputError("--replay does not go with --as all", "a path is one of light", "write --as light");
  const ProjectFile file(options.scene);
  const std::vector<std::string> words = file.source_words(options.read);
  if (words.size() < 2) {
    throw InputError("--as all needs several sources in the file",
                     words.empty() ? "there is no [sun], [lamp], [sound] or [radio]" : "it has " + words.front() + " only",
                     "add a table such as [sound], or leave --as out");
  }
  if (words.front() != "light" && words.back() != "light") refuse_method_of_waves(options.method);
  std::vector<Scene> scenes;
  scenes.reserve(words.size());
  for (const std::string& word : words) scenes.push_back(read(options, file, word));
  std::vector<Source> sources;
  sources.reserve(scenes.size());
  for (Scene& scene : scenes) sources.push_back(prepare(std::move(scene)));
  return sources;
}

const char* source_word(const Scene& scene) { return scene.sound ? "sound" : scene.radio ? "radio" : "light"; }

/// In the order of sources_mark().
std::string digests_of(const std::vector<Source>& sources) {
  std::string all;
  for (const char* word : {"light", "sound", "radio"}) {
    for (const Source& source : sources)
      if (word == std::string(source_word(source.scene_read()))) all += scene_digest(source.scene_read());
  }
  return all;
}

/// Every source of the file, then one sheet.
int run_all(const TraceOptions& options, Watch& watch) {
  using AllTraced = std::vector<Traced>;
  const std::string name = name_of(options.scene);
  const Units units = options.output.shown();
  std::vector<Source> sources = read_all(options);
  ResultsFolder results{options.output.folder(options.scene), ""};
  if (options.output.keeps_others()) results = results_folder(results.folder, sources_mark(digests_of(sources)));
  const auto use_of = [&](const Traced& one) {  // without a picture
    return one.scene.is_wave() ? wave_use_line(one.waves(name, units), false) : light_use_line(one.light(name, units), nullptr);
  };
  StudySteps<AllTraced> steps;
  steps.solve = [&] {
    AllTraced all;
    for (Source& source : sources) all.push_back(solve(source, options, watch));
    return all;
  };
  steps.write = [&](const AllTraced& all, WholeFiles& sheet) {
    std::string told;
    std::vector<UseLine> uses;
    for (const Traced& one : all) {
      WrittenFiles written = add_files(one, name, options, sheet.inner(source_word(one.scene)));
      told += written.told, uses.push_back(std::move(written.use));
    }
    add_printed_card(sheet, "three-uses", uses_card(all.front().scene, name, uses, units), options.output.page());
    return told + "\nWritten into " + results.folder.string() + ":\n  three-uses.pdf  one page to print\n" + results.note;
  };
  steps.json = [&](const AllTraced& all) {
    Json json;
    for (const Traced& one : all) json[source_word(one.scene)] = json_of(one, name);
    return json_text(json);
  };
  steps.text = [&](const AllTraced& all) {
    std::string text;
    for (const Traced& one : all) text += (text.empty() ? "" : "\n") + text_of(one, name, options.output);
    return text;
  };
  steps.answer = [&](const AllTraced& all) {
    std::vector<UseLine> uses;
    uses.reserve(all.size());
    for (const Traced& one : all) uses.push_back(use_of(one));
    return uses_text(uses);
  };
  run_study(steps, options.output, results.folder, watch);
  return 0;
}

void refuse_idle_options(const CLI::App& command, const TraceOptions& options) {
  refuse_units_of_json(command, options.output);
  refuse_verbose_of_json(command, options.output);
  if (!options.replay) {
    refuse_paper_of_json(command, options.output);
    if (!options.output.writes()) refuse_idle(command, {"--exr"}, "with --json alone", "no file is written");
    return;
  }
  refuse_idle(command, {"--paper", "--out", "--verbose", "--exr"}, "with --replay",
              "one path is printed, and no file is written");
  if (options.method != "rays") refuse_idle(command, {"--method"}, "with --replay", "a path that is followed is one of rays");
}

int run_trace(const TraceOptions& options, Watch& watch) {
  if (options.several()) return run_all(options, watch);
  if (options.replay) return run_replay(options);
  const std::string name = name_of(options.scene);
  // Read the project file and check that it makes sense.
  const ProjectFile file(options.scene);
  Scene scene = read(options, file, options.read.as);
  refuse_method(scene, options.method);
  if (options.exr && scene.is_wave()) {
    throw InputError("--exr does not go with sound or radio", "map.exr holds a map of light",
                     "leave --exr out; map.csv has the numbers");
  }
  const std::optional<Scene> unchanged = unchanged_scene(options, file, scene);
  Source source = prepare(std::move(scene));
  ResultsFolder results{options.output.folder(options.scene), ""};
  if (options.output.keeps_others()) results = results_folder(results.folder, trace_mark(scene_digest(source.scene_read())));
  StudySteps<Traced> steps;
  steps.solve = [&] {
    Traced traced = solve(source, options, watch);
    if (unchanged) {
      watch.done = 0, watch.planned = 0;
      traced.before = Unchanged{*unchanged, light_figures(*unchanged, LightMap::made, options.output.threads, watch),
                                set_changes(file, options.read.set)};
    }
    return traced;
  };
  steps.write = [&](const Traced& traced, WholeFiles& files) {
    return add_files(traced, name, options, files).told + results.note;
  };
  steps.json = [&](const Traced& traced) { return json_text(json_of(traced, name)); };
  steps.text = [&](const Traced& traced) { return text_of(traced, name, options.output); };
  steps.answer = [&](const Traced& traced) { return answer_of(traced, options.output.shown()); };
  run_study(steps, options.output, results.folder, watch);
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
                   "the safety page, the card of sound or radio, the sheet of --as all; of light it also asks for map.pdf");
  add_verbose_option(*command, options->output);
  command->add_flag("--exr", options->exr, "of light: write map.exr, too, the numbers of the map for image programs");
  command->add_option("--replay", options->replay, "follow one path (its number, from 0) instead of tracing all")
      ->type_name("NUMBER");
  command->callback([command, options, &exit_code, &watch] {
    refuse_idle_options(*command, *options);
    options->printed = command->count("--paper") > 0;
    exit_code = run_trace(*options, watch);
  });
}

}  // namespace dishwright
