// SPDX-License-Identifier: MIT
#include "report/wave_card.h"

#include <fmt/format.h>

#include <algorithm>

#include "picture/image_file.h"
#include "picture/page_card.h"
#include "picture/page_chart.h"
#include "report/scene_words.h"
#include "report/wave_card_words.h"
#include "report/wave_pictures.h"
#include "report/wave_tables.h"
#include "report/wave_words.h"

namespace dishwright {

namespace {

constexpr std::size_t most_frequencies = 8, most_miss_frequencies = 5;
constexpr double most_picture = 82, least_picture = 45;  // height [mm]
constexpr double dots_per_mm = 6;                        // on the screen

struct Columns {
  double left, right, width;  ///< where they begin, and how wide each is [mm]
};
Columns columns_of(const Pages& pages) {
  const double width = (pages.size().width - 2 * card_margin - card_column_gap) / 2;
  return {card_margin, card_margin + width + card_column_gap, width};
}

double draw_question(Pages& pages, double y, const WaveResult& result) {
  pages.text({card_margin, y + 9}, wave_question_words(result.scene), card_bold(16));
  y += 12;
  return y +
         pages.paragraph({card_margin, y, pages.size().width - 2 * card_margin, 0}, wave_verdict_words(result.figures),
                         card_plain(11)) +
         3;
}

void draw_pictures(Pages& pages, double y, double height, const WaveResult& result) {
  const Columns columns = columns_of(pages);
  const bool radio = result.figures.radio;
  draw_page_chart(pages, {columns.left, y, columns.width, height}, radio ? "Level against direction" : "Gain against pitch",
                  radio ? pattern_chart(result) : gain_chart(result));
  const MapPage map = wave_map_page(result);
  MapPanel panel = map.panels.front();
  panel.heading = fmt::format("{} at {}", radio ? "Strength" : "Loudness", frequency_text(result.figures.map->frequency));
  draw_page_map(pages, {columns.right, y, columns.width, height}, panel, map.top, map.unit);
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

/// Numbers: by frequency across the page (radio has many), what a miss costs, and beside it the bars or the best place.
double draw_numbers(Pages& pages, double y, const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  const Columns columns = columns_of(pages);
  const Box left{columns.left, y, columns.width, 0}, right{columns.right, y, columns.width, 0};
  const char* const misses = "What a miss costs";
  const TableRows gains = gain_rows(figures, figures.targets.front(), most_frequencies);
  if (!figures.radio) {
    const double numbers = page_table(pages, left, "The numbers", gains, 2);
    return std::max(numbers, page_table(pages, right, misses, miss_rows(figures, most_miss_frequencies))) + 1;
  }
  const Box whole{columns.left, y, pages.size().width - 2 * card_margin, 0};
  y = page_table(pages, whole, "The numbers", gains, 2) + 1;
  const std::string bars = fmt::format("Shares that are kept at {}", frequency_text(figures.frequencies[figures.shown]));
  const double shares = draw_page_bars(pages, {columns.left, y, columns.width, 0}, bars, factor_bars(figures));
  return std::max(shares,
                  page_table(pages, {columns.right, y, columns.width, 0}, misses, miss_rows(figures, most_miss_frequencies))) +
         1;
}

/// A voice over distance: its table, and in words what it means.
double draw_voice(Pages& pages, double y, const WaveResult& result) {
  const Columns columns = columns_of(pages);
  const double table =
      page_table(pages, {columns.left, y, columns.width, 0}, "How far a voice carries", voice_rows(result.figures, result.units));
  const double words = page_list(pages, {columns.right, y, columns.width, 0}, "In the open, without wind, ground or echo",
                                 {voice_words(result.figures, result.units)});
  return std::max(table, words) + 1;
}

/// What else is asked over a distance, a list over the whole width; nothing where nothing is.
double draw_distance(Pages& pages, double y, const WaveResult& result) {
  const Box whole{card_margin, y, pages.size().width - 2 * card_margin, 0};
  if (!result.figures.link_gains.empty())
    y = page_list(pages, whole, "Two facing dishes", {facing_words(result.scene, result.figures, result.units)}) + 1;
  if (result.figures.link) y = page_list(pages, whole, "The link", {link_words(result.figures, result.units)}) + 1;
  return y;
}

/// All below the pictures. Returns where it ends.
double draw_words(Pages& pages, double y, const WaveResult& result) {
  const Columns columns = columns_of(pages);
  y = draw_numbers(pages, y, result);
  if (result.figures.voice) y = draw_voice(pages, y, result);
  y = draw_distance(pages, y, result);
  const double place = page_list(pages, {columns.left, y, columns.width, 0}, "How to aim and place it", wave_place_items(result));
  const double why = page_list(pages, {columns.right, y, columns.width, 0}, "Why", wave_why_items(result));
  y = std::max(place, why) + 1;
  const double width = pages.size().width - 2 * card_margin;
  if (!result.figures.notes.empty()) y = page_list(pages, {card_margin, y, width, 0}, "Notes", result.figures.notes) + 1;
  return y + pages.paragraph({card_margin, y, width, 0}, wave_caution_line(result.figures.radio), card_bold(8));
}

void draw_card(Pages& pages, const WaveResult& result) {
  const double width = pages.size().width - 2 * card_margin, bottom = pages.size().height - card_margin;
  double y = page_title_block(pages, card_margin, wave_title_cells(result, "card"));
  y = draw_question(pages, y, result);
  const std::string foot = wave_settings_line(result.figures.convergence.points, result.figures.speed, result.digest);
  const double foot_height = pages.paragraph_height(width, foot, card_plain(6.5));
  // The pictures get what the words leave.
  Pages scratch(pages.size(), "");
  const double words_height = draw_words(scratch, 0, result);
  const double height = std::clamp(bottom - foot_height - 2 - words_height - 3 - y, least_picture, most_picture);
  draw_pictures(pages, y, height, result);
  draw_words(pages, y + height + 3, result);
  pages.paragraph({card_margin, bottom - foot_height, width, foot_height}, foot, card_plain(6.5));
}

}  // namespace

WaveCard wave_card(const WaveResult& result) {
  const std::string title = scene_title(result.scene, result.name);
  Pages pages(result.units == Units::si ? a4_page : letter_page, title + ": card");
  draw_card(pages, result);
  return {pages.pdf(), png_bytes(pages.pixels(0, dots_per_mm))};
}

}  // namespace dishwright
