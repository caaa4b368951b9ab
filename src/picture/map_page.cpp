// SPDX-License-Identifier: MIT
#include "picture/map_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "picture/canvas.h"
#include "picture/map_panel.h"
#include "picture/sheet.h"

namespace dishwright {

namespace {

constexpr Box maps_room{26, 170, 654, 611};
constexpr Box bar_room{690, 170, 124, 611};
constexpr Box words_room{836, 170, 336, 611};
constexpr Colour soft{84, 84, 88};

/// Where the small picture of a whole face stands, if one is needed.
enum class WholeAt { none, right, below, under_bar };

WholeAt whole_place(const MapPanel& panel, bool alone) {
  if (panel.view == panel.face) return WholeAt::none;
  const double aspect = panel.face.width() / panel.face.height();
  if (aspect > 3) return WholeAt::below;
  return alone && aspect > 1.0 / 3 ? WholeAt::under_bar : WholeAt::right;
}

/// Heights of the panels' rooms: each as tall as its view needs at full width, the tallest cut until all fit.
std::vector<double> panel_heights(const std::vector<MapPanel>& panels, const Box& room) {
  std::vector<double> heights;
  heights.reserve(panels.size());
  for (const MapPanel& panel : panels) {
    heights.push_back((room.width - panel_left) * panel.view.height() / panel.view.width() + panel_top + panel_bottom);
  }
  const auto total = [&](double cap) {
    double sum = 0;
    for (const double height : heights) sum += std::min(height, cap);
    return sum;
  };
  double cap = room.height;
  while (total(cap) > room.height && cap > 1) cap -= 1;
  for (double& height : heights) height = std::min(height, cap);
  return heights;
}

void draw_maps(Canvas& canvas, const MapPage& page) {
  const std::vector<double> heights = panel_heights(page.panels, maps_room);
  Box first;
  double y = maps_room.y, bar_height = bar_room.height;
  // A flat picture stands in the middle of its room.
  const double used = std::accumulate(heights.begin(), heights.end(), 0.0);
  y += std::max(0.0, (maps_room.height - used) / 3);

  for (std::size_t i = 0; i < page.panels.size(); ++i) {
    const MapPanel& panel = page.panels[i];
    Box room{maps_room.x, y, maps_room.width, heights[i]};
    const WholeAt place = whole_place(panel, page.panels.size() == 1);
    if (place == WholeAt::right) room.width -= 104;
    if (place == WholeAt::below) room.height -= 90;
    const Box map = draw_panel(canvas, panel, room, page.top);
    if (i == 0) first = map;
    if (place == WholeAt::right)
      draw_whole_face(canvas, panel, {std::min(map.right() + 34, room.right() + 14), map.y, 90, map.height}, page.top);
    if (place == WholeAt::below)
      draw_whole_face(canvas, panel, {map.x, map.bottom() + panel_bottom + 6, maps_room.right() - map.x, 84}, page.top);
    if (place == WholeAt::under_bar) {
      bar_height -= 190;
      draw_whole_face(canvas, panel, {bar_room.x + 8, bar_room.y + bar_height + 14, bar_room.width - 14, 160}, page.top);
    }
    y += heights[i];
  }
  draw_colour_bar(canvas, {bar_room.x, bar_room.y, bar_room.width, bar_height}, page.top, page.beam, page.unit);
  if (page.top > 0) return;
  TextStyle style;
  style.size = 22, style.bold = true, style.side = Side::middle, style.halo = true;
  canvas.text(first.x + first.width / 2, first.y + first.height / 2 - 14, page.empty, style);
}

/// Numbers, then the why; returns where they end.
double draw_numbers_and_why(Canvas& canvas, const MapPage& page) {
  double y = words_room.y;
  TextStyle head, label, value, plain;
  head.size = 16, head.bold = true;
  label.size = 14, label.colour = soft;
  value.size = 17, value.bold = true;
  plain.size = 15;
  for (const CardEntry& entry : page.numbers) {
    y += canvas.paragraph({words_room.x, y, words_room.width, 0}, entry.label, label) + 1;
    y += canvas.paragraph({words_room.x, y, words_room.width, 0}, entry.value, value) + 6;
  }
  if (page.why.empty()) return y;
  y += 4;
  canvas.line(words_room.x, y, words_room.right(), y, Pen{});
  y += 9;
  y += canvas.paragraph({words_room.x, y, words_room.width, 0}, "Why", head) + 3;
  for (const std::string& line : page.why) y += canvas.paragraph({words_room.x, y, words_room.width, 0}, line, plain) + 6;
  return y;
}

/// The ledger as bars: name and share above a bar on a scale of the whole. Left out if it does not fit.
void draw_ledger(Canvas& canvas, const MapPage& page, double y) {
  constexpr double step = 36;
  if (page.ledger.empty() || y + 40 + step * static_cast<double>(page.ledger.size()) > words_room.bottom()) return;
  TextStyle head, label;
  head.size = 16, head.bold = true;
  label.size = 14;
  y += 4;
  canvas.line(words_room.x, y, words_room.right(), y, Pen{});
  y += 9;
  canvas.text(words_room.x, y, page.ledger_title, head);
  y += 26;
  for (const CardShare& line : page.ledger) {
    label.side = Side::left, label.room = words_room.width - 80;
    canvas.text(words_room.x, y, line.label, label);
    label.side = Side::right, label.room = 0;
    canvas.text(words_room.right(), y, fmt::format("{:.1f} %", 100 * line.share), label);
    const Box bar{words_room.x + 0.5, std::round(y) + 19.5, words_room.width - 1, 9};
    canvas.fill({bar.x, bar.y, bar.width * std::clamp(line.share, 0.0, 1.0), bar.height}, soft);
    canvas.frame(bar, Pen{});
    y += step;
  }
}

void draw_words(Canvas& canvas, const MapPage& page) {
  canvas.line(words_room.x - 14, words_room.y - 12, words_room.x - 14, sheet_foot, Pen{});
  draw_ledger(canvas, page, draw_numbers_and_why(canvas, page));
}

}  // namespace

Pixels draw_map_page(const MapPage& page) {
  Canvas canvas(sheet_width, sheet_height);
  draw_sheet(canvas, {page.title_block, page.question, page.answer, page.settings});
  draw_maps(canvas, page);
  draw_words(canvas, page);
  return canvas.pixels();
}

}  // namespace dishwright
