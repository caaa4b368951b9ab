// SPDX-License-Identifier: MIT
// Everything that is said of one survey of tiles.
#pragma once

#include <string>
#include <vector>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/numbers/detail.h"
#include "report/survey/survey_report.h"
#include "study/tile_light.h"

namespace dishwright {

struct TileReport {
  SurveyReport base;  ///< name, file, scene, light, uses and units; its own survey stays empty
  TileSurvey tiles;
  std::optional<TileLight> light;
};

/// Where the light of the tiles meets and how far they lean together, by the trend of their leans.
struct TileFigures {
  Estimate focal_length;            ///< [m]
  std::array<Estimate, 2> meeting;  ///< [m]
  Estimate spread;                  ///< of the leans about the trend, one axis [rad]
  Estimate lean_error;              ///< of one tile [rad]
};
TileFigures tile_figures(const TileSurvey& tiles);

/// Surface error for sound and radio: half the path, rms [m]: what heights and leans leave over the frame, and how far a flat
/// tile stands off it.
Estimate tile_half_path(const TileSurvey& tiles);

/// A use of light; a pass that the rule cannot carry is one so far.
UseVerdict tile_use(const TileLight& light, std::size_t target, double wanted);

// ---- Words ----
/// "row 3, tile 5 (12 in out, 4 o'clock)".
std::string tile_words(const TileReport& report, std::size_t tile);
/// "raise its lower left corner by 3/16 in".
std::string lift_words(const TileReport& report, const SurveyedTile& tile);
std::string tile_verdict_words(const TileReport& report, const UseVerdict& use);
std::string tile_count_words(const TileReport& report);
/// The worst tiles, with what to do to them.
std::vector<std::string> worst_tile_words(const TileReport& report);
std::string tile_repair_words(const TileReport& report);
/// What the readings can and cannot show.
std::vector<std::string> tile_reading_words(const TileReport& report);

// ---- The whole ----
std::string tile_text(const TileReport& report, Detail detail);
std::string tile_answer(const TileReport& report);
std::string tile_json(const TileReport& report);
/// Lean map, height map and where each tile sends its light.
std::vector<CardPicture> tile_pictures(const TileReport& report);
WorkCard tile_card(const TileReport& report, const std::vector<CardPicture>& pictures, const WorkCard* spot);
/// Adds survey.json, verdict.pdf, lean-map.png, height-map.png, aim-map.png and, of each target, the spot. Returns the sentence
/// that says what was written where. Throws WriteError.
std::string add_tile_files(const TileReport& report, PageSize paper, WholeFiles& files);

}  // namespace dishwright
