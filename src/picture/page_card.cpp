// SPDX-License-Identifier: MIT
#include "picture/page_card.h"

#include <algorithm>

namespace dishwright {

namespace {

constexpr Colour ink{29, 29, 31}, pale{238, 238, 236};
constexpr double heading_height = 5, item_gap = 0.8;                               // [mm]
constexpr double table_size = 7.5;                                                 // [pt]
constexpr double row_height = 3.7, least_column_gap = 1.5, most_column_gap = 5.0;  // [mm]

/// A number stays with its ± and unit.
std::string unbroken(std::string text) {
  for (std::size_t at = text.find(" ± "); at != std::string::npos; at = text.find(" ± ", at + 1)) {
    text.replace(at, 4, "\u00a0±\u00a0");
    const std::size_t unit = text.find(' ', at + 6);
    if (unit != std::string::npos) text.replace(unit, 1, "\u00a0");
  }
  return text;
}

void draw_heading(Pages& pages, const Box& box, const std::string& heading) {
  pages.text({box.x, box.y + 3.2}, heading, card_bold(9));
}

}  // namespace

PageText card_plain(double size) { return {size, false, ink, Side::left, 0, 1.15}; }
PageText card_bold(double size) { return {size, true, ink, Side::left, 0, 1.15}; }

double page_title_block(Pages& pages, double y, const std::vector<CardEntry>& cells) {
  const double width = (pages.size().width - 2 * card_margin) / static_cast<double>(cells.size());
  double height = 0;
  for (const CardEntry& cell : cells)
    height = std::max(height, 6.2 + pages.paragraph_height(width - 3, cell.value, card_plain(8.5)));
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const double x = card_margin + width * static_cast<double>(k);
    pages.frame(Box{x, y, width, height}, {0.25, ink, Dash::solid});
    pages.text({x + 1.5, y + 3.4}, cells[k].label, card_plain(6.5));
    pages.paragraph({x + 1.5, y + 4.6, width - 3, height}, cells[k].value, card_plain(8.5));
  }
  return y + height;
}

double page_list_height(const Pages& pages, double width, const std::vector<std::string>& items) {
  double height = heading_height;
  for (const std::string& item : items) height += pages.paragraph_height(width, unbroken(item), card_plain(8)) + item_gap;
  return height;
}

double page_list(Pages& pages, const Box& box, const std::string& heading, const std::vector<std::string>& items) {
  draw_heading(pages, box, heading);
  double y = box.y + heading_height;
  for (const std::string& item : items) y += pages.paragraph({box.x, y, box.width, 0}, unbroken(item), card_plain(8)) + item_gap;
  return y;
}

double page_table(Pages& pages, const Box& box, const std::string& heading, const std::vector<std::vector<std::string>>& rows,
                  std::size_t titles) {
  draw_heading(pages, box, heading);
  double size = table_size;
  const auto style_of = [&](std::size_t row) { return row < titles ? card_bold(size) : card_plain(size); };
  std::vector<double> widths(rows.front().size(), 0);
  for (std::size_t r = 0; r < rows.size(); ++r) {
    for (std::size_t c = 0; c < rows[r].size(); ++c) widths[c] = std::max(widths[c], pages.text_width(rows[r][c], style_of(r)));
  }
  double taken = 0;
  for (const double width : widths) taken += width;
  const double gaps = static_cast<double>(std::max<std::size_t>(1, widths.size() - 1));
  // Smaller type where the columns would not fit.
  const double shrink = std::min(1.0, (box.width - gaps * least_column_gap) / taken);
  size *= shrink, taken *= shrink;
  const double gap = std::clamp((box.width - taken) / gaps, least_column_gap, most_column_gap);
  double y = box.y + heading_height;
  for (std::size_t r = 0; r < rows.size(); ++r) {
    PageText style = style_of(r);
    pages.text({box.x, y + 2.8}, rows[r].front(), style);
    style.side = Side::right;
    double right = box.x + shrink * widths.front();
    for (std::size_t c = 1; c < rows[r].size(); ++c) pages.text({right += gap + shrink * widths[c], y + 2.8}, rows[r][c], style);
    y += row_height;
    if (r + 1 == titles) pages.line({box.x, y}, {box.x + taken + gap * gaps, y}, {0.2, ink, Dash::solid});
    if (r + 1 == titles) y += 0.6;
  }
  return y + item_gap;
}

double page_verdicts(Pages& pages, double y, const std::vector<CardVerdict>& rows) {
  const double width = pages.size().width - 2 * card_margin, label = 40;
  for (const CardVerdict& row : rows) {
    const double height = std::max(6.0, pages.paragraph_height(width - label - 4, row.words, card_plain(8.5)) + 2.2);
    const bool dark = row.ground == CardVerdict::Ground::dark;
    if (row.ground != CardVerdict::Ground::outline) pages.fill(Box{card_margin, y, label, height}, dark ? ink : pale);
    pages.frame(Box{card_margin, y, label, height}, {0.25, ink, Dash::solid});
    pages.frame(Box{card_margin, y, width, height}, {0.25, ink, Dash::solid});
    PageText style = card_bold(10);
    style.side = Side::middle;
    if (dark) style.colour = {255, 255, 255};
    pages.text({card_margin + label / 2, y + height / 2 + 1.3}, row.verdict, style);
    pages.paragraph({card_margin + label + 2, y + 1.1, width - label - 4, height}, row.words, card_plain(8.5));
    y += height;
  }
  return y;
}

}  // namespace dishwright
