// SPDX-License-Identifier: MIT
#include "picture/card_parts.h"

#include <fmt/format.h>

#include <algorithm>

namespace dishwright {

namespace {

constexpr Colour pale_ground{238, 238, 236}, label_ink{84, 84, 88};
constexpr double heading_type = 9, table_type = 7.5;                 // [points]
constexpr double heading_height = 5, item_gap = 0.8;                 // [mm]
constexpr double row_height = 3.7, least_gap = 1.5, most_gap = 5.0;  // of a table [mm]
constexpr double bar_row = 4.6, bar_room = 14;                       // of a bar beside its label [mm]
constexpr double stacked_row = 7.2;                                  // of a bar below its label [mm]

double draw_list(Pages& pages, const Box& box, const CardList& list, double scale) {
  const double size = list.type * scale, indent = list.numbered ? 2.4 * em(size) : 0;
  double y = box.y;
  for (std::size_t k = 0; k < list.items.size(); ++k) {
    if (list.numbered) pages.text({box.x, y + 0.95 * em(size)}, std::to_string(k + 1), card_bold(size));
    y += pages.paragraph({box.x + indent, y, box.width - indent, 0}, unbroken(list.items[k]), card_text(size)) +
         item_gap * (list.numbered ? 2.5 : 1);
  }
  return y;
}

double draw_entries(Pages& pages, const Box& box, const std::vector<CardEntry>& entries, double scale) {
  TextStyle label = card_text(7.9 * scale);
  label.colour = label_ink;
  double y = box.y;
  for (const CardEntry& entry : entries) {
    y += pages.paragraph({box.x, y, box.width, 0}, entry.label, label) + 0.2 * scale;
    y += pages.paragraph({box.x, y, box.width, 0}, entry.value, card_bold(9.6 * scale)) + 1.2 * scale;
  }
  return y;
}

/// Columns are as wide as they need; the type shrinks where the box is too narrow.
double draw_table(Pages& pages, const Box& box, const CardTable& table, double scale) {
  if (table.rows.empty()) return box.y;
  scale *= table.type / table_type;
  double size = table_type * scale;
  const auto style_of = [&](std::size_t row) { return row < table.titles ? card_bold(size) : card_text(size); };
  std::vector<double> widths(table.rows.front().size(), 0);
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    for (std::size_t c = 0; c < table.rows[r].size(); ++c)
      widths[c] = std::max(widths[c], pages.text_width(table.rows[r][c], style_of(r)));
  }
  double taken = 0;
  for (const double width : widths) taken += width;
  const double gaps = static_cast<double>(std::max<std::size_t>(1, widths.size() - 1));
  const double shrink = std::min(1.0, (box.width - gaps * least_gap) / taken);
  size *= shrink, taken *= shrink;
  const double spread = (box.width - taken) / gaps,
               gap = table.words ? std::max(spread, least_gap) : std::clamp(spread, least_gap, most_gap);
  double y = box.y;
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    TextStyle style = style_of(r);
    pages.text({box.x, y + 2.8 * scale}, table.rows[r].front(), style);
    if (!table.words) style.side = Side::right;
    double right = box.x + shrink * widths.front();
    for (std::size_t c = 1; c < table.rows[r].size(); ++c) {
      right += gap + shrink * widths[c];
      pages.text({table.words ? right - shrink * widths[c] : right, y + 2.8 * scale}, table.rows[r][c], style);
    }
    y += row_height * scale;
    if (r + 1 != table.titles) continue;
    pages.line({box.x, y}, {box.x + taken + gap * gaps, y}, {0.2, ink, Dash::solid});
    y += 0.6 * scale;
  }
  return y + item_gap;
}

void draw_bar(Pages& pages, const Box& bar, double share) {
  pages.fill(Box{bar.x, bar.y, bar.width * std::clamp(share, 0.0, 1.0), bar.height}, soft_ink);
  pages.frame(bar, {0.2, ink, Dash::solid});
}

/// Bars beside their labels where these are short, else below them.
double draw_shares(Pages& pages, const Box& box, const std::vector<CardShare>& shares, double scale) {
  const TextStyle style = card_text(table_type * scale);
  TextStyle number = style;
  number.side = Side::right;
  double label = 0;
  for (const CardShare& share : shares) label = std::max(label, pages.text_width(share.label, style) + 2);
  const bool beside = label < 0.55 * box.width;
  double y = box.y;
  for (const CardShare& share : shares) {
    TextStyle cut = style;
    cut.room = box.width - bar_room;
    pages.text({box.x, y + 3 * scale}, share.label, cut);
    pages.text({box.right(), y + 3 * scale}, fmt::format("{:.1f} %", 100 * share.share), number);
    if (beside) {
      draw_bar(pages, {box.x + label, y + 0.7 * scale, box.width - label - bar_room, 2.8 * scale}, share.share);
    } else {
      draw_bar(pages, {box.x + 0.1, y + 4 * scale, box.width - 0.2, 1.8 * scale}, share.share);
    }
    y += (beside ? bar_row : stacked_row) * scale;
  }
  return y;
}

}  // namespace

TextStyle card_text(double size) {
  TextStyle style;
  style.size = size;
  return style;
}

TextStyle card_bold(double size) {
  TextStyle style = card_text(size);
  style.bold = true;
  return style;
}

std::string unbroken(std::string text) {
  for (std::size_t at = text.find(" ± "); at != std::string::npos; at = text.find(" ± ", at + 1)) {
    text.replace(at, 4, "\u00a0±\u00a0");
    const std::size_t unit = text.find(' ', at + 6);
    if (unit != std::string::npos) text.replace(unit, 1, "\u00a0");
  }
  return text;
}

double draw_title_block(Pages& pages, const Box& box, const std::vector<CardEntry>& cells) {
  if (cells.empty()) return box.y;
  const double width = box.width / static_cast<double>(cells.size());
  double height = 0;
  for (const CardEntry& cell : cells)
    height = std::max(height, 6.2 + pages.paragraph_height(width - 3, cell.value, card_text(8.5)));
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const double x = box.x + width * static_cast<double>(k);
    pages.frame(Box{x, box.y, width, height}, {0.25, ink, Dash::solid});
    pages.text({x + 1.5, box.y + 3.4}, cells[k].label, card_text(6.5));
    pages.paragraph({x + 1.5, box.y + 4.6, width - 3, height}, cells[k].value, card_text(8.5));
  }
  return box.y + height;
}

double draw_block(Pages& pages, const Box& box, const CardBlock& block, double scale) {
  Box below = box;
  if (!block.heading.empty()) {
    pages.text({box.x, box.y + 3.2 * scale}, block.heading, card_bold(heading_type * scale));
    below.y += heading_height * scale;
  }
  if (const auto* list = std::get_if<CardList>(&block.body)) return draw_list(pages, below, *list, scale);
  if (const auto* table = std::get_if<CardTable>(&block.body)) return draw_table(pages, below, *table, scale);
  if (const auto* entries = std::get_if<std::vector<CardEntry>>(&block.body)) return draw_entries(pages, below, *entries, scale);
  return draw_shares(pages, below, std::get<std::vector<CardShare>>(block.body), scale);
}

double draw_verdicts(Pages& pages, const Box& box, const std::vector<CardVerdict>& rows) {
  const double label = 40;
  double y = box.y;
  for (const CardVerdict& row : rows) {
    const double height = std::max(6.0, pages.paragraph_height(box.width - label - 4, row.words, card_text(8.5)) + 2.2);
    const bool dark = row.ground == CardVerdict::Ground::dark;
    if (row.ground != CardVerdict::Ground::outline) pages.fill(Box{box.x, y, label, height}, dark ? ink : pale_ground);
    pages.frame(Box{box.x, y, label, height}, {0.25, ink, Dash::solid});
    pages.frame(Box{box.x, y, box.width, height}, {0.25, ink, Dash::solid});
    TextStyle style = card_bold(10);
    style.side = Side::middle;
    if (dark) style.colour = paper_white;
    pages.text({box.x + label / 2, y + height / 2 + 1.3}, row.verdict, style);
    pages.paragraph({box.x + label + 2, y + 1.1, box.width - label - 4, height}, row.words, card_text(8.5));
    y += height;
  }
  return y;
}

}  // namespace dishwright
