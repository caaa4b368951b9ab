// SPDX-License-Identifier: MIT
#include "page/answers.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>
#include <utility>
#include <variant>

#include "base/error.h"
#include "base/text.h"
#include "page/burn_answer.h"
#include "page/clock_json.h"
#include "page/controls.h"
#include "page/further_answers.h"
#include "page/solid_json.h"
#include "page/survey_answer.h"
#include "page/view_json.h"
#include "question/light_answer.h"
#include "question/method.h"
#include "question/sweep_points.h"
#include "question/target_number.h"
#include "report/compare/compare_data.h"
#include "report/compare/compare_text.h"
#include "report/numbers/caution.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/sky_words.h"
#include "report/sweep/sweep_data.h"
#include "report/sweep/sweep_outputs.h"
#include "report/tolerance/tolerance_data.h"
#include "report/trace/figures_json.h"
#include "report/trace/summary.h"
#include "report/trace/why.h"
#include "report/waves/wave_json.h"
#include "report/waves/wave_summary.h"
#include "report/waves/wave_words.h"
#include "report/yard/keep_clear_report.h"
#include "result/scene_digest.h"
#include "scenefile/reshape.h"
#include "study/finish_range.h"
#include "study/keep_clear.h"
#include "study/light_story.h"
#include "study/mirror_best.h"
#include "study/wave_figures.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

constexpr int threads = 1;
constexpr float nothing_arrives = -1e30F;

ReadOptions read_options(const Question& question) {
  ReadOptions read;
  read.set = question.set;
  read.as = question.as;
  return read;
}

/// The name as the command line tells it: the file's, without its ending.
std::string name_of(const Project& project) { return printable(std::filesystem::path(project.name).stem().string()); }

void add_map(const MapFace& face, const std::string& target, const char* unit, Json& json, std::vector<EngineMap>& maps) {
  EngineMap map{
      target + "/" + face.name, face.columns, face.rows, face.x_from, face.x_to, face.y_from, face.y_to, face.round, {}};
  map.values.assign(face.irradiance.begin(), face.irradiance.end());
  json.push_back(map_json(map, unit));
  maps.push_back(std::move(map));
}

void add_map(const WaveMap& found, const char* name, Json& json, std::vector<EngineMap>& maps) {
  const MapPlane& plane = found.plane;
  EngineMap map{
      name, plane.columns, plane.rows, -plane.half_width, plane.half_width, -plane.half_height, plane.half_height, false, {}};
  map.values.reserve(found.levels.size());
  std::transform(found.levels.begin(), found.levels.end(), std::back_inserter(map.values),
                 [](double level) { return std::isfinite(level) ? static_cast<float>(level) : nothing_arrives; });
  json.push_back(map_json(map, "dB"));
  maps.push_back(std::move(map));
}

/// What stands behind the figures of sunlight.
void add_story(const Scene& scene, const TraceFigures& figures, const Question& question, Watch& watch, Json& out) {
  const bool sunlight = !scene.lamp;
  std::optional<LightStory> story;
  if (question.asks("why")) {
    story = light_story(scene, threads, watch);
  } else if ((question.asks("view") || question.asks("solid")) && sunlight) {
    story = LightStory{side_view(scene), {}};
  }
  if (story && question.asks("view")) out["view"] = view_json(story->view, question.units);
  if (story && question.asks("solid")) out["solid"] = solid_json(scene, story->view, figures);
  if (question.asks("why")) {
    out["why"] = scene.targets.empty() ? std::vector<std::string>{}
                                       : why_lines(scene, figures, 0, question.units, story ? &*story : nullptr);
  }
}

EngineAnswer light(Scene scene, const Project& project, const Question& question, Watch& watch) {
  PreparedLight ready(std::move(scene), question.asks("map") ? LightMap::made : LightMap::none);
  TraceFigures figures = ready.solve(threads, watch, project.geometries.get());
  const Scene& read = ready.scene();
  if (question.asks("range")) add_finish_range(read, threads, watch, figures);
  if (question.asks("best")) {
    figures.mirror_best = mirror_best(read, threads, watch);
    figures.keep_clear = keep_clear(read, watch);
  }
  EngineAnswer out;
  Json json;
  json["trace"] = figures_json(read, name_of(project), scene_digest(read), figures);
  json["maps"] = Json::array();
  if (question.asks("map")) {
    const char* unit = read.lamp && read.lamp->in_lumens ? "lx" : "W/m²";
    for (const TargetFigures& target : figures.targets)
      for (const MapFace& face : target.map) add_map(face, target.name, unit, json["maps"], out.maps);
  }
  add_story(read, figures, question, watch, json);
  if (question.asks("words")) {
    json["words"] = {{"answer", trace_answer(read, figures, question.units)},
                     {"caution", caution(figures, "")},
                     {"safety", safety_list(figures)}};
    if (figures.keep_clear) json["words"]["keep_clear"] = keep_clear_words(figures, question.units);
    if (read.outdoors) json["words"]["sky"] = outdoors_words(*read.outdoors);
  }
  out.json = json_text(json);
  return out;
}

EngineAnswer waves(const Scene& scene, const Project& project, const Question& question, Watch& watch) {
  check_wave_limits(scene);
  const WaveMaps maps = question.asks("map") ? WaveMaps::made : question.asks("rough map") ? WaveMaps::rough : WaveMaps::none;
  const WaveFigures figures = wave_figures(scene, maps, threads, watch);
  EngineAnswer out;
  Json json;
  json["trace"] = wave_json(scene, name_of(project), scene_digest(scene), figures);
  json["maps"] = Json::array();
  if (figures.map) add_map(*figures.map, "waves", json["maps"], out.maps);
  if (figures.axial_map) add_map(*figures.axial_map, "waves along the axis", json["maps"], out.maps);
  json["patterns"] = patterns_json(figures);
  json["curve"] = curve_json(figures);
  if (question.asks("words"))
    json["words"] = {{"answer", wave_answer(scene, figures, question.units)}, {"caution", wave_caution(scene.radio.has_value())}};
  out.json = json_text(json);
  return out;
}

EngineAnswer trace(const Project& project, const Question& question, Watch& watch) {
  Scene scene = asked_scene(project, question);
  return scene.is_wave() ? waves(scene, project, question, watch) : light(std::move(scene), project, question, watch);
}

EngineAnswer sweep(const Project& project, const Question& question, Watch& watch) {
  if (question.vary.empty())
    throw InputError("sweep needs a key to vary", "", "write it like \"vary\": [\"sun.aim_error=0 deg:4 deg:9\"]", "vary");
  const ReadOptions read = read_options(question);
  const SweepPoints points(*project.file, read, read_variations(*project.file, read, question.vary), question.method);
  const Scene first = points.checked(0);
  const std::vector<std::string> figures{question.figure.empty() ? usual_figure(first) : question.figure};
  check_sweep(first, figures);
  for (std::size_t k = 1; k < points.count(); ++k) points.checked(k);
  const Sweep found = run_sweep(points.axes(), target_number(first, question.target), points, threads, watch);
  if (!found.complete) throw Interrupted();
  Json json;
  json["sweep"] = Json::parse(sweep_json(found, name_of(project)));
  if (question.asks("words")) json["words"] = {{"answer", sweep_answer(found, figures, question.units)}};
  return {json_text(json), {}};
}

/// The shapes that fit the project; why the others cannot take part goes into `left_out`.
std::vector<Contestant> contestants_of(const Project& project, const Question& question, Json& left_out) {
  std::vector<Contestant> out;
  const std::string path = (project.folder / project.name).string();
  std::set<std::string> seen;
  for (const std::string& shape : question.shapes) {
    if (!seen.insert(shape).second) continue;
    try {
      Reshaped made = std::move(read_reshaped_text(project.text, path, read_options(question), {shape}).front());
      if (question.paths) made.scene.trace.paths = *question.paths;
      out.push_back({made.shape, made.rule, std::move(made.scene), std::nullopt, {}});
    } catch (const InputError& error) {
      if (question.shapes.size() == 2) throw;
      left_out.push_back({{"shape", shape}, {"why", error.problems().front().what}});
    }
  }
  if (out.size() < 2)
    throw InputError("compare needs shapes that fit the project", "it puts 2 to 8 side by side",
                     "name shapes such as paraboloid and sphere", "shapes");
  return out;
}

EngineAnswer compare(const Project& project, const Question& question, Watch& watch) {
  Json left_out = Json::array();
  std::vector<Contestant> contestants = contestants_of(project, question, left_out);
  if (contestants.front().scene.is_wave())
    throw InputError("compare on the page is for light", "sound and radio are compared on the command line", "ask for a trace",
                     "study");
  const Comparison all = compare_scenes(std::move(contestants), false, threads, watch);
  Json json;
  json["compare"] = Json::parse(compare_json(all, name_of(project)));
  json["left_out"] = std::move(left_out);
  if (question.asks("words")) json["words"] = {{"answer", compare_answer(all, question.units)}};
  return {json_text(json), {}};
}

EngineAnswer tolerance(const Project& project, const Question& question, Watch& watch) {
  Scene scene = project.file->scene(read_options(question));
  if (scene.lamp)
    throw InputError("tolerance needs sunlight", "a lamp's beam is judged by its picture", "ask for a trace", "study");
  if (scene.is_wave()) check_wave_limits(scene);
  const std::size_t target = target_number(scene, question.target);
  const Tolerance found = scene.is_wave() ? find_wave_tolerance(scene, target, question.loss, threads, watch)
                                          : find_tolerance(scene, target, question.wanted,
                                                           std::min(scene.trace.paths, most_tolerance_paths), threads, watch);
  Json json;
  json["tolerance"] = Json::parse(tolerance_json(found, name_of(project), question.units));
  return {json_text(json), {}};
}

}  // namespace

Scene asked_scene(const Project& project, const Question& question) {
  const ReadOptions read = read_options(question);
  Scene scene =
      question.shape.empty()
          ? project.file->scene(read)
          : std::move(
                read_reshaped_text(project.text, (project.folder / project.name).string(), read, {question.shape}).front().scene);
  refuse_method(scene, question.method);
  if (const auto method = method_of(question.method)) scene.trace.method = *method;
  if (question.paths) {
    scene.trace.paths = *question.paths;
    scene.trace.accuracy.reset();
  }
  return scene;
}

std::string project_json(const Project& project, int number) {
  Json out;
  out["scene"] = number;
  const ReadOptions read;
  std::vector<std::string> words = project.file->source_words(read);
  ReadOptions first = read;
  if (words.size() > 1) first.as = words.front();
  const Scene scene = project.file->scene(first);
  out["title"] = scene_title(scene, name_of(project));
  out["sources"] = words;
  out["as"] = first.as;
  for (const char* list : {"targets", "reflectors", "oddities", "notes"}) out[list] = Json::array();
  for (const Target& target : scene.targets) out["targets"].push_back(target.name);
  for (const Reflector& mirror : scene.reflectors)
    out["reflectors"].push_back({{"name", mirror.name}, {"width", json_quantity({rim_width(mirror.shape), std::nullopt, "m"})}});
  out["controls"] = Json::object();
  for (const std::string& word : words) {
    ReadOptions one = read;
    if (words.size() > 1) one.as = word;
    const Scene of_source = project.file->scene(one);
    out["controls"][word] = {{"us", controls_json(*project.file, one, of_source, Units::us)},
                             {"si", controls_json(*project.file, one, of_source, Units::si)}};
  }
  out["clock"] = clock_json(scene);
  if (!scene.is_wave() && !scene.reflectors.empty()) out["shapes"] = reshape_words();
  for (const std::string& oddity : scene.oddities) out["oddities"].push_back(oddity);
  for (const std::string& note : scene.notes) out["notes"].push_back(note);
  return json_text(out);
}

EngineAnswer answer(const Project& project, const Question& question, Watch& watch) {
  if (question.study == "sweep") return sweep(project, question, watch);
  if (question.study == "compare") return compare(project, question, watch);
  if (question.study == "tolerance") return tolerance(project, question, watch);
  if (question.study == "drift") return drift_answer(project, question, watch);
  if (question.study == "burn") return burn_answer(project, question, watch);
  if (question.study == "uses") return uses_answer(project, question, watch);
  if (question.study == "form") return form_answer(project, question);
  if (question.study == "survey") return survey_answer(project, question, watch);
  return trace(project, question, watch);
}

}  // namespace dishwright
