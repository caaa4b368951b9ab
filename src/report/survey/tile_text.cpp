// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "report/numbers/deferral.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/provenance.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/survey/survey_hidden.h"
#include "report/survey/survey_text.h"
#include "report/survey/tile_report.h"
#include "result/scene_digest.h"

namespace dishwright {

namespace {

constexpr int tile_label_width = 36;
std::string tile_line(const std::string& label, const std::string& text) { return labelled(label, text, tile_label_width); }
std::string tile_item(const std::string& text) { return wrapped(text, "  - ", "    "); }
Json plain_quantity(double value, const std::string& unit) { return json_quantity({value, std::nullopt, unit}); }

std::string where_block(const TileReport& report) {
  const TileFigures figures = tile_figures(report.tiles);
  const Units units = report.base.units;
  std::string out = "\nWhere the tiles send their light\n";
  out += wrapped(fmt::format("Held against the design, a dish of {} tiles.", report.tiles.design.tiles.size()), "  ", "  ");
  if (report.tiles.leans.numbers > 0) {
    out += tile_line("Their light meets, from the vertex", number_text(figures.focal_length, units));
    out += tile_line("  off the axis by",
                     fmt::format("x {}, y {}", number_text(figures.meeting[0], units), number_text(figures.meeting[1], units)));
  }
  out += tile_line("Tiles lean besides (rms, one axis)", slope_words(figures.spread));
  out += tile_line("One tile's lean is known to", mrad_text(figures.lean_error));
  out += tile_line("Heights off the frame (rms)", rough_length(report.tiles.frame.rms, units));
  for (const std::string& text : tile_reading_words(report)) out += wrapped(text, "  ", "  ");
  return out;
}

std::string worst_block(const TileReport& report) {
  std::string out = "\nThe worst tiles\n";
  const std::vector<std::string> lines = worst_tile_words(report);
  for (const std::string& line : lines) out += tile_item(line);
  if (lines.empty()) out += tile_item("none whose setting anew would gain light");
  if (report.tiles.set_aside.empty()) return out;
  out += "\nReadings set aside (check them)\n";
  constexpr std::size_t most = 10;
  for (std::size_t k = 0; k < std::min(most, report.tiles.set_aside.size()); ++k) {
    const Outlier& slip = report.tiles.set_aside[k];
    const double off = slip.residual - slip.expected;
    out += tile_item(fmt::format("line {}: {} {} of the plane of its tile", report.tiles.points.rows[slip.index],
                                 tape_text(std::abs(off), report.base.units), off > 0 ? "high (too shallow)" : "low (too deep)"));
  }
  if (report.tiles.set_aside.size() > most)
    out += tile_item(fmt::format("and {} more; survey.json lists all", report.tiles.set_aside.size() - most));
  return out;
}

Json light_of(const TileLight& tile_light) {
  const SurveyLight& light = tile_light.light;
  Json out;
  for (std::size_t k = 0; k < light.targets.size(); ++k) {
    const double error = light.shares[k].std_error.value_or(0);
    Json entry;
    entry["intercept"] = json_quantity(light.shares[k]);
    entry["intercept_as_read"] = plain_quantity(light.as_read[k], "1");
    entry["intercept_low"] = plain_quantity(std::max(0.0, light.shares[k].value - error - light.at_risk[k]), "1");
    entry["intercept_high"] = plain_quantity(std::min(1.0, light.shares[k].value + error), "1");
    entry["intercept_meant"] = json_quantity(light.meant[k]);
    entry["rule_tells"] = tile_light.rule_tells[k] != 0;
    out["targets"][light.targets[k]] = std::move(entry);
  }
  out["repairs"] = Json::array();
  for (const Repair& repair : light.repairs)
    out["repairs"].push_back({{"repair", repair.kind}, {"intercept", json_quantity(repair.share)}});
  return out;
}

Json hidden_of(const TileReport& report) {
  Json out = Json::array();
  const TileLight& light = *report.light;
  if (report.tiles.height_only() > 0)
    out.push_back({{"what", "tiles without a lean"},
                   {"tiles", report.tiles.height_only()},
                   {"lean", plain_quantity(light.supposed_lean, "rad")},
                   {"share_at_risk", plain_quantity(light.height_only_risk, "1")}});
  if (!light.rule_tells.empty() && light.rule_tells.front() == 0)
    out.push_back({{"what", "the error of the rule"},
                   {"tiles", report.tiles.design.tiles.size()},
                   {"lean", plain_quantity(report.tiles.lean_error(), "rad")},
                   {"share_at_risk", plain_quantity(light.rule_risk, "1")}});
  return out;
}

Json tile_list(const TileReport& report) {
  Json out = Json::array();
  for (const SurveyedTile& read : report.tiles.tiles) {
    const Tile& meant = report.tiles.design.tiles[read.tile];
    Json entry;
    entry["row"] = report.tiles.design.numbers[read.tile].first;
    entry["tile"] = report.tiles.design.numbers[read.tile].second;
    entry["place"] = {plain_quantity(meant.centre.x(), "m"), plain_quantity(meant.centre.y(), "m")};
    entry["readings"] = read.readings.size();
    entry["height"] = json_quantity({read.height, read.height_error, "m"});
    entry["lean_x"] = nullptr, entry["lean_y"] = nullptr;
    if (read.has_plane) {
      entry["lean_x"] = json_quantity({read.lean.x(), std::sqrt(read.lean_noise(0, 0)), "rad"});
      entry["lean_y"] = json_quantity({read.lean.y(), std::sqrt(read.lean_noise(1, 1)), "rad"});
    }
    out.push_back(std::move(entry));
  }
  return out;
}

Json tile_use_json(const UseVerdict& use) {
  Json out;
  out["use"] = use.use, out["figure"] = use.figure;
  out["value"] = json_quantity(use.value);
  out["error_is_of"] = "all tiles, those not read in it";
  out["limit"] = plain_quantity(use.limit, "1");
  if (use.frequency > 0) out["frequency"] = plain_quantity(use.frequency, "Hz"), out["loss"] = json_quantity(use.loss);
  out["verdict"] = verdict_word(use.verdict);
  out["at_risk"] = plain_quantity(use.hidden, "1");
  out["holds"] = nullptr;
  if (const std::optional<bool> holds = use.holds()) out["holds"] = *holds;
  return out;
}

Json set_aside_of(const TileReport& report) {
  Json out = Json::array();
  for (const Outlier& slip : report.tiles.set_aside)
    out.push_back(
        {{"line", report.tiles.points.rows[slip.index]}, {"residual", plain_quantity(slip.residual - slip.expected, "m")}});
  return out;
}

Json fit_of(const TileReport& report) {
  const TileFigures figures = tile_figures(report.tiles);
  Json out;
  out["shape"] = "facets";
  out["tiles"] = report.tiles.design.tiles.size();
  out["focal_length"] = json_quantity(figures.focal_length);
  out["meeting"] = {json_quantity(figures.meeting[0]), json_quantity(figures.meeting[1])};
  out["lean_rms"] = json_quantity(figures.spread);
  out["lean_error_of_one"] = json_quantity(figures.lean_error);
  out["reading_noise"] = plain_quantity(report.tiles.noise, "m");
  out["height_rms"] = plain_quantity(report.tiles.frame.rms, "m");
  return out;
}

}  // namespace

std::string tile_text(const TileReport& report, Detail detail) {
  std::string out = title_lines(report.base.name + ": is it good enough?") + wrapped(tile_count_words(report) + ".");
  out += where_block(report) + worst_block(report);
  out += "\n" + wrapped("Cover the mirror while you measure outdoors: its bright spot burns skin and eyes. " + deferral,
                        "CAUTION: ", "  ");
  const auto& light = report.base.light;
  return out + "\n" +
         wrapped(light ? settings_line(light->scene, light->figures, scene_digest(light->scene), detail)
                       : fmt::format("dishwright {}", DISHWRIGHT_VERSION),
                 "", "  ");
}

std::string tile_answer(const TileReport& report) {
  std::string out = "\nWhat to do first\n" + wrapped(tile_repair_words(report), "  ", "  ") + "\nIs it good enough?\n";
  for (const UseVerdict& use : report.base.uses) {
    std::string word = verdict_word(use.verdict);
    for (char& c : word) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    out += wrapped(tile_verdict_words(report, use), "  " + flush_left(word, 19), std::string(21, ' '));
  }
  return out + wrapped(
                   "A pass or a fail is clear of its limit by three standard errors; between, it is too close to call. ± is of "
                   "all tiles, the noise of the readings and the tiles that were not read in it.",
                   "  ", "  ");
}

std::string tile_json(const TileReport& report) {
  Json out;
  out["points"] = report.base.name;
  if (report.base.scene) out["scene"] = report.base.scene->title;
  out["version"] = DISHWRIGHT_VERSION;
  out["readings"] = report.tiles.read;
  out["places"] = report.tiles.points.points.size();
  out["set_aside"] = set_aside_of(report);
  out["fit"] = fit_of(report);
  out["tiles_read"] = report.tiles.tiles.size();
  out["tiles_with_lean"] = report.tiles.with_plane();
  out["tiles"] = tile_list(report);
  out["error_is_of"] = "all tiles, those not read in it";
  if (report.light) out["light"] = light_of(*report.light), out["hidden"] = hidden_of(report);
  out["half_path_rms"] = json_quantity(tile_half_path(report.tiles));
  out["worst"] = Json::array();
  for (std::size_t k = 0; report.light && k < report.light->worst.size(); ++k)
    out["worst"].push_back({{"words", worst_tile_words(report)[k]}, {"gain", plain_quantity(report.light->worst[k].gain, "1")}});
  out["uses"] = Json::array();
  for (const UseVerdict& use : report.base.uses) out["uses"].push_back(tile_use_json(use));
  out["verdict"] = verdict_word(overall(report.base.uses));
  out["first"] = tile_repair_words(report);
  out["notes"] = report.base.file.notes;
  return json_text(out);
}

}  // namespace dishwright
