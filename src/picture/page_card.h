// SPDX-License-Identifier: MIT
// Parts of a printed work-card: its type, title block, lists and tables. Each is drawn from its top; lengths in millimetres.
#pragma once

#include <string>
#include <vector>

#include "picture/page.h"
#include "picture/sheet.h"

namespace dishwright {

constexpr double card_margin = 12, card_column_gap = 6;  ///< [mm]

PageText card_plain(double size);
PageText card_bold(double size);

/// Cells in a row over the sheet's width, label above value. Returns where it ends.
double page_title_block(Pages& pages, double y, const std::vector<CardEntry>& cells);

/// A heading and its items, each from a new line. A number stays with its ± and unit. Returns where it ends.
double page_list(Pages& pages, const Box& box, const std::string& heading, const std::vector<std::string>& items);
double page_list_height(const Pages& pages, double width, const std::vector<std::string>& items);

/// Rows of cells below a heading, the first `titles` of them in bold; the first column flush left, the others right. Columns are as
/// wide as they need; the type shrinks where the box is too narrow. Returns where it ends.
double page_table(Pages& pages, const Box& box, const std::string& heading, const std::vector<std::vector<std::string>>& rows,
                  std::size_t titles = 1);

/// A verdict and the words behind it. Outline, pale or dark ground: it reads in black and white.
struct CardVerdict {
  enum class Ground { outline, pale, dark };
  std::string verdict, words;
  Ground ground = Ground::outline;
};
/// Rows over the sheet's width, the verdict at the left. Returns where they end.
double page_verdicts(Pages& pages, double y, const std::vector<CardVerdict>& rows);

}  // namespace dishwright
