// SPDX-License-Identifier: MIT
#include "command/aim.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "base/quantity.h"
#include "base/text.h"
#include "command/common_options.h"
#include "command/kept_results.h"
#include "command/study_run.h"
#include "question/target_number.h"
#include "report/aim/aim_report.h"
#include "study/aim_plan.h"
#include "study/burn_day.h"

namespace dishwright {

namespace {

constexpr double half_turn = 3.14159265358979323846;

struct AimOptions {
  std::filesystem::path scene;
  std::string at, from, to, every, enough, post, target, parked, above_ground, wall;
  ReadOptions read;
  OutputOptions output;
};

const char* const aim_help =
    R"(Where is the sun, how to point the dish, how long until re-aim? Figures of this dish and this target.

  dishwright aim kettle-yard.toml
      now, by the time in the file, and every 10 minutes of the 50 minutes after it
  dishwright aim kettle-yard.toml --at 2026-09-21T09:40-05:00 --paper a4
      on another day; the card is for A4
  dishwright aim kettle-yard.toml --from 2026-06-21T08:00-05:00 --to 2026-06-21T18:00-05:00 --every '30 min' --json
      a table of the whole day; one JSON object, no files
  dishwright aim kettle-yard.toml --parked 'face up' --wall '4 ft'
      where the spot burns that day when the dish is left so, and on a wall 4 ft away

The file needs a [place] with latitude and longitude; times are ISO 8601 with the clock's offset from UTC. It writes aim-card.pdf (a sight for the shadow of a
post, 1:1, with check bars), aim.csv and aim.json into out/SCENE-aim; with --parked burn-track.pdf and its picture, too. A dish is parked 'face up', 'leaning' (as its
mount stands in the file), 'in a vehicle' (on its back on a seat), or by its axis: '30 deg,180 deg' (above the horizon, from true north). More: docs/sky.md.)";

Moment read_time(const char* option, const std::string& text) {
  const auto parsed = parse_moment(text);
  if (const auto* bad = std::get_if<BadMoment>(&parsed))
    throw InputError(fmt::format("{} {}: this {}", option, clipped(printable(text), 60), bad->what), bad->why,
                     fmt::format("write it like {} 2026-06-21T10:30-05:00", option));
  return std::get<Moment>(parsed);
}

double read_amount(const char* option, const std::string& text, Dimension dimension, double low, double high,
                   const char* example) {
  const std::string fix = fmt::format("write it like {} '{}'", option, example);
  const auto parsed = parse_quantity(text, dimension);
  if (const auto* bad = std::get_if<BadQuantity>(&parsed))
    throw InputError(fmt::format("{} {}: it {}", option, clipped(printable(text), 60), printable(bad->what)), bad->why, fix);
  const double value = std::get<Quantity>(parsed).value;
  if (value >= low && value <= high) return value;
  const Unit* unit = std::get<Quantity>(parsed).unit;
  throw InputError(
      fmt::format("{} {}: out of range", option, clipped(printable(text), 60)),
      fmt::format("it may be from {} to {}", format_quantity(low, dimension, unit), format_quantity(high, dimension, unit)), fix);
}

/// "30 deg,180 deg": elevation and azimuth of the axis.
void read_axis(const std::string& text, BurnQuestion& burn) {
  const std::size_t comma = text.find(',');
  if (comma == std::string::npos)
    throw InputError(
        fmt::format("--parked {}: there is no such way to leave a dish", clipped(printable(text), 60)),
        "it is left 'face up', 'leaning' as its mount stands, 'in a vehicle', or with its axis at an elevation and azimuth",
        "write it like --parked 'face up' or --parked '30 deg,180 deg'");
  burn.as = ParkedAs::pointed;
  burn.elevation =
      read_amount("--parked", text.substr(0, comma), Dimension::angle, -half_turn / 2, half_turn / 2, "30 deg,180 deg");
  burn.azimuth =
      read_amount("--parked", text.substr(comma + 1), Dimension::angle, -2 * half_turn, 2 * half_turn, "30 deg,180 deg");
}

std::optional<BurnQuestion> read_parked(const AimOptions& options) {
  if (options.parked.empty()) return std::nullopt;
  BurnQuestion burn;
  if (options.parked == "face up") {
    burn.as = ParkedAs::face_up;
  } else if (options.parked == "leaning") {
    burn.as = ParkedAs::leaning;
  } else if (options.parked == "in a vehicle") {
    burn = left_in_vehicle();
  } else {
    read_axis(options.parked, burn);
  }
  if (!options.above_ground.empty())
    burn.height = read_amount("--above-ground", options.above_ground, Dimension::length, 0, 30, "3 ft");
  if (!options.wall.empty()) burn.wall = read_amount("--wall", options.wall, Dimension::length, 0.05, 100, "3 ft");
  return burn;
}

/// The scene at the time that was asked for.
Scene read_aimed(const AimOptions& options) {
  ReadOptions read = options.read;
  if (!options.at.empty()) read.set.push_back("sun.time=" + moment_text(read_time("--at", options.at)));
  Scene scene = read_scene(options.scene, read);
  if (scene.lamp || scene.is_wave())
    throw InputError("aim needs sunlight", "it points a mirror at the sun", "give the file a [sun], or add --as light");
  if (!scene.outdoors)
    throw InputError("aim needs a time and a place", "the sun stands differently at every hour and over every place",
                     "write [place] with latitude = \"40.5 deg N\" and longitude = \"89 deg W\", and add --at "
                     "2026-06-21T10:30-05:00 (or time below [sun])");
  return scene;
}

AimQuestion read_question(const AimOptions& options, const Moment& time) {
  constexpr double lesson = 50 * 60, most_rows = 1000;
  AimQuestion question;
  question.from = options.from.empty() ? time : read_time("--from", options.from);
  question.to = options.to.empty() ? later(question.from, lesson) : read_time("--to", options.to);
  if (!options.every.empty()) question.every = read_amount("--every", options.every, Dimension::time, 60, 86400, "10 min");
  if (!options.enough.empty())
    question.enough = read_amount("--enough", options.enough, Dimension::irradiance, 1, 1500, "600 W/m2");
  question.parked = read_parked(options);
  const double rows = (question.to.seconds - question.from.seconds) / question.every;
  if (rows < 0) throw InputError("--to is before --from", "the table runs from the one to the other", "change them over");
  if (rows > most_rows)
    throw InputError(fmt::format("the table would have {:.0f} rows", rows + 1), "a thousand are the most", "make --every longer");
  return question;
}

int run_aim(const AimOptions& options, Watch& watch) {
  const Units units = options.output.shown();
  const std::string name = name_of(options.scene);
  // Read the project file and the question.
  const Scene scene = read_aimed(options);
  const AimQuestion question = read_question(options, scene.outdoors->time);
  AimSight sight;
  if (!options.post.empty()) sight.post = read_amount("--post", options.post, Dimension::length, 0.025, 0.6, "4 in");
  const std::size_t target = target_number(scene, options.target);
  ResultsFolder results{options.output.folder(options.scene, "-aim"), ""};
  if (options.output.keeps_others())
    results = results_folder(results.folder, aim_mark(aimed_scene(scene), scene.targets[target].name));
  // Where the sun goes, and how the light goes with it.
  StudySteps<AimPlan> steps;
  steps.solve = [&] { return aim_plan(scene, target, question, options.output.threads, watch); };
  steps.write = [&](const AimPlan& plan, WholeFiles& files) {
    return add_aim_outputs(plan, name, units, sight, options.output.page(), files) + results.note;
  };
  steps.json = [&](const AimPlan& plan) { return aim_json(plan, name); };
  steps.text = [&](const AimPlan& plan) { return aim_text(plan, name, units, options.output.detail()); };
  steps.answer = [&](const AimPlan& plan) { return aim_answer(plan, units); };
  run_study(steps, options.output, results.folder, watch);
  return 0;
}

}  // namespace

void add_aim_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<AimOptions>();
  CLI::App* command = app.add_subcommand("aim", "where the sun is, how to point, how long until re-aim");
  command->description(aim_help);
  command->add_option("SCENE", options->scene, "project file")->required();
  command->add_option("--at", options->at, "when; instead of the key sun.time")->type_name("TIME");
  command->add_option("--from", options->from, "first time of the table (that of --at if not given)")->type_name("TIME");
  command->add_option("--to", options->to, "last time of the table (50 minutes later if not given)")->type_name("TIME");
  command->add_option("--every", options->every, "step of the table (10 min if not given)")->type_name("STEP");
  command->add_option("--enough", options->enough, "clear-sky beam that counts as sun enough (600 W/m2 if not given)")
      ->type_name("BEAM");
  command->add_option("--post", options->post, "height of the post on the aim card (4 in if not given)")->type_name("LENGTH");
  command->add_option("--target", options->target, "whose light must stay (the first target if not given)")->type_name("NAME");
  command->add_option("--parked", options->parked, "how the dish is left: adds the burn track of the day")->type_name("WAY");
  command->add_option("--above-ground", options->above_ground, "of the vertex of a parked dish (3 ft if not given)")
      ->type_name("LENGTH");
  command->add_option("--wall", options->wall, "from the vertex of a parked dish to a wall (3 ft if not given)")
      ->type_name("LENGTH");
  add_read_options(*command, options->read);
  add_output_options(*command, options->output, "out/SCENE-aim");
  add_paper_option(*command, options->output, "the aim card");
  add_verbose_option(*command, options->output);
  command->callback([command, options, &exit_code, &watch] {
    refuse_units_of_json(*command, options->output);
    refuse_verbose_of_json(*command, options->output);
    refuse_paper_of_json(*command, options->output);
    if (options->parked.empty())
      refuse_idle(*command, {"--above-ground", "--wall"}, "without --parked", "no track is worked out");
    if (!options->output.writes()) refuse_idle(*command, {"--post"}, "with --json alone", "no card is written");
    exit_code = run_aim(*options, watch);
  });
}

}  // namespace dishwright
