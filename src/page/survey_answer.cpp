// SPDX-License-Identifier: MIT
#include "page/survey_answer.h"

#include "base/error.h"
#include "base/files.h"
#include "base/text.h"
#include "question/survey_uses.h"
#include "report/numbers/json_quantity.h"
#include "report/survey/form_dish.h"
#include "report/survey/survey_report.h"
#include "report/survey/survey_text.h"
#include "survey/held_against.h"

namespace dishwright {

namespace {

constexpr int threads = 1;
constexpr const char* table_name = "readings.csv";

std::vector<Scene> meant_scenes(const Project& project, const Question& question) {
  ReadOptions read;
  read.set = question.set;
  return source_scenes(*project.file, read);
}

void refuse_tiles(const Scene& scene) {
  if (tiles_of(scene))
    throw InputError("the readings of tiles are not judged on the page",
                     "each tile is read at its corners, and traced one by one",
                     "use dishwright survey --form and dishwright survey readings.csv --scene on the command line", "study");
}

/// The table as a file beside the project, so that it is read as everywhere else.
std::filesystem::path put_table(const Project& project, const std::string& text) {
  WholeFiles files(project.folder);
  files.add(table_name, text);
  files.commit();
  return project.folder / table_name;
}

Json places_json(const SurveyReport& report) {
  const Survey& survey = report.survey;
  Json out = Json::array();
  for (std::size_t k = 0; k < survey.map.samples.size(); ++k) {
    const Vector3& at = survey.points.points[survey.map.samples[k].first];
    out.push_back({{"x", json_number(at.x())}, {"y", json_number(at.y())}, {"height", json_number(survey.map.points[k].value)}});
  }
  return out;
}

Json words_json(const SurveyReport& report) {
  Json out{
      {"answer", survey_answer(report)}, {"first", repair_words(report)}, {"verdicts", Json::array()}, {"spots", Json::array()}};
  for (const UseVerdict& use : report.uses) out["verdicts"].push_back(verdict_words(report, use));
  for (const Spot& spot : report.survey.spots) out["spots"].push_back(spot_words(report, spot));
  out["hidden"] = hidden_words(report);
  return out;
}

}  // namespace

EngineAnswer form_answer(const Project& project, const Question& question) {
  const Scene scene = meant_scenes(project, question).front();
  refuse_tiles(scene);
  Json json;
  json["form"] = {{"table", readings_table(form_dish(scene), question.units)}, {"unit", length_unit(question.units)}};
  return {json_text(json), {}};
}

EngineAnswer survey_answer(const Project& project, const Question& question, Watch& watch) {
  const std::vector<Scene> scenes = meant_scenes(project, question);
  refuse_tiles(scenes.front());
  SurveyReport report;
  report.name = "readings", report.units = question.units;
  report.scene = scenes.front();
  if (question.paths) report.scene->trace.paths = *question.paths;
  const HeldAgainst held = held_against(*report.scene);
  if (const double meant = meant_focal_length(*report.scene); meant > 0) report.meant_focal_length = meant;
  report.file = read_survey(put_table(project, question.readings), {});
  report.survey = held.meant ? survey_design(std::move(report.file.survey), held.meant, false)
                             : survey_points(std::move(report.file.survey), held.kind, false);
  end_if_stopped(watch);
  if (!report.scene->is_wave()) report.light = survey_light(*report.scene, report.survey, threads);
  end_if_stopped(watch);
  report.uses = judge_uses(report.survey, report.light, question.wanted, scenes, {});
  Json json;
  json["survey"] = Json::parse(survey_json(report));
  json["words"] = words_json(report);
  json["places"] = places_json(report);
  return {json_text(json), {}};
}

}  // namespace dishwright
