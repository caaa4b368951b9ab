// SPDX-License-Identifier: MIT
#include "page/burn_answer.h"

#include <algorithm>

#include "base/error.h"
#include "report/numbers/json_quantity.h"
#include "report/yard/burn_report.h"
#include "report/yard/mirror_hull.h"
#include "study/burn_day.h"

namespace dishwright {

namespace {

constexpr int threads = 1;
constexpr double every = 600;  // [s]

BurnQuestion parked_as(const std::string& park) {
  BurnQuestion out;
  if (park == "leaning") out.as = ParkedAs::leaning;
  if (park == "in a vehicle") out = left_in_vehicle();
  out.every = every;
  return out;
}

Json point_json(const Vector3& at) { return {json_number(at.x()), json_number(at.y()), json_number(at.z())}; }

Json hulls_json(const Scene& scene, const BurnDay& day) {
  const Vector3 vertex = scene.reflectors.front().pose.at;
  Json side = Json::array(), plan = Json::array();
  const auto outline = [](const std::vector<YardPoint>& hull) {
    Json out = Json::array();
    for (const YardPoint& one : hull) out.push_back({json_number(one.right), json_number(one.up)});
    return out;
  };
  for (const Reflector& mirror : scene.reflectors) {
    std::vector<Vector3> places = mirror_places(mirror);
    for (Vector3& at : places) at = day.parked.axes * (at - vertex);
    side.push_back(outline(seen_hull(places, Vector3::UnitX(), Vector3::UnitZ())));
    plan.push_back(outline(seen_hull(places, Vector3::UnitX(), Vector3::UnitY())));
  }
  return {{"side", side}, {"plan", plan}};
}

Json step_json(const BurnDay& day, std::size_t k) {
  const BurnStep& step = day.steps[k];
  constexpr double hour = 3600;
  Json out;
  out["hours"] = json_number(clock_seconds({step.sun.seconds, day.day.offset}, day.day) / hour);
  out["up"] = json_number(day.places[k].apparent_elevation);
  out["behind"] = step.behind;
  out["irradiance"] = json_number(step.spot.irradiance);
  out["at"] = step.spot.irradiance > 0 ? point_json(step.spot.at) : Json(nullptr);
  out["ground"] = json_number(step.ground.irradiance);
  double walls = 0;
  for (const BurnSpot& wall : step.walls) walls = std::max(walls, wall.irradiance);
  out["walls"] = json_number(walls);
  return out;
}

}  // namespace

EngineAnswer burn_answer(const Project& project, const Question& question, Watch& watch) {
  const Scene scene = asked_scene(project, question);
  if (!scene.outdoors || scene.is_wave() || scene.lamp)
    throw InputError("the track of a spot needs a time and a place", "the sun goes another way at every place and day",
                     "give the project [place] and sun.time", "study");
  const BurnDay day = burn_day(scene, parked_as(question.park), threads, watch);
  Json out;
  out["words"] = burn_words(day, question.units);
  out["height"] = json_number(day.parked.height), out["wall"] = json_number(day.parked.wall);
  out["roof"] = day.parked.roof ? Json(json_number(*day.parked.roof)) : Json(nullptr);
  out["every"] = json_number(day.asked.every);
  out["hulls"] = hulls_json(scene, day);
  out["steps"] = Json::array();
  for (std::size_t k = 0; k < day.steps.size(); ++k) out["steps"].push_back(step_json(day, k));
  Json json;
  json["burn"] = std::move(out);
  return {json_text(json), {}};
}

}  // namespace dishwright
