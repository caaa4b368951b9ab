// SPDX-License-Identifier: MIT
#include "command/compare.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "command/common_options.h"
#include "command/kept_results.h"
#include "command/study_run.h"
#include "report/compare/compare_data.h"
#include "report/compare/compare_outputs.h"
#include "report/compare/compare_text.h"
#include "report/waves/wave_compare.h"
#include "result/scene_digest.h"
#include "scenefile/reshape.h"
#include "study/compare.h"
#include "study/wave_compare.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

constexpr std::size_t most = 8;

struct CompareOptions {
  std::vector<std::filesystem::path> scenes;
  std::string shapes;
  bool best_place = false;
  ReadOptions read;
  OutputOptions output;
};

const char* const compare_help =
    R"(Which curve sends more light onto the target? The same figures side by side, by how much they differ, and a verdict.

  dishwright compare kettle.toml --shape paraboloid,sphere,trough
      bends the first mirror of the file to each shape and traces them all with the same random paths
  dishwright compare kettle.toml --shape paraboloid,sphere --best-position
      first moves the target of each along the mirror's axis to the place where it catches most
  dishwright compare kettle.toml --best-position
      the target as it is beside the target at the place where it catches most: what would moving it gain?
  dishwright compare old.toml new.toml
      compares project files (2 to 8 of them)

It prints a table, differences with their own standard errors and one sentence, and writes into out/SCENE-compare (SCENE: the first file):
compare.json, compare.csv, maps.png (one colour scale for all), maps-each.png (each its own), and for a disk or a rectangle share.png and
share.svg (how wide a target must be). Shares less than 1 percentage point apart, or less than the errors, are called a tie.

How a shape follows from the file's mirror; width, place, skin and all else stay:
{}
A target "at focus of" that mirror goes to the new shape's focus; where that has none, it stays.
--set changes a key in every shape that has it, after the bending: --set reflector.dish.length=60in.
Of [sound] and [radio] it compares gain, efficiency and beam at each frequency of the file, and writes maps.png (the lowest, middle and highest frequency,
one scale of dB) and gain.png (sound) or pattern.png (radio). Differences below 0.5 dB are none that the method can see.
Paths and seed are the first file's. The verdict is about the first target.

--best-position searches from half to one and a half times the focal length (or the target's distance, for a mirror without a focus).)";

std::vector<std::string> cut_at_commas(const std::string& list) {
  std::vector<std::string> words(1);
  for (const char c : list) {
    if (c == ',') {
      words.emplace_back();
    } else {
      words.back() += c;
    }
  }
  for (std::string& word : words) {
    const std::size_t from = word.find_first_not_of(' ');
    word = from == std::string::npos ? "" : word.substr(from, word.find_last_not_of(' ') - from + 1);
  }
  return words;
}

void check_count(std::size_t count, const std::string& what, const std::string& fix) {
  if (count >= 2 && count <= most) return;
  throw InputError(fmt::format("compare was given {} {}{}", count, what, count == 1 ? "" : "s"),
                   fmt::format("it puts 2 to {} side by side", most), fix);
}

std::vector<Contestant> read_shapes(const CompareOptions& options) {
  if (options.scenes.size() != 1) {
    throw InputError(fmt::format("--shape takes one project file, not {}", options.scenes.size()),
                     "it bends the mirror of that file to each shape", "name one file, or leave --shape out");
  }
  const std::vector<std::string> words = cut_at_commas(options.shapes);
  check_count(words.size(), "shape", "write shapes with commas between them: --shape paraboloid,sphere");
  std::vector<Contestant> contestants;
  for (Reshaped& made : read_reshaped(options.scenes.front(), options.read, words))
    contestants.push_back({made.shape, made.rule, std::move(made.scene), std::nullopt, {}});
  return contestants;
}

/// Titles, or file names; a number behind equal ones.
std::vector<Contestant> read_files(const CompareOptions& options) {
  if (options.scenes.size() == 1 && options.best_place) {
    const Scene scene = read_scene(options.scenes.front(), options.read);
    return {Contestant{"as in the file", "", scene, std::nullopt, {}, true},
            Contestant{"at its best place", "", scene, std::nullopt, {}}};
  }
  check_count(options.scenes.size(), "project file", "name several files, or bend one: compare A.toml --shape paraboloid,sphere");
  std::vector<Contestant> contestants;
  for (const std::filesystem::path& path : options.scenes) {
    Scene scene = read_scene(path, options.read);
    const std::string base = scene.title.empty() ? name_of(path) : scene.title;
    std::string name = base;
    const auto taken = [&] {
      return std::any_of(contestants.begin(), contestants.end(), [&](const Contestant& one) { return one.name == name; });
    };
    for (int number = 2; taken(); ++number) name = fmt::format("{} ({})", base, number);
    contestants.push_back({name, "", std::move(scene), std::nullopt, {}});
  }
  return contestants;
}

/// Sound, radio, sunlight, lamplight in watts and lamplight in lumens cannot be told apart by one number.
void check_same_light(const std::vector<Contestant>& contestants) {
  const auto light = [](const Scene& scene) {
    if (scene.is_wave()) return scene.radio ? "radio" : "sound";
    return !scene.lamp ? "the sun" : scene.lamp->in_lumens ? "a lamp in lumens" : "a lamp in watts";
  };
  const Contestant& first = contestants.front();
  for (const Contestant& one : contestants) {
    if (std::string(light(one.scene)) == light(first.scene)) continue;
    throw InputError(fmt::format("{} has {}, but {} has {}", first.name, light(first.scene), one.name, light(one.scene)),
                     "their figures are not of one kind, so they cannot stand side by side",
                     "compare files with the same kind of light");
  }
}

/// Where the results go, and what is said of it.
ResultsFolder folder_for(const CompareOptions& options, const std::vector<Contestant>& contestants) {
  const std::filesystem::path wanted = options.output.folder(options.scenes.front(), "-compare");
  if (!options.output.keeps_others()) return {wanted, ""};
  std::vector<ComparedScene> scenes;
  scenes.reserve(contestants.size());
  for (const Contestant& one : contestants)
    scenes.push_back({one.name, scene_digest(one.scene), options.best_place && !one.stays});
  return results_folder(wanted, compare_mark(scenes));
}

void run_waves(const CompareOptions& options, const std::vector<Contestant>& contestants, const std::string& name, Watch& watch) {
  if (options.best_place)
    throw InputError("--best-position is for light", "the place that gains most depends on the frequency",
                     "leave it out; trace tells the best place for a microphone");
  for (const Contestant& one : contestants) check_wave_limits(one.scene);
  const WaveMaps maps = options.output.writes() ? WaveMaps::made : WaveMaps::none;
  const Units units = options.output.shown();
  StudySteps<WaveComparison> steps;
  steps.solve = [&] { return compare_waves(contestants, maps, options.output.threads, watch); };
  const ResultsFolder results = folder_for(options, contestants);
  steps.write = [&](const WaveComparison& all, WholeFiles& files) {
    return add_wave_compare_outputs(all, name, units, files) + results.note;
  };
  steps.json = [&](const WaveComparison& all) { return wave_compare_json(all, name); };
  steps.text = [&](const WaveComparison& all) { return wave_compare_text(all, name, units, options.output.detail()); };
  steps.answer = [](const WaveComparison& all) { return wave_compare_answer(all); };
  run_study(steps, options.output, results.folder, watch);
}

void run_light(const CompareOptions& options, std::vector<Contestant> contestants, const std::string& name, Watch& watch) {
  const Units units = options.output.shown();
  for (Contestant& one : contestants) one.read_digest = scene_digest(one.scene);
  const ResultsFolder results = folder_for(options, contestants);
  StudySteps<Comparison> steps;
  steps.solve = [&] { return compare_scenes(std::move(contestants), options.best_place, options.output.threads, watch); };
  steps.write = [&](const Comparison& all, WholeFiles& files) {
    return add_compare_outputs(all, name, units, files) + results.note;
  };
  steps.json = [&](const Comparison& all) { return compare_json(all, name); };
  steps.text = [&](const Comparison& all) { return compare_text(all, name, units, options.output.detail()); };
  steps.answer = [&](const Comparison& all) { return compare_answer(all, units); };
  run_study(steps, options.output, results.folder, watch);
}

int run_compare(const CompareOptions& options, Watch& watch) {
  // Read the project files, or one in several shapes.
  std::vector<Contestant> contestants = options.shapes.empty() ? read_files(options) : read_shapes(options);
  check_same_light(contestants);
  const std::string name = name_of(options.scenes.front());
  if (contestants.front().scene.is_wave()) {
    run_waves(options, contestants, name, watch);
  } else {
    run_light(options, std::move(contestants), name, watch);
  }
  return 0;
}

}  // namespace

void add_compare_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<CompareOptions>();
  CLI::App* command = app.add_subcommand("compare", "which curve sends more light onto the target");
  command->description(fmt::format(fmt::runtime(compare_help), reshape_rules()));
  command->add_option("SCENE", options->scenes, "project files: 2 to 8, or one with --shape or --best-position")->required();
  command->add_option("--shape", options->shapes, "shapes to bend the first mirror to, with commas between them")
      ->type_name("LIST");
  command->add_flag("--best-position", options->best_place, "first find the place along the axis where each target catches most");
  add_read_options(*command, options->read);
  add_output_options(*command, options->output, "out/SCENE-compare");
  add_verbose_option(*command, options->output);
  command->callback([command, options, &exit_code, &watch] {
    refuse_units_of_json(*command, options->output);
    refuse_verbose_of_json(*command, options->output);
    exit_code = run_compare(*options, watch);
  });
}

}  // namespace dishwright
