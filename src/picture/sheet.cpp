// SPDX-License-Identifier: MIT
#include "picture/sheet.h"

#include <array>
#include <cmath>

namespace dishwright {

namespace {

constexpr double title_height = 62;
constexpr Colour soft{84, 84, 88};

void draw_title_block(Canvas& canvas, const SheetWords& page) {
  Pen rule;
  rule.width = 1.5;
  static constexpr std::array<double, 4> shares{0.33, 0.22, 0.31, 0.14};
  double x = sheet_frame.x;
  for (std::size_t i = 0; i < page.title_block.size() && i < shares.size(); ++i) {
    const double width = sheet_frame.width * shares[i];
    if (i > 0) canvas.line(x, sheet_frame.y, x, sheet_frame.y + title_height, rule);
    TextStyle label;
    label.size = 13, label.colour = soft;
    canvas.text(x + 12, sheet_frame.y + 7, page.title_block[i].label, label);
    TextStyle value;
    value.size = 19, value.bold = true, value.room = width - 24;
    canvas.text(x + 12, sheet_frame.y + 27, page.title_block[i].value, value);
    x += width;
  }
  canvas.line(sheet_frame.x, sheet_frame.y + title_height, sheet_frame.right(), sheet_frame.y + title_height, rule);
}

void draw_question(Canvas& canvas, const SheetWords& page) {
  TextStyle style;
  style.size = 19, style.room = sheet_frame.width - 40;
  canvas.text(30, 84, page.question, style);
  style.bold = true;
  if (page.long_answer) {
    // The largest letters with which it fits.
    style.room = 0;
    for (const double size : {21.0, 18.0, 15.0, 13.0}) {
      style.size = size;
      const double lines = std::ceil(canvas.text_width(page.answer, style) / (0.96 * (sheet_frame.width - 40)));
      if (lines * 1.36 * size <= 60) break;
    }
    canvas.clip({30, 106, sheet_frame.width - 36, 62});
    canvas.paragraph({30, 108, sheet_frame.width - 40, 0}, page.answer, style);
    canvas.drop_clip();
    return;
  }
  style.size = 31;
  canvas.text(30, 108, page.answer, style);
}

void draw_foot(Canvas& canvas, const SheetWords& page) {
  Pen rule;
  rule.width = 1.5;
  canvas.line(sheet_frame.x, sheet_foot, sheet_frame.right(), sheet_foot, rule);
  TextStyle style;
  style.size = 13, style.colour = soft;
  canvas.clip({sheet_frame.x, sheet_foot, sheet_frame.width, sheet_frame.bottom() - sheet_foot});
  double y = sheet_foot + 6;
  for (const std::string& line : page.settings) y += canvas.paragraph({30, y, sheet_frame.width - 36, 0}, line, style);
  canvas.drop_clip();
}

}  // namespace

void draw_sheet(Canvas& canvas, const SheetWords& words) {
  Pen border;
  border.width = 2.5;
  canvas.frame(sheet_frame, border);
  draw_title_block(canvas, words);
  draw_question(canvas, words);
  draw_foot(canvas, words);
}

}  // namespace dishwright
