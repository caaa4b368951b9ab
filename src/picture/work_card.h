// SPDX-License-Identifier: MIT
// The work-card that all pictures and printed sheets stand on: what it says, as plain data, and how it is drawn on a sheet of any
// size.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "picture/heat_chart.h"
#include "picture/line_chart.h"
#include "picture/map_grid.h"
#include "picture/map_panel.h"
#include "picture/pages.h"

namespace dishwright {

struct CardEntry {
  std::string label, value;
};

/// A share of the whole, drawn as a bar.
struct CardShare {
  std::string label;
  double share = 0;  ///< 0 … 1
};

/// Rows of cells, the first `titles` of them in bold; the first column flush left, the others right.
struct CardTable {
  std::vector<std::vector<std::string>> rows;
  std::size_t titles = 1;
  double type = 7.5;   ///< [points]
  bool words = false;  ///< all columns flush left, and the table over the whole width
};

/// Items, each from a new line.
struct CardList {
  std::vector<std::string> items;
  bool numbered = false;
  double type = 8;  ///< [points]
};

/// A verdict and the words behind it. Outline, pale or dark ground: it reads in black and white.
struct CardVerdict {
  enum class Ground { outline, pale, dark };
  std::string verdict, words;
  Ground ground = Ground::outline;
};

/// Numbers or words under a heading.
struct CardBlock {
  std::string heading;
  std::variant<CardList, CardTable, std::vector<CardEntry>, std::vector<CardShare>> body;
  bool wide = false;   ///< over the whole width of a tall sheet; else two stand side by side
  bool spare = false;  ///< left out where there is no room
};

/// A picture that its owner draws.
struct Drawing {
  std::function<void(Pages&, const Box&)> draw;
};

struct CardPicture {
  std::variant<LineChart, HeatChart, MapPicture, MapGrid, Drawing> what;
  std::string heading = {};  ///< above it; may be empty
  double share = 0.5;        ///< of the width of a tall sheet
  double height = 62;        ///< wanted on a tall sheet, shrunk by half at most [mm]; 0: all that the words leave
};

struct WorkCard {
  std::string name;              ///< of the document
  std::vector<CardEntry> title;  ///< about 4 cells, of decreasing importance
  std::string question, answer;
  std::vector<CardVerdict> verdicts;
  std::vector<CardPicture> pictures;
  std::optional<CardPicture> strip;  ///< low and wide, below the pictures
  std::vector<CardBlock> numbers;
  std::vector<std::string> why;
  std::vector<std::string> notes;     ///< how the numbers are meant
  std::vector<std::string> cautions;  ///< what can hurt
  std::vector<std::string> settings;  ///< how it was reckoned: program, seed, scene
};

/// Draws one picture with its heading, as large as the box allows.
void draw_picture(Pages& pages, const Box& box, const CardPicture& picture);

/// Draws the card from the top of the last sheet. A sheet wider than high has the pictures at the left, words beside them, notes
/// at the foot; a higher one has pictures above words, and goes on to a next sheet where the words need it.
void draw_card(Pages& pages, const WorkCard& card);
/// A document of that card alone.
Pages card_pages(const WorkCard& card, PageSize size);

}  // namespace dishwright
