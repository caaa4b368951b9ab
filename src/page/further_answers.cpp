// SPDX-License-Identifier: MIT
#include "page/further_answers.h"

#include <algorithm>

#include "base/error.h"
#include "question/target_number.h"
#include "report/numbers/json_quantity.h"
#include "report/trace/aim_time.h"
#include "study/aim_room.h"

namespace dishwright {

namespace {

constexpr int threads = 1;

struct Use {
  const char* source;
  const char*
      assumed;  // where the file does not say it: clear sun, the middle of speech, a band of amateurs (common practice, no source)
};
constexpr Use uses[] = {{"light", "sun.beam=850 W/m2"}, {"sound", "sound.frequency=2 kHz"}, {"radio", "radio.frequency=10 GHz"}};

/// One use: as the file has it, or with what is assumed.
Json use_json(const Project& project, const Question& asked, const Use& use, bool known, Watch& watch) {
  Json out{{"source", use.source}, {"assumed", known ? "" : use.assumed}};
  Question one = asked;
  one.study = "trace", one.as = use.source, one.parts = {"words"};
  if (!known) one.set.emplace_back(use.assumed);
  try {
    const Json found = Json::parse(answer(project, one, watch).json);
    out["trace"] = found["trace"], out["words"] = found["words"]["answer"];
  } catch (const InputError& error) {
    out["problem"] = error.problems().empty() ? "it cannot be one" : error.problems().front().what;
  }
  return out;
}

}  // namespace

EngineAnswer drift_answer(const Project& project, const Question& question, Watch& watch) {
  Scene scene = asked_scene(project, question);
  if (scene.is_wave() || scene.lamp)
    throw InputError("only the sun wanders", "this project has another source", "ask it of a project with [sun]", "study");
  const std::size_t target = target_number(scene, question.target);
  const auto room = aim_room(scene, target, question.wanted, threads, watch);
  Json json;
  json["drift"] = nullptr;
  if (room) {
    json["drift"] = {{"angle", json_quantity({room->angle, std::nullopt, "rad"})},
                     {"direction", json_quantity({room->direction, std::nullopt, "rad"})},
                     {"seconds", json_number(seconds_within(*room))},
                     {"open", room->open},
                     {"words", aim_time_words(*room, question.wanted, scene.targets[target].name)}};
  }
  return {json_text(json), {}};
}

EngineAnswer uses_answer(const Project& project, const Question& question, Watch& watch) {
  const std::vector<std::string> known = project.file->source_words({});
  Json json;
  json["uses"] = Json::array();
  for (const Use& use : uses) {
    const bool there = std::find(known.begin(), known.end(), use.source) != known.end();
    json["uses"].push_back(use_json(project, question, use, there, watch));
  }
  return {json_text(json), {}};
}

}  // namespace dishwright
