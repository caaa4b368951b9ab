// SPDX-License-Identifier: MIT
#include "picture/map_grid.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "picture/canvas.h"
#include "picture/map_panel.h"

namespace dishwright {

namespace {

constexpr double bar_width = 128, strip_height = 44, gap = 16;

struct Layout {
  int columns = 1, rows = 1;
  double room_width = 0, room_height = 0;
  double used_width = 0, used_height = 0;  // of a room, by the largest map with its axes
};

/// Columns and rows that leave the largest maps.
Layout layout_of(const MapGrid& grid, double width, double height, double below) {
  const int count = static_cast<int>(grid.panels.size());
  Layout best;
  double largest = -1;
  for (int columns = std::max(1, grid.columns); columns <= (grid.columns > 0 ? grid.columns : count); ++columns) {
    const int rows = (count + columns - 1) / columns;
    Layout layout{columns, rows, width / columns, height / rows};
    double smallest = 1e300;  // area of the smallest map [px²]
    for (const MapPanel& panel : grid.panels) {
      const double aspect = panel.view.height() / panel.view.width();
      const double across =
          std::min(layout.room_width - panel_left - gap, (layout.room_height - panel_top - panel_bottom - below) / aspect);
      smallest = std::min(smallest, across > 0 ? across * across * aspect : 0.0);
      layout.used_width = std::max(layout.used_width, std::min(layout.room_width, across + panel_left + gap));
      layout.used_height =
          std::max(layout.used_height, std::min(layout.room_height, across * aspect + panel_top + panel_bottom + below));
    }
    if (smallest > largest * 1.001) largest = smallest, best = layout;
  }
  return best;
}

/// White to the darkest ink of this map, with its value.
void draw_strip(Canvas& canvas, const Box& map, double top, const std::string& unit) {
  const Box strip{map.x, std::round(map.bottom() + panel_bottom + 2), map.width, 11};
  if (top > 0)
    canvas.dots(strip, [&](double x, double) { return std::optional<Colour>(ink_colour((x - strip.x) / strip.width)); });
  canvas.frame({strip.x - 0.5, strip.y - 0.5, strip.width + 1, strip.height + 1}, Pen{});
  TextStyle style;
  style.size = 14;
  canvas.text(strip.x, strip.bottom() + 3, "0", style);
  style.side = Side::right;
  canvas.text(strip.right(), strip.bottom() + 3,
              top > 0 ? fmt::format("{:.{}f} {}", top,
                                    top < 10    ? 2
                                    : top < 100 ? 1
                                                : 0,
                                    unit)
                      : "no light",
              style);
}

}  // namespace

Pixels draw_map_grid(const MapGrid& grid) {
  Canvas canvas(sheet_width, sheet_height);
  draw_sheet(canvas, grid.words);
  const bool common = grid.tops.size() == 1;
  const double width = sheet_room.width - (common ? bar_width + gap : 0), below = common ? 0 : strip_height;
  const Layout layout = layout_of(grid, width, sheet_room.height, below);
  // Maps that do not fill their rooms move together, with a little more air, into the middle.
  const double wide = grid.columns > 0 ? layout.room_width : std::min(layout.room_width, layout.used_width + 40),
               high = std::min(layout.room_height, layout.used_height + 24);
  const double left = sheet_room.x + (width - layout.columns * wide) / 2,
               up = sheet_room.y + (sheet_room.height - layout.rows * high) / 2;
  for (std::size_t i = 0; i < grid.panels.size(); ++i) {
    const int column = static_cast<int>(i) % layout.columns, row = static_cast<int>(i) / layout.columns;
    const Box room{left + column * wide, up + row * high, wide - gap, high - below};
    const double top = common ? grid.tops[0] : grid.tops[i];
    const Box map = draw_panel(canvas, grid.panels[i], room, top);
    if (!common) draw_strip(canvas, map, top, grid.unit);
  }
  if (common) {
    canvas.line(sheet_room.right() - bar_width - 6, sheet_room.y - 6, sheet_room.right() - bar_width - 6, sheet_foot, Pen{});
    draw_colour_bar(canvas, {sheet_room.right() - bar_width, sheet_room.y, bar_width, sheet_room.height}, grid.tops[0], grid.beam,
                    grid.unit);
  }
  return canvas.pixels();
}

}  // namespace dishwright
