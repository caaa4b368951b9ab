// SPDX-License-Identifier: MIT
#include "report/waves/wave_card.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/numbers/scene_words.h"
#include "report/waves/wave_card_words.h"
#include "report/waves/wave_help_words.h"
#include "report/waves/wave_pictures.h"
#include "report/waves/wave_tables.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

constexpr std::size_t most_frequencies = 8, most_miss_frequencies = 5;
constexpr double picture_height = 82;  // [mm]

std::string map_heading(const WaveFigures& figures, const std::string& at) {
  if (figures.sends) return fmt::format("Loudness far away by its place, {}", at);
  return fmt::format("{} at {}", figures.radio ? "Strength" : "Loudness", at);
}

/// The chart, and beside it the map across the axis.
std::vector<CardPicture> card_pictures(const WaveResult& result) {
  const bool radio = result.figures.radio;
  MapPicture map = wave_map_picture(result);
  map.panels.resize(1);
  map.panels.front().heading.clear();
  const std::string at = frequency_text(result.figures.map->frequency);
  return {{radio ? pattern_chart(result) : gain_chart(result), radio ? "Level against direction" : "Gain against pitch", 0.5,
           picture_height},
          {std::move(map), map_heading(result.figures, at), 0.5, picture_height}};
}

/// Shares of the gain at the frequency shown.
std::vector<CardShare> factor_bars(const WaveFigures& figures) {
  const RadioFigures& radio = *figures.targets.front().answers[figures.shown].radio;
  return {{"all of it (aperture efficiency)", radio.aperture_efficiency},
          {"caught by the mirror (spillover)", radio.spillover},
          {"even lighting (taper)", radio.taper},
          {"in step (phase)", radio.phase},
          {"not blocked by the target", radio.blockage},
          {"sent back by the skin", radio.reflection}};
}

CardBlock words_block(const std::string& heading, std::vector<std::string> items, bool wide = false) {
  return {heading, CardList{std::move(items)}, wide};
}

/// Numbers: by frequency (radio has many, across the page), what a miss costs, and beside it the bars.
std::vector<CardBlock> number_blocks(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  std::vector<CardBlock> blocks;
  blocks.push_back({"The numbers", CardTable{gain_rows(figures, figures.targets.front(), most_frequencies), 2}, figures.radio});
  if (figures.radio) {
    const std::string bars = fmt::format("Shares that are kept at {}", frequency_text(figures.frequencies[figures.shown]));
    blocks.push_back({bars, factor_bars(figures)});
  }
  blocks.push_back(
      {figures.sends ? "What a wrong place costs" : "What a miss costs", CardTable{miss_rows(figures, most_miss_frequencies)}});
  return blocks;
}

/// A voice over distance, its table and in words what it means; what else is asked over a distance.
void add_distance_blocks(std::vector<CardBlock>& blocks, const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  if (figures.voice) {
    blocks.push_back({"How far a voice carries", CardTable{voice_rows(figures, result.units)}});
    blocks.push_back(words_block("In the open, without wind, ground or echo", {voice_words(figures, result.units)}));
  }
  if (!figures.link_gains.empty())
    blocks.push_back(words_block("Two facing dishes", {facing_words(result.scene, figures, result.units)}, true));
  if (figures.link) blocks.push_back(words_block("The link", {link_words(figures, result.units)}, true));
}

}  // namespace

WorkCard wave_card(const WaveResult& result) {
  WorkCard card;
  card.title = wave_title_cells(result, "card");
  card.name = scene_title(result.scene, result.name) + ": card";
  card.question = wave_question_words(result.scene);
  card.answer = wave_verdict_words(result.figures);
  card.pictures = card_pictures(result);
  card.numbers = number_blocks(result);
  add_distance_blocks(card.numbers, result);
  card.numbers.push_back(words_block("How to aim and place it", wave_place_items(result)));
  card.why = wave_why_items(result);
  card.notes = result.figures.notes;
  card.cautions = {wave_caution_line(result.figures.radio, result.figures.sends)};
  card.settings = {wave_settings_line(result.figures.convergence.points, result.figures.speed, result.digest)};
  return card;
}

}  // namespace dishwright
