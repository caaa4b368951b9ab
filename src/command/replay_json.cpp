// SPDX-License-Identifier: MIT
#include "command/replay_json.h"

#include "report/numbers/json_quantity.h"

namespace dishwright {

namespace {

std::string kind_word(StepKind kind) {
  switch (kind) {
    case StepKind::from_sun: return "from sun";
    case StepKind::from_lamp: return "from lamp";
    case StepKind::shaded: return "shaded";
    case StepKind::reflected: return "reflected";
    case StepKind::target: return "target";
    case StepKind::back: return "back";
    case StepKind::lid: return "lid";
    case StepKind::missed: return "missed";
    case StepKind::not_counted: return "not counted";
  }
  return "";
}

Json vector_json(const Vector3& v) {
  if (v.isZero(0)) return nullptr;
  return Json::array({v.x(), v.y(), v.z()});
}

}  // namespace

std::string replay_json(const PathHistory& story) {
  Json steps = Json::array();
  for (const Step& step : story.steps) {
    const bool has_place = step.kind != StepKind::missed && step.kind != StepKind::not_counted;
    Json entry;
    entry["kind"] = kind_word(step.kind);
    entry["surface"] = step.surface.empty() ? Json(nullptr) : Json(step.surface);
    entry["face"] = step.face.empty() ? Json(nullptr) : Json(step.face);
    entry["point"] = has_place ? Json::array({step.point.x(), step.point.y(), step.point.z()}) : Json(nullptr);
    entry["own_point"] = has_place ? Json::array({step.own_point.x(), step.own_point.y(), step.own_point.z()}) : Json(nullptr);
    entry["normal"] = vector_json(step.normal);
    entry["tilted_normal"] = vector_json(step.tilted_normal);
    entry["direction"] = vector_json(step.direction);
    entry["power_share"] = step.power_share;
    steps.push_back(entry);
  }
  Json out;
  out["path"] = story.path;
  out["seed"] = story.seed;
  out["power"] = {{"value", story.power}, {"unit", story.unit}};
  out["steps"] = steps;
  return json_text(out);
}

}  // namespace dishwright
