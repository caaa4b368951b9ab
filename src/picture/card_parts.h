// SPDX-License-Identifier: MIT
// Parts of a work-card: title block, blocks of numbers and words, verdicts. Each is drawn from its top; lengths in millimetres.
#pragma once

#include <string>
#include <vector>

#include "picture/work_card.h"

namespace dishwright {

TextStyle card_text(double size);
TextStyle card_bold(double size);

/// A number stays with its ± and unit.
std::string unbroken(std::string text);

/// Cells in a row from the box's top, label above value; values wrap. Returns where it ends.
double draw_title_block(Pages& pages, const Box& box, const std::vector<CardEntry>& cells);

/// A heading and what stands under it, `scale` times its usual size. Returns where it ends.
double draw_block(Pages& pages, const Box& box, const CardBlock& block, double scale = 1);

/// Rows over the box's width, the verdict at the left. Returns where they end.
double draw_verdicts(Pages& pages, const Box& box, const std::vector<CardVerdict>& rows);

/// The two layouts of draw_card().
void draw_wide_card(Pages& pages, const WorkCard& card);
void draw_tall_card(Pages& pages, const WorkCard& card);

}  // namespace dishwright
