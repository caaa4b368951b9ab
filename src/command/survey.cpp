// SPDX-License-Identifier: MIT
#include "command/survey.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "base/files.h"
#include "base/text.h"
#include "command/common_options.h"
#include "command/output.h"
#include "command/study_run.h"
#include "question/survey_uses.h"
#include "report/numbers/json_quantity.h"
#include "report/survey/form_dish.h"
#include "report/survey/survey_files.h"
#include "report/survey/survey_form.h"
#include "report/survey/survey_text.h"
#include "report/survey/tile_form.h"
#include "report/survey/tile_report.h"
#include "scenefile/read_scene.h"
#include "survey/held_against.h"
#include "wave/setup.h"

namespace dishwright {

namespace {

struct SurveyOptions {
  std::filesystem::path file;
  std::string scene;
  OutputOptions output;
  std::vector<std::string> set;
  bool outside = false, keep_all = false, form = false, found = false;
  std::string skin, points_in, shape, focal_length, width, depth, height, length, tape = "1/16 in";
  std::vector<std::string> frequencies;
  std::string wanted = "90 %";
  std::string program;  ///< as the user typed it
};

const char* const survey_help =
    R"(Is what you built good enough? Depths measured under a straightedge, or a point cloud, tell where the focus really is,
whether the surface is good enough for this pot, for speech, for a frequency, and what to mend first.

The readings are a table (CSV). The smallest one names its columns and units and goes on with ten or more rows:

  ring [in],clock [h],depth [in]
  0,12,6
  8,12,5 5/16
  8,3,5 3/8
  …
ring: distance from the middle. clock: 12 at the top, 3 on the right, seen from the sun side. depth: down from the
straightedge across the rim to the mirror. Or name the places by  x [in],y [in],depth [in].

  dishwright survey --form scenes/kettle-dish.toml
      prints the form for that dish (readings-form.pdf) and the table to type into (readings.csv)
  dishwright survey readings.csv --scene scenes/kettle-dish.toml
      judges the dish for the kettle of that project file; a file with [sound] or
      [radio] is judged for its frequencies. Without a file: for speech
  dishwright survey readings.csv --frequency "10.4 GHz"
      judges it as a radio dish. Exit code 0: it will do; 1: it will not, or it is too close to call
  dishwright survey cloud.ply --points-in mm
      a point cloud: .csv with x, y, z, .ply, .obj or .stl
  dishwright survey --found --width "16 ft" --depth "5 ft"
      a dish that was found: its focus and the strings that set the feed
  dishwright survey --found --width "20 in" --height "22 in" --depth "1 1/2 in" --tape "1/16 in"
      the same for an offset dish: its short way, its long way, its deepest depth)";

/// The value [SI] of an option such as --skin 1/8in; nothing where it was not given.
std::optional<double> value_of(const char* option, const std::string& text, Dimension dimension) {
  if (text.empty()) return std::nullopt;
  const auto parsed = parse_quantity(text, dimension);
  if (const auto* good = std::get_if<Quantity>(&parsed)) return good->value;
  const auto& bad = std::get<BadQuantity>(parsed);
  throw InputError(fmt::format("{} \"{}\" {}", option, clipped(text, 60), printable(bad.what)), bad.why, bad.fix);
}

double positive(const char* option, const std::string& text, Dimension dimension) {
  const std::optional<double> value = value_of(option, text, dimension);
  if (!value)
    throw InputError(fmt::format("{} is missing", option), "it is needed here",
                     fmt::format("add {} and its value with a unit", option));
  if (*value > 0 && *value < 1e12) return *value;
  throw InputError(fmt::format("{} \"{}\" is not more than 0, or far too large", option, clipped(text, 60)), "",
                   "check the number and its unit");
}

const Unit* unit_of_points(const std::string& word) {
  if (word.empty()) return nullptr;
  const auto parsed = parse_quantity("1 " + word, Dimension::length);
  if (const auto* good = std::get_if<Quantity>(&parsed)) return good->unit;
  throw InputError("--points-in " + clipped(word, 40) + " is not a unit of length", "", "write mm, cm, m, in or ft");
}

std::vector<Scene> scenes_of(const std::filesystem::path& path, const std::vector<std::string>& set) {
  ReadOptions read;
  read.set = set;
  return source_scenes(ProjectFile(path), read);
}

std::vector<Scene> meant_scenes(const SurveyOptions& options) {
  if (!options.scene.empty()) return scenes_of(options.scene, options.set);
  if (options.set.empty()) return {};
  throw InputError("--set without --scene", "--set changes a key of a project file", "name it: --scene kettle.toml");
}

ShapeKind kind_of(const std::string& word) {
  return word == "sphere" ? ShapeKind::sphere : word == "trough" ? ShapeKind::trough : ShapeKind::paraboloid;
}

/// What was asked, what was meant and what was measured.
struct SurveyQuestion {
  double wanted = 0.9;              // share of the light
  std::vector<double> frequencies;  // [Hz]
  std::vector<Scene> scenes;        // of the project file, one for each source
  HeldAgainst held;
  std::optional<Facets> tiles;  // in place of `held`
  SurveyReport report;          // with its file and what was meant
};

SurveyQuestion read_question(const SurveyOptions& options) {
  if (options.file.empty())
    throw InputError("no file with points was named", "",
                     "dishwright survey readings.csv, or --form, or --found; --help shows how");
  SurveyQuestion asked;
  asked.wanted = value_of("--wanted", options.wanted, Dimension::number).value_or(0.9);
  if (!(asked.wanted > 0 && asked.wanted <= 1))
    throw InputError("--wanted " + clipped(options.wanted, 60) + " is no share", "it lies between 0 and 100 %", "write 90%");
  for (const std::string& text : options.frequencies)
    asked.frequencies.push_back(positive("--frequency", text, Dimension::frequency));
  SurveyReport& report = asked.report;
  report.name = name_of(options.file, "survey");
  report.units = options.output.shown();
  asked.scenes = meant_scenes(options);
  if (!asked.scenes.empty()) {
    report.scene = asked.scenes.front();
    asked.tiles = tiles_of(*report.scene);
    if (asked.tiles && !options.shape.empty())
      throw InputError("--shape beside a project file whose mirror is a dish of tiles", "the file says it",
                       "take --shape out, or leave --scene out");
    if (!asked.tiles) asked.held = held_against(*report.scene);  // refuses a shape that a survey cannot be held against
    if (meant_focal_length(*report.scene) > 0) report.meant_focal_length = meant_focal_length(*report.scene);
    if (asked.held.meant && !options.shape.empty())
      throw InputError(fmt::format("--shape beside a project file whose mirror is {}", asked.held.meant->word),
                       "the file says it", "take --shape out, or leave --scene out");
  }
  if (!options.shape.empty()) asked.held.kind = kind_of(options.shape);
  if (!options.focal_length.empty())
    report.meant_focal_length = positive("--focal-length", options.focal_length, Dimension::length);
  report.file = read_survey(
      options.file, {options.outside, value_of("--skin", options.skin, Dimension::length), unit_of_points(options.points_in)});
  return asked;
}

/// Fits, maps and judges.
SurveyReport judge(SurveyQuestion& asked, const SurveyOptions& options, const Watch& watch) {
  SurveyReport report = std::move(asked.report);
  report.survey = asked.held.meant ? survey_design(std::move(report.file.survey), asked.held.meant, options.keep_all)
                                   : survey_points(std::move(report.file.survey), asked.held.kind, options.keep_all);
  end_if_stopped(watch);
  if (report.scene && !report.scene->is_wave()) report.light = survey_light(*report.scene, report.survey, options.output.threads);
  end_if_stopped(watch);
  report.uses = judge_uses(report.survey, report.light, asked.wanted, asked.scenes, asked.frequencies);
  return report;
}

/// The planes of the tiles, their light, verdicts.
TileReport judge_tiles(SurveyQuestion& asked, const SurveyOptions& options, const Watch& watch) {
  TileReport report;
  report.base = std::move(asked.report);
  report.tiles = survey_tiles(std::move(report.base.file.survey), *asked.tiles, options.keep_all);
  end_if_stopped(watch);
  std::vector<UseVerdict>& uses = report.base.uses;
  if (!report.base.scene->is_wave()) {
    report.light = tile_light(*report.base.scene, report.tiles, options.output.threads);
    report.base.light = report.light->light;
    for (std::size_t k = 0; k < report.base.light->targets.size(); ++k) uses.push_back(tile_use(*report.light, k, asked.wanted));
  }
  end_if_stopped(watch);
  const Estimate half_path = tile_half_path(report.tiles);
  for (const Scene& scene : asked.scenes) judge_waves(scene, half_path, 0, uses);
  for (const double frequency : asked.frequencies)
    uses.push_back(wave_use(wave_name(frequency, "radio"), frequency, light_speed, half_path));
  return report;
}

int run_tiles(SurveyQuestion& asked, const SurveyOptions& options, Watch& watch) {
  StudySteps<TileReport> steps;
  steps.solve = [&] { return judge_tiles(asked, options, watch); };
  steps.write = [&](const TileReport& report, WholeFiles& files) { return add_tile_files(report, options.output.page(), files); };
  steps.json = [](const TileReport& report) { return tile_json(report); };
  steps.text = [&](const TileReport& report) { return tile_text(report, options.output.detail()); };
  steps.answer = [](const TileReport& report) { return tile_answer(report); };
  const TileReport report = run_study(steps, options.output, options.output.folder(options.file, "", "survey"), watch);
  return overall(report.base.uses) == Verdict::pass ? 0 : 1;
}

int run_points(const SurveyOptions& options, Watch& watch) {
  SurveyQuestion asked = read_question(options);
  if (asked.tiles) return run_tiles(asked, options, watch);
  StudySteps<SurveyReport> steps;
  steps.solve = [&] { return judge(asked, options, watch); };
  steps.write = [&](const SurveyReport& report, WholeFiles& files) {
    return add_survey_files(report, options.output.page(), files);
  };
  steps.json = [](const SurveyReport& report) { return survey_json(report); };
  steps.text = [&](const SurveyReport& report) { return survey_text(report, options.output.detail()); };
  steps.answer = [](const SurveyReport& report) { return survey_answer(report); };
  const SurveyReport report = run_study(steps, options.output, options.output.folder(options.file, "", "survey"), watch);
  return overall(report.uses) == Verdict::pass ? 0 : 1;
}

/// The dish that the form is for: of a project file, or of a width and a depth or focal length.
FormDish asked_dish(const SurveyOptions& options) {
  if (options.file.empty() && options.scene.empty()) {
    FormDish dish;
    dish.program = options.program;
    dish.kind = kind_of(options.shape);
    dish.width = positive("--width", options.width, Dimension::length);
    if (!options.length.empty()) dish.length = positive("--length", options.length, Dimension::length);
    if (dish.kind == ShapeKind::trough && !dish.length)
      throw InputError("--length is missing", "a trough has a length", "add --length 60in");
    return dish;
  }
  const Scene scene = scenes_of(options.scene.empty() ? options.file : std::filesystem::path(options.scene), options.set).front();
  FormDish dish = form_dish(scene);
  dish.program = options.program;
  dish.project_file =
      printable((options.scene.empty() ? options.file : std::filesystem::path(options.scene)).filename().string());
  return dish;
}

int run_form(const SurveyOptions& options, const Watch& watch) {
  const FormDish dish = asked_dish(options);
  const std::filesystem::path from = options.scene.empty() ? options.file : std::filesystem::path(options.scene);
  WholeFiles files(options.output.folder(from, "", "readings"));
  files.prepare();
  const Units units = options.output.shown();
  if (dish.tiles) {
    const TiledDesign tiles = tiled_design(*dish.tiles);
    files.add("readings-form.pdf", tile_form(dish, tiles, units, options.output.page()));
    files.add("readings.csv", tile_table(tiles, units));
  } else {
    files.add("readings-form.pdf", readings_form(dish, units, options.output.page()));
    files.add("readings.csv", readings_table(dish, units));
  }
  commit(files, watch);
  if (options.output.json) {
    print(json_text(
        Json{{"written", {(files.folder() / "readings-form.pdf").string(), (files.folder() / "readings.csv").string()}}}));
  } else {
    print(
        fmt::format("Written into {}:\n  readings-form.pdf  print it and fill it in at the dish\n  readings.csv  type the depths "
                    "into it, then:\n"
                    "    {} survey {}{}\n",
                    files.folder().string(), options.program, shell_word((files.folder() / "readings.csv").string()),
                    from.empty() ? "" : " --scene " + shell_word(from.string())));
  }
  return 0;
}

int run_found(const SurveyOptions& options) {
  if (!options.file.empty())
    throw InputError("--found reads no file", "the lengths of a found dish are options",
                     "take " + options.file.string() + " out");
  FoundMeasures measures;
  measures.width = positive("--width", options.width, Dimension::length);
  measures.depth = positive("--depth", options.depth, Dimension::length);
  if (!options.height.empty()) measures.height = positive("--height", options.height, Dimension::length);
  measures.tape = value_of("--tape", options.tape, Dimension::length).value_or(0);
  const FoundDish dish = found_dish(measures);
  print(options.output.json ? found_json(measures, dish) : found_text(measures, dish, options.output.shown()));
  return 0;
}

void refuse_idle_with_form(const CLI::App& command, const SurveyOptions& options) {
  refuse_idle(command,
              {"--focal-length", "--wanted", "--frequency", "--outside", "--skin", "--points-in", "--keep-all", "--depth",
               "--height", "--tape", "--verbose"},
              "with --form", "the form is an empty table for the dish's readings");
  if (!options.file.empty() && !options.scene.empty())
    throw InputError("--form was given two project files", options.file.string() + " and " + options.scene,
                     "take one of them out");
  if (!options.file.empty() || !options.scene.empty()) {
    refuse_idle(command, {"--shape", "--width", "--length"}, "beside a project file", "the file says it");
    return;
  }
  refuse_idle(command, {"--set"}, "without a project file", "it changes a key of one");
  if (options.shape != "trough") refuse_idle(command, {"--length"}, "for a round dish", "only a trough has a length");
}

void refuse_idle_with_points(const CLI::App& command, const SurveyOptions& options) {
  refuse_idle(command, {"--width", "--depth", "--height", "--length", "--tape"}, "for points that were measured",
              "the points say it; it is for --found or --form");
  if (options.scene.empty())
    refuse_idle(command, {"--wanted"}, "without --scene", "the target of a project file is what has to catch that share");
  const std::string ending = options.file.extension().string();
  if (ending == ".csv" || ending == ".txt" || ending == ".tsv")
    refuse_idle(command, {"--points-in"}, "for a table", "the names of its columns carry the units");
  refuse_paper_of_json(command, options.output);
  refuse_verbose_of_json(command, options.output);
}

/// Each way of calling takes its own options.
void refuse_idle_options(const CLI::App& command, const SurveyOptions& options) {
  if (options.form && options.found) throw InputError("--form and --found do not go together", "", "ask for one of them");
  if (!options.form) refuse_units_of_json(command, options.output);
  if (options.form) {
    refuse_idle_with_form(command, options);
  } else if (options.found) {
    refuse_idle(command,
                {"--scene", "--set", "--shape", "--focal-length", "--wanted", "--frequency", "--outside", "--skin", "--points-in",
                 "--keep-all", "--length", "--paper", "--verbose"},
                "with --found", "a found dish is told by its width, depth and height");
    refuse_idle(command, {"--out"}, "with --found", "the answer is printed, and no file is written");
  } else {
    refuse_idle_with_points(command, options);
  }
}

int run_survey(const SurveyOptions& options, Watch& watch) {
  if (options.form) return run_form(options, watch);
  return options.found ? run_found(options) : run_points(options, watch);
}

void add_point_options(CLI::App& command, SurveyOptions& options) {
  command.add_option("--scene", options.scene, "project file of what was meant: its target, its sun, its design")
      ->type_name("FILE");
  command.add_option("--set", options.set, "change a key of the project file; repeatable")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
  command.add_option("--shape", options.shape, "what was meant, where no project file says it (or for --form)")
      ->check(CLI::IsMember({"paraboloid", "sphere", "trough"}));
  command.add_option("--focal-length", options.focal_length, "focal length that was meant, for the per-cent error")
      ->type_name("LENGTH");
  command.add_option("--wanted", options.wanted, "share of the mirror's light that a target has to catch (90%)")
      ->type_name("SHARE");
  command.add_option("--frequency", options.frequencies, "judge it for radio of this frequency, e.g. 10.4GHz; repeatable")
      ->type_name("FREQUENCY")
      ->allow_extra_args(false);
  command.add_flag("--outside", options.outside, "the outer face was measured (needs --skin)");
  command.add_option("--skin", options.skin, "thickness between the measured outer face and the mirror, e.g. 1/8in")
      ->type_name("LENGTH");
  command.add_option("--points-in", options.points_in, "unit of the points of a PLY, OBJ or STL file: mm, cm, m, in, ft")
      ->type_name("UNIT");
  command.add_flag("--keep-all", options.keep_all, "set no reading aside, however strange");
}

}  // namespace

void add_survey_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<SurveyOptions>();
  options->program = app.get_name();
  CLI::App* command = app.add_subcommand("survey", "is what was built good enough? best fit, slope map, verdicts, worst spots");
  command->description(survey_help);
  command->add_option("POINTS", options->file, "readings or point cloud (with --form: the project file of the dish)");
  add_point_options(*command, *options);
  command->add_flag("--form", options->form,
                    "write the blank readings form and its table; for a project file, or --width (and --length)");
  add_paper_option(*command, options->output, "the form and the verdict sheet");
  command->add_flag("--found", options->found, "a dish that was found: --width and --depth, for an offset dish --height too");
  command->add_option("--width", options->width, "rim to rim; the short way of an offset dish")->type_name("LENGTH");
  command->add_option("--depth", options->depth, "deepest depth, down from a straightedge across the rim")->type_name("LENGTH");
  command->add_option("--height", options->height, "the long way of an offset dish's rim")->type_name("LENGTH");
  command->add_option("--length", options->length, "length of a trough (--form)")->type_name("LENGTH");
  command->add_option("--tape", options->tape, "what each length may be off by (1/16 in)")->type_name("LENGTH");
  add_output_options(*command, options->output, "out/NAME");
  add_verbose_option(*command, options->output);
  command->callback([command, options, &exit_code, &watch] {
    refuse_idle_options(*command, *options);
    exit_code = run_survey(*options, watch);
  });
}

}  // namespace dishwright
