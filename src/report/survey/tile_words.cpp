// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/survey/tile_report.h"

namespace dishwright {

namespace {

using Vector2 = Eigen::Vector2d;

/// Half of the width of the first target [m]; 0 where there is none.
double first_half_width(const TileReport& report) {
  if (!report.base.scene || report.base.scene->targets.empty()) return 0;
  return std::visit([](const auto& shape) { return shape.width / 2; }, report.base.scene->targets.front().shape);
}

bool rule_tells(const TileReport& report) {
  return !report.light || report.light->rule_tells.empty() || report.light->rule_tells.front() != 0;
}

std::string lift_size(double metres, Units units) { return tape_text(metres, units, metres < 0.0254 / 8 ? 32 : 16); }

/// "row 3, tile 5: raise its left edge by 1/8 in".
std::string worst_words(const TileReport& report, std::size_t tile) {
  const SurveyedTile& read = *report.tiles.of(tile);
  return fmt::format("{}: {} (it leans {:.0f} mrad)", tile_words(report, tile), lift_words(report, read), 1e3 * read.lean.norm());
}

/// What tells the lean of a tile that a rule does not.
std::string light_test_words() {
  return "What tells more: cover all tiles but one with cloth or paper, aim the dish, hold a white card where the target is to "
         "stand "
         "and look at the card where the light of that one tile falls; mark it, and go on to the next tile. The light of one "
         "flat tile is no brighter than the sun on the ground, that of several together burns skin and eyes: never uncover the "
         "dish with somebody at the card, and never look into a tile.";
}

std::string sample_words(const TileReport& report) {
  const TileSurvey& tiles = report.tiles;
  if (!tiles.design.sampled())
    return fmt::format("All {} tiles were to be read; {} have readings that span them.", tiles.design.tiles.size(),
                       tiles.with_plane());
  return fmt::format(
      "{} of {} tiles were read. The others are taken to lean as those of the form do, each as one of them picked by chance; "
      "what "
      "that leaves open is in the ± of the share. It holds as long as nobody looked which tiles would be read before all were "
      "set. A few tiles that hang loose among the others are not found so: press on each with a finger.",
      tiles.tiles.size(), tiles.design.tiles.size());
}

std::string rule_words(const TileReport& report) {
  const TileSurvey& tiles = report.tiles;
  const double error = tiles.lean_error(), thrown = 2 * tiles.design.throw_length() * error;
  std::string out = fmt::format(
      "One reading scatters by {} (standard deviation); so the lean of one tile {} wide is known to {} mrad about each axis, "
      "and its light to {} where it is to meet.",
      rough_length(tiles.noise, report.base.units), tape_text(tiles.design.pattern.tile, report.base.units),
      rough_text(1e3 * error, 2), rough_length(thrown, report.base.units));
  if (!report.light) return out;
  if (rule_tells(report)) return out + " The figures of all tiles together have that noise taken out.";
  return out +
         fmt::format(
             " That is more than half the width of the {}, {}: with this rule no survey can say that tiles so small are good "
             "enough, and none will say pass.",
             report.light->light.targets.front(), rough_length(first_half_width(report), report.base.units));
}

}  // namespace

TileFigures tile_figures(const TileSurvey& tiles) {
  TileFigures out;
  const TileLeans& leans = tiles.leans;
  const auto error = [&](int k) { return std::sqrt(leans.trend_covariance(k, k)); };
  const double f = tiles.design.throw_length(), bent = std::clamp(1 + 2 * f * leans.trend[2], 0.2, 5.0);
  out.focal_length = {f / bent, leans.numbers > 0 ? std::optional(2 * std::pow(f / bent, 2) * error(2)) : std::nullopt, "m"};
  for (int k = 0; k < 2; ++k)
    out.meeting[static_cast<std::size_t>(k)] = {-2 * f * leans.trend[k],
                                                leans.numbers > 0 ? std::optional(2 * f * error(k)) : std::nullopt, "m"};
  out.spread = leans.spread_estimate();
  out.lean_error = {tiles.lean_error(), std::nullopt, "rad"};
  return out;
}

Estimate tile_half_path(const TileSurvey& tiles) {
  const double side = tiles.design.pattern.tile, lean = tiles.leans.all;
  // A square of side s, flat on a bowl of focal length f: the sag has the rms s²/(4 f) √(2/180). A lean a about one axis has the
  // rms a s/√12.
  const double f = tiles.design.pattern.focal_length;
  const double flat = f > 0 ? side * side / (4 * f) * std::sqrt(2 / 180.0) : 0;
  const double heights = std::sqrt(std::max(0.0, tiles.frame.rms * tiles.frame.rms - tiles.noise * tiles.noise / 4));
  const double value = std::hypot(heights, std::sqrt(2 / 12.0) * lean * side, flat);
  const double count = std::max<double>(2, static_cast<double>(tiles.tiles.size()));
  return {value, std::hypot(value / std::sqrt(2 * count), tiles.noise / std::sqrt(count)), "m"};
}

UseVerdict tile_use(const TileLight& light, std::size_t target, double wanted) {
  UseVerdict use = light_use(light.light.targets[target], light.light.shares[target], wanted, light.light.at_risk[target]);
  // Two errors of a share of tiles hold for some 80 of 100, not 95: its errors have long tails. So a verdict needs three.
  constexpr double longer = 1.5;
  Estimate wide = use.value;
  wide.std_error = longer * wide.std_error.value_or(0);
  if (use.verdict == Verdict::pass || use.verdict == Verdict::fail || use.verdict == Verdict::so_far) {
    if (judge(wide, wanted, true) == Verdict::too_close) use.verdict = Verdict::too_close;
  }
  if (use.verdict == Verdict::pass && light.rule_tells[target] == 0) use.verdict = Verdict::so_far;
  return use;
}

std::string tile_words(const TileReport& report, std::size_t tile) {
  const Vector2 at = report.tiles.design.tiles[tile].centre.head<2>();
  const std::string name = report.tiles.design.name(tile);
  if (at.norm() < report.tiles.design.pattern.tile / 2) return name + " (in the middle)";
  return fmt::format("{} ({} out, {})", name, tape_text(std::round(at.norm() / 0.0127) * 0.0127, report.base.units),
                     clock_words(at));
}

std::string lift_words(const TileReport& report, const SurveyedTile& tile) {
  const Vector2& lean = tile.lean;
  const Facets& pattern = report.tiles.design.pattern;
  constexpr double along = 0.4;  // a lean mostly about one axis raises an edge, else a corner
  const char* const up = lean.y() > 0 ? "lower" : "upper";
  const char* const side = lean.x() > 0 ? "left" : "right";
  const char* const end = pattern.tile_shape == TileShape::square ? "edge" : "side";
  if (std::abs(lean.y()) < along * std::abs(lean.x()))
    return fmt::format("raise its {} {} by {}", side, end, lift_size(pattern.tile * lean.norm(), report.base.units));
  if (std::abs(lean.x()) < along * std::abs(lean.y()))
    return fmt::format("raise its {} {} by {}", up, end, lift_size(pattern.tile * lean.norm(), report.base.units));
  if (pattern.tile_shape != TileShape::square)
    return fmt::format("raise its {} {} side by {}", up, side, lift_size(pattern.tile * lean.norm(), report.base.units));
  return fmt::format("raise its {} {} corner by {}", up, side, lift_size(pattern.tile * lean.lpNorm<1>(), report.base.units));
}

std::string tile_verdict_words(const TileReport& report, const UseVerdict& use) {
  std::string out = use_words(use);
  if (use.verdict != Verdict::so_far || use.frequency > 0) return out;
  if (report.tiles.height_only() > 0 && report.light && report.light->height_only_risk > 0)
    out += fmt::format(". It passes as far as it was read: {} tiles have no readings that span them; read three corners of each",
                       report.tiles.height_only());
  if (!rule_tells(report)) out += ". It passes as far as the rule can see, which is not far enough for tiles so small";
  return out;
}

std::string tile_count_words(const TileReport& report) {
  const TileSurvey& tiles = report.tiles;
  std::string out = fmt::format("{} readings on {} of {} tiles", tiles.read, tiles.tiles.size(), tiles.design.tiles.size());
  if (tiles.height_only() > 0) out += fmt::format(", {} of them without a lean", tiles.height_only());
  if (!tiles.set_aside.empty()) out += fmt::format(", {} set aside", tiles.set_aside.size());
  if (tiles.points.step > 0) out += fmt::format(", to the nearest {}", tape_text(tiles.points.step, report.base.units, 64));
  return out;
}

std::vector<std::string> worst_tile_words(const TileReport& report) {
  std::vector<std::string> out;
  if (report.light) {
    for (const WorstTile& worst : report.light->worst) out.push_back(worst_words(report, worst.tile));
  }
  return out;
}

std::string tile_repair_words(const TileReport& report) {
  if (!report.light || report.light->light.shares.empty()) return "Set the tiles that lean most, by the map.";
  const SurveyLight& light = report.light->light;
  const Estimate& now = light.shares.front();
  constexpr double worth = 0.01;
  if (light.repairs.empty() || light.repairs.front().share.value - now.value < worth)
    return fmt::format("No repair gains as much as 1 %: the {} catches {} as it is.", light.targets.front(), share_words(now));
  const Repair& best = light.repairs.front();
  std::string what;
  if (best.kind == "move target")
    what = fmt::format("move the {} {}", light.targets.front(), move_words(best.move, report.base.units));
  if (best.kind == "lift tiles") what = "set the worst tiles, listed above, as they were designed";
  if (best.kind == "set all tiles")
    what = "go over all the tiles, read or not, and set each as it was designed, the worst ones first";
  return fmt::format("First, {}. The {} would then catch {:.0f} % of the mirror's light instead of {:.0f} %.", what,
                     light.targets.front(), 100 * best.share.value, 100 * now.value);
}

std::vector<std::string> tile_reading_words(const TileReport& report) {
  std::vector<std::string> out = {sample_words(report), rule_words(report)};
  if (!rule_tells(report)) out.push_back(light_test_words());
  const TileSurvey& tiles = report.tiles;
  if (tiles.height_only() > 0 && report.light)
    out.push_back(fmt::format(
        "{} tiles have one or two readings, or three in a row: their height is known, how they lean is not. They are taken to "
        "lean as "
        "the frame does. If they leant by {:.0f} mrad about each axis, that would cost the {} {:.1f} % of the mirror's light.",
        tiles.height_only(), 1e3 * report.light->supposed_lean, report.light->light.targets.front(),
        100 * report.light->height_only_risk));
  if (report.light)
    out.emplace_back(
        "The share is traced on the tiles as they were surveyed, each with a plane of its own. Its ± is of all tiles, the noise "
        "of "
        "the readings and the tiles that were not read in it. Each tile is taken to be flat: hold a straightedge on some.");
  for (const std::string& note : report.base.file.notes) out.push_back(note + ".");
  return out;
}

}  // namespace dishwright
