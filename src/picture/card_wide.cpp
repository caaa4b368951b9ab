// SPDX-License-Identifier: MIT
// A work-card on a sheet wider than high: title block, question and answer, pictures with the words beside them, notes at the
// foot.
#include <algorithm>
#include <array>

#include "picture/card_parts.h"

namespace dishwright {

namespace {

constexpr Colour foot_ink{84, 84, 88};
constexpr double edge = 2.5, side = 6;                     // of the frame, of what stands in it [mm]
constexpr double title_height = 12.4, head_height = 31.5;  // down to the pictures' room [mm]
constexpr double strip_height = 47;                        // [mm]
constexpr double foot_height = 18.9, words_width = 67.2;   // [mm]
constexpr std::array<double, 4> title_shares{0.33, 0.22, 0.31, 0.14};
const Pen rule{0.3, ink, Dash::solid}, thin{0.2, ink, Dash::solid};

struct Sheet {
  Box frame, room;
  double foot;  // where it begins
};

Sheet sheet_of(const Pages& pages) {
  Sheet sheet;
  sheet.frame = {edge, edge, pages.size().width - 2 * edge, pages.size().height - 2 * edge};
  sheet.foot = sheet.frame.bottom() - foot_height;
  const double top = edge + head_height;
  sheet.room = {edge + 2.7, top, sheet.frame.width - 5.4, sheet.foot - top - 2.4};
  return sheet;
}

void draw_cells(Pages& pages, const Box& frame, const std::vector<CardEntry>& cells) {
  double x = frame.x;
  for (std::size_t i = 0; i < cells.size() && i < title_shares.size(); ++i) {
    const double width = frame.width * title_shares[i];
    if (i > 0) pages.line({x, frame.y}, {x, frame.y + title_height}, rule);
    TextStyle label = card_text(7.4);
    label.colour = foot_ink, label.room = width - 4.8;
    pages.text({x + 2.4, frame.y + 3.8}, cells[i].label, label);
    TextStyle value = card_bold(10.8);
    value.room = width - 4.8;
    pages.text({x + 2.4, frame.y + 8.9}, cells[i].value, value);
    x += width;
  }
  pages.line({frame.x, frame.y + title_height}, {frame.right(), frame.y + title_height}, rule);
}

/// The answer as a headline, or in the largest type with which it fits.
void draw_answer(Pages& pages, const Box& box, const std::string& words) {
  const std::string answer = unbroken(words);
  TextStyle style = card_bold(17.6);
  if (pages.text_width(answer, style) <= box.width) {
    pages.text({box.x, box.y + 6.1}, answer, style);
    return;
  }
  for (const double size : {11.9, 10.2, 8.5, 7.4, 6.4, 5.5}) {
    style.size = size;
    if (pages.paragraph_height(box.width, answer, style) <= box.height) break;
  }
  pages.clip(box);
  pages.paragraph({box.x, box.y + 0.2, box.width, 0}, answer, style);
  pages.drop_clip();
}

void draw_foot(Pages& pages, const Sheet& sheet, const WorkCard& card) {
  pages.line({sheet.frame.x, sheet.foot}, {sheet.frame.right(), sheet.foot}, rule);
  std::vector<std::string> lines = card.notes;
  lines.insert(lines.end(), card.cautions.begin(), card.cautions.end());
  lines.insert(lines.end(), card.settings.begin(), card.settings.end());
  TextStyle style = card_text(7.4);
  style.colour = foot_ink;
  const Box room{side, sheet.foot + 1.2, sheet.frame.right() - 2 * side + edge, foot_height - 1.6};
  for (const double size : {7.4, 6.8, 6.2, 5.6}) {
    style.size = size;
    double height = 0;
    for (const std::string& line : lines) height += pages.paragraph_height(room.width, line, style);
    if (height <= room.height) break;
  }
  pages.clip(room);
  double y = room.y;
  for (const std::string& line : lines) y += pages.paragraph({room.x, y, room.width, 0}, line, style);
  pages.drop_clip();
}

/// Numbers, then the why. Returns where they end.
double draw_numbers_and_why(Pages& pages, const Box& box, const WorkCard& card, double scale) {
  double y = box.y;
  for (const CardBlock& block : card.numbers) {
    if (!block.spare) y = draw_block(pages, {box.x, y, box.width, 0}, block, scale) + 0.6;
  }
  if (card.why.empty()) return y;
  pages.line({box.x, y}, {box.right(), y}, thin);
  return draw_block(pages, {box.x, y + 1.6, box.width, 0}, {"Why", CardList{card.why, false, 8.5}}, scale);
}

/// The column beside the pictures; its type shrinks until all fits. Spare blocks come where room is left.
void draw_words(Pages& pages, const Box& box, const WorkCard& card) {
  double scale = 1, end = 0;
  for (const double step : {1.0, 0.9, 0.8, 0.7, 0.6, 0.5}) {
    Pages scratch(pages.size(), "");
    scale = step, end = draw_numbers_and_why(scratch, box, card, scale);
    if (end <= box.bottom()) break;
  }
  draw_numbers_and_why(pages, box, card, scale);
  for (const CardBlock& block : card.numbers) {
    if (!block.spare) continue;
    const Box below{box.x, end + 2.4, box.width, 0};
    Pages scratch(pages.size(), "");
    if (draw_block(scratch, below, block, scale) > box.bottom()) continue;
    pages.line({box.x, end + 0.8}, {box.right(), end + 0.8}, thin);
    end = draw_block(pages, below, block, scale);
  }
}

}  // namespace

void draw_wide_card(Pages& pages, const WorkCard& card) {
  const Sheet sheet = sheet_of(pages);
  pages.frame(sheet.frame, {0.5, ink, Dash::solid});
  draw_cells(pages, sheet.frame, card.title);
  const double inside = sheet.frame.width - 7;
  TextStyle question = card_text(10.8);
  question.room = inside;
  pages.text({side, edge + title_height + 5.4}, card.question, question);
  draw_answer(pages, {side, edge + title_height + 6.7, inside, head_height - title_height - 7.1}, card.answer);
  draw_foot(pages, sheet, card);
  Box room = sheet.room;
  if (!card.numbers.empty() || !card.why.empty()) {
    const double x = room.right() - words_width;
    pages.line({x - 2.8, room.y - 1.2}, {x - 2.8, sheet.foot}, thin);
    draw_words(pages, {x, room.y, words_width - 1, room.height}, card);
    room.width -= words_width + 5.6;
  }
  if (card.strip) {
    const Box strip{room.x, room.bottom() - strip_height, room.width, strip_height};
    pages.line({strip.x, strip.y - 1.6}, {strip.right() + 2.8, strip.y - 1.6}, thin);
    draw_picture(pages, strip, *card.strip);
    room.height -= strip_height + 3.2;
  }
  const double each = room.width / static_cast<double>(std::max<std::size_t>(1, card.pictures.size()));
  for (std::size_t k = 0; k < card.pictures.size(); ++k)
    draw_picture(pages,
                 {room.x + each * static_cast<double>(k), room.y, each - (k + 1 < card.pictures.size() ? 4 : 0), room.height},
                 card.pictures[k]);
}

}  // namespace dishwright
