// SPDX-License-Identifier: MIT
// The work-card that every picture stands on: frame, title block, the question with its answer, the settings at the foot.
#pragma once

#include <string>
#include <vector>

#include "picture/canvas.h"

namespace dishwright {

struct CardEntry {
  std::string label, value;
};

struct SheetWords {
  std::vector<CardEntry> title_block;  ///< 4 cells, of decreasing importance
  std::string question, answer;
  std::vector<std::string> settings;  ///< at the foot, a line each
  bool long_answer = false;           ///< a sentence over two lines instead of a headline
};

constexpr int sheet_width = 1200, sheet_height = 900;  ///< [px]
constexpr Box sheet_frame{12.5, 12.5, 1175, 875};
/// Between the answer and the foot: room for the picture itself.
constexpr Box sheet_room{26, 170, 1148, 611};
constexpr double sheet_foot = 793;

void draw_sheet(Canvas& canvas, const SheetWords& words);

/// What `draw` puts on a sheet, as pixels.
template <class Draw>
Pixels sheet_pixels(const Draw& draw) {
  Canvas canvas(sheet_width, sheet_height);
  draw(canvas);
  return canvas.pixels();
}
/// The same as an SVG file, the sheet's question and answer as title and description.
template <class Draw>
std::string sheet_svg(const SheetWords& words, const Draw& draw) {
  Canvas canvas(sheet_width, sheet_height, SheetKind::drawing);
  draw(canvas);
  return canvas.svg(words.question, words.answer);
}

}  // namespace dishwright
