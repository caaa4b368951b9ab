// SPDX-License-Identifier: MIT
#include "page/view_json.h"

#include <cmath>

#include "report/trace/size_words.h"

namespace dishwright {

namespace {

Json pair(const CutPoint& at) { return {json_number(at.across), json_number(at.up)}; }

Json lines(const std::vector<std::vector<CutPoint>>& all) {
  Json out = Json::array();
  for (const auto& line : all) {
    Json points = Json::array();
    for (const CutPoint& at : line) points.push_back(pair(at));
    out.push_back(std::move(points));
  }
  return out;
}

const char* end_word(SightEnd end) {
  switch (end) {
    case SightEnd::counted: return "lands";
    case SightEnd::uncounted: return "back";
    case SightEnd::shaded: return "shaded";
    case SightEnd::missed: break;
  }
  return "misses";
}

Json ray_json(const CutRay& ray) {
  Json out;
  out["across"] = json_number(ray.across);
  out["way"] = Json::array();
  for (const CutPoint& at : ray.way) out["way"].push_back(pair(at));
  out["toward"] = pair(ray.toward);
  out["end"] = end_word(ray.end);
  out["on_plane"] = ray.on_plane ? pair(*ray.on_plane) : Json(nullptr);
  return out;
}

Json level_json(double level) { return std::isfinite(level) ? Json(level) : Json(nullptr); }

}  // namespace

Json map_json(const EngineMap& map, const char* unit) {
  return {{"name", map.name},     {"columns", map.columns}, {"rows", map.rows},   {"x_from", map.x_from}, {"x_to", map.x_to},
          {"y_from", map.y_from}, {"y_to", map.y_to},       {"round", map.round}, {"unit", unit}};
}

Json view_json(const SideView& view, Units units) {
  Json out;
  out["profile"] = lines(view.profile);
  out["targets"] = lines(view.targets);
  out["rays"] = Json::array();
  for (const CutRay& ray : view.rays) out["rays"].push_back(ray_json(ray));
  out["named"] = nullptr;
  if (view.named) {
    out["named"] = {{"middle", ray_json(view.named->middle)},
                    {"near_rim", ray_json(view.named->near_rim)},
                    {"far_rim", ray_json(view.named->far_rim)}};
  }
  out["depth"] = json_number(view.depth);
  out["width"] = json_number(view.width);
  out["focal_length"] = view.focal_length ? Json(json_number(*view.focal_length)) : Json(nullptr);
  out["sun"] = json_number(view.sun);
  out["sun_side"] = pair(view.sun_side);
  out["offset"] = view.offset;
  out["directrix"] = view.directrix;
  out["words"] = {size_words(view, units)};
  if (const std::string doubts = size_doubts(view, units); !doubts.empty()) out["words"].push_back(doubts);
  return out;
}

Json patterns_json(const WaveFigures& figures) {
  Json out = Json::array();
  for (const WavePattern& pattern : figures.patterns) {
    Json one;
    one["frequency"] = json_number(pattern.frequency);
    one["angles"] = pattern.angles;
    one["levels"] = Json::array();
    for (const double level : pattern.levels) one["levels"].push_back(level_json(level));
    out.push_back(std::move(one));
  }
  return out;
}

Json curve_json(const WaveFigures& figures) {
  if (figures.curve_frequencies.empty()) return nullptr;
  Json out;
  out["frequencies"] = figures.curve_frequencies;
  out["gains"] = Json::array();
  for (const WaveGain& gain : figures.curve.gains) out["gains"].push_back(level_json(gain.gain));
  return out;
}

}  // namespace dishwright
