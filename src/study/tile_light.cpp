// SPDX-License-Identifier: MIT
#include "study/tile_light.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>

#include "scene/mirror_surface.h"
#include "study/survey_trace.h"

namespace dishwright {

namespace {

using Tiles = std::vector<Tile>;
using Vector2 = Eigen::Vector2d;

constexpr int draws = 24;
constexpr std::size_t most_worst = 5, most_tried = 10;

/// The scene with these tiles in the place of its first mirror's.
Scene with_tiles(const Scene& scene, const TiledDesign& design, const Tiles& tiles) {
  Scene out = scene;
  Facets facets = design.pattern;
  facets.as_built = std::make_shared<const Tiles>(tiles);
  out.reflectors.front().shape = std::move(facets);
  out.reflectors.front().flaws = {};
  return out;
}

/// A lean for each of the tiles, outward, inward or at random with this rms about one axis.
enum class Lean { outward, inward, random };
Tiles leaning(const TiledDesign& design, Tiles tiles, const std::vector<std::size_t>& which, double size, Lean way) {
  std::mt19937_64 random(0x1ea75U);
  const auto even = [&random] { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; };
  for (const std::size_t k : which) {
    const double out = std::sqrt(-2 * std::log(even())), turn = 2 * std::numbers::pi * even();
    Vector2 lean = size * out * Vector2(std::cos(turn), std::sin(turn));
    if (way != Lean::random) {
      const Vector2 radius = design.tiles[k].centre.head<2>();
      const Vector2 own = design.tiles[k].turn.topLeftCorner<2, 2>().transpose() * radius;
      lean = (way == Lean::outward ? 1 : -1) * std::numbers::sqrt2 * size * own / std::max(1e-9, own.norm());
    }
    tiles[k] = set_over(tiles[k], 0, lean);
  }
  return tiles;
}

std::vector<std::size_t> with_height_only(const TileSurvey& survey) {
  std::vector<std::size_t> out;
  for (const SurveyedTile& tile : survey.tiles) {
    if (!tile.has_plane) out.push_back(tile.tile);
  }
  return out;
}

/// How far a tile without a plane may lean: a mark of the rule from edge to edge, or twice what those with a plane show [rad].
double supposed_lean(const TileSurvey& survey) {
  const double mark = survey.points.step > 0 ? survey.points.step : std::sqrt(12.0) * survey.noise;
  return std::max(mark / survey.design.pattern.tile,
                  2 * std::hypot(survey.leans.all, survey.leans.spread_estimate().std_error.value_or(0)));
}

/// Read tiles that lean farther than two of their own errors and half a mark across the tile, the one that throws its light
/// farthest first.
std::vector<const SurveyedTile*> suspects(const TileSurvey& survey) {
  std::vector<const SurveyedTile*> out;
  const double mark = survey.points.step > 0 ? survey.points.step : std::sqrt(12.0) * survey.noise;
  const double least = mark / survey.design.pattern.tile / 2;
  for (const SurveyedTile& tile : survey.tiles) {
    if (tile.has_plane && tile.lean.norm() > std::max(least, 2 * std::numbers::sqrt2 * tile.lean_error())) out.push_back(&tile);
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const SurveyedTile* a, const SurveyedTile* b) { return a->lean.norm() > b->lean.norm(); });
  if (out.size() > most_tried) out.resize(most_tried);
  return out;
}

/// Where its design has it, at the height where it was found.
void set_anew(const TileSurvey& survey, const SurveyedTile& tile, Tiles& tiles) {
  tiles[tile.tile] = set_over(survey.design.tiles[tile.tile], tile.height, Vector2::Zero());
}

double half_width(const Target& target) {
  return std::visit([](const auto& shape) { return shape.width / 2; }, target.shape);
}

/// Half of the way from the plain tiles to the mean of the draws; their spread, that way, and the error of the trace.
Estimate share_of_draws(const Estimate& plain, double plain_few, const std::vector<double>& drawn) {
  const auto count = static_cast<double>(drawn.size());
  double sum = 0, squares = 0;
  for (const double share : drawn) sum += share - plain_few, squares += std::pow(share - plain_few, 2);
  const double mean = sum / count, spread = std::sqrt(std::max(0.0, (squares - count * mean * mean) / (count - 1)));
  Estimate out = plain;
  out.value = std::clamp(plain.value + mean / 2, 0.0, 1.0);
  // Leans are no bell curve, and rounding is no chance: without this factor 15 of 25 shares lay within one error and 19 within
  // two (tests/study/survey_tiles_test.cpp). Our choice.
  constexpr double wider = 1.4;
  out.std_error = std::hypot(plain.std_error.value_or(0), wider * spread, wider * mean);
  return out;
}

std::vector<TileAim> aims_of(const TileSurvey& survey, double height) {
  std::vector<TileAim> out;
  const auto meets = [height](const Tile& tile) {
    const Vector3 normal = tile.turn.col(2), along = 2 * normal.z() * normal - Vector3::UnitZ();
    return Vector2((tile.centre + (height - tile.centre.z()) / std::max(0.05, along.z()) * along).head<2>());
  };
  for (const SurveyedTile& tile : survey.tiles) {
    const Tile& meant = survey.design.tiles[tile.tile];
    if (tile.has_plane) out.push_back({tile.tile, meets(set_over(meant, tile.height, tile.lean)) - meets(meant)});
  }
  return out;
}

/// All changed dishes: the plain one, the draws, then what may hide, then repairs; where each kind begins.
struct TileStates {
  std::vector<Scene> scenes;
  std::size_t height_only = 0, rule = 0, repairs = 0, single = 0;
  std::vector<std::pair<std::string, Vector3>> repair_kinds;
};

Scene with_target_moved(const Scene& scene, const Vector3& move) {
  Scene out = scene;
  for (Target& target : out.targets) target.pose.at += scene.reflectors.front().pose.turn * move;
  return out;
}

/// Where the trend of the leans brings the light together, less where the design does [m]: aside by twice the lean of all, nearer
/// by the bend, 1/f' = 1/f + 2 k.
Vector3 meeting_move(const TileSurvey& survey) {
  const double f = survey.design.throw_length();
  const TileLeans::Trend& trend = survey.leans.trend;
  const double bent = std::clamp(1 + 2 * f * trend[2], 0.5, 2.0);
  return {-2 * f * trend[0], -2 * f * trend[1], f / bent - f};
}

TileStates states_of(const Scene& scene, const TileSurvey& survey, const Tiles& plain, TileLight& out,
                     const std::vector<const SurveyedTile*>& tried) {
  TileStates states;
  const TiledDesign& design = survey.design;
  const auto add = [&](const Tiles& tiles) { states.scenes.push_back(with_tiles(scene, design, tiles)); };
  for (int k = 0; k <= draws; ++k) add(k == 0 ? plain : drawn_tiles(survey, k));
  states.height_only = states.scenes.size();
  const std::vector<std::size_t> without = with_height_only(survey);
  for (const Lean way : {Lean::outward, Lean::inward, Lean::random}) {
    if (!without.empty()) add(leaning(design, plain, without, out.supposed_lean, way));
  }
  states.rule = states.scenes.size();
  if (!std::all_of(out.rule_tells.begin(), out.rule_tells.end(), [](char tells) { return tells != 0; })) {
    std::vector<std::size_t> all(design.tiles.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    add(leaning(design, plain, all, survey.lean_error(), Lean::random));
  }
  states.repairs = states.scenes.size();
  const Vector3 move = meeting_move(survey);
  if (survey.leans.numbers > 0 && design.throw_length() > 0) {
    states.scenes.push_back(with_target_moved(states.scenes.front(), move));
    states.repair_kinds.emplace_back("move target", move);
  }
  Tiles worst = plain, straight = design.tiles;
  for (std::size_t k = 0; k < tried.size() && k < most_worst; ++k) set_anew(survey, *tried[k], worst);
  if (!tried.empty()) add(worst), states.repair_kinds.emplace_back("lift tiles", Vector3::Zero());
  add(straight), states.repair_kinds.emplace_back("set all tiles", Vector3::Zero());
  states.single = states.scenes.size();
  for (const SurveyedTile* tile : tried) {
    Tiles one = plain;
    set_anew(survey, *tile, one);
    add(one);
  }
  return states;
}

/// What the changed dishes say of what hides, and which repairs gain light.
void read_off(const std::vector<std::vector<Estimate>>& shares, const TileStates& states, TileLight& out) {
  SurveyLight& light = out.light;
  const auto lost = [&](std::size_t from, std::size_t to, std::size_t target) {
    double most = 0;
    for (std::size_t k = from; k < to; ++k) most = std::max(most, shares[0][target].value - shares[k][target].value);
    return most;
  };
  for (std::size_t t = 0; t < light.shares.size(); ++t) {
    const double heights = lost(states.height_only, states.rule, t);
    const double rule = out.rule_tells[t] != 0 ? 0 : lost(states.rule, states.repairs, t);
    light.at_risk.push_back(heights + rule);
    if (t == 0) out.height_only_risk = heights, out.rule_risk = rule;
  }
  const double now = light.shares.front().value;
  for (std::size_t k = 0; k < states.repair_kinds.size(); ++k) {
    Estimate share = shares[states.repairs + k].front();
    share.value = std::clamp(now + share.value - shares[0].front().value, 0.0, 1.0);
    if (share.value > now) light.repairs.push_back({states.repair_kinds[k].first, share, states.repair_kinds[k].second});
  }
  std::stable_sort(light.repairs.begin(), light.repairs.end(),
                   [](const Repair& a, const Repair& b) { return a.share.value > b.share.value; });
}

void read_worst(const std::vector<std::vector<Estimate>>& shares, const TileStates& states,
                const std::vector<const SurveyedTile*>& tried, TileLight& out) {
  for (std::size_t k = 0; k < tried.size(); ++k) {
    const double gain = shares[states.single + k].front().value - shares[0].front().value;
    if (gain > 0) out.worst.push_back({tried[k]->tile, gain});
  }
  std::stable_sort(out.worst.begin(), out.worst.end(), [](const WorstTile& a, const WorstTile& b) { return a.gain > b.gain; });
  if (out.worst.size() > most_worst) out.worst.resize(most_worst);
}

}  // namespace

TileLight tile_light(const Scene& scene, const TileSurvey& survey, int threads) {
  TileLight out;
  SurveyLight& light = out.light;
  const double thrown = 2 * survey.design.throw_length() * survey.lean_error();
  for (const Target& target : scene.targets) {
    light.targets.push_back(target.name);
    out.rule_tells.push_back(survey.design.throw_length() > 0 && thrown <= half_width(target) ? 1 : 0);
  }
  out.supposed_lean = supposed_lean(survey);
  const Pose& mirror = scene.reflectors.front().pose;
  if (!scene.targets.empty())
    out.aims = aims_of(survey, (mirror.turn.transpose() * (scene.targets.front().pose.at - mirror.at)).z());
  const std::uint64_t paths = std::min(most_survey_paths, scene.trace.paths);
  const Tiles plain = drawn_tiles(survey, 0);
  light.meant = shares_of(survey_figures(with_tiles(scene, survey.design, survey.design.tiles), paths, threads));
  light.scene = with_tiles(scene, survey.design, plain);
  light.scene.title = scene.title.empty() ? "The tiles as surveyed" : scene.title + ", as surveyed";
  light.scene.trace.paths = paths;
  light.scene.trace.accuracy.reset();
  light.scene.trace.method = Method::rays;
  light.figures = survey_figures(light.scene, paths, threads);
  const std::vector<Estimate> traced = shares_of(light.figures);
  const std::vector<const SurveyedTile*> tried = suspects(survey);
  const TileStates states = states_of(scene, survey, plain, out, tried);
  const auto shares = shares_of_all(
      states.scenes.size(), [&](std::size_t k) { return states.scenes[k]; }, threads);
  for (std::size_t t = 0; t < traced.size(); ++t) {
    std::vector<double> drawn;
    for (std::size_t k = 1; k <= draws; ++k) drawn.push_back(shares[k][t].value);
    light.as_read.push_back(traced[t].value);
    light.shares.push_back(share_of_draws(traced[t], shares[0][t].value, drawn));
  }
  if (light.shares.empty()) return out;
  read_off(shares, states, out);
  read_worst(shares, states, tried, out);
  return out;
}

}  // namespace dishwright
