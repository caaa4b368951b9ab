// SPDX-License-Identifier: MIT
#include "picture/map_grid.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr double panel_gap = 1.1, strip_room = 2.9, strip_height = 0.75;  // [em]

struct Layout {
  int columns = 1, rows = 1;
  double room_width = 0, room_height = 0;
  double used_width = 0, used_height = 0;  // of a room, by the largest map with its axes
};

/// Columns and rows that leave the largest maps.
Layout layout_of(const MapGrid& grid, const std::vector<PanelRoom>& around, const Box& room, double gap, double below) {
  const int count = static_cast<int>(grid.panels.size());
  Layout best;
  double largest = -1;
  for (int columns = std::max(1, grid.columns); columns <= (grid.columns > 0 ? grid.columns : count); ++columns) {
    const int rows = (count + columns - 1) / columns;
    Layout layout{columns, rows, room.width / columns, room.height / rows};
    double smallest = 1e300;  // area of the smallest map [mm²]
    for (std::size_t k = 0; k < grid.panels.size(); ++k) {
      const PanelRoom& own = around[k];
      const double aspect = grid.panels[k].view.height() / grid.panels[k].view.width();
      const double across =
          std::min(layout.room_width - own.left - gap, (layout.room_height - own.above - own.below - below) / aspect);
      smallest = std::min(smallest, across > 0 ? across * across * aspect : 0.0);
      layout.used_width = std::max(layout.used_width, std::min(layout.room_width, across + own.left + gap));
      layout.used_height =
          std::max(layout.used_height, std::min(layout.room_height, across * aspect + own.above + own.below + below));
    }
    if (smallest > largest * 1.001) largest = smallest, best = layout;
  }
  return best;
}

/// White to the darkest ink of this map, with its value.
void draw_strip(Pages& pages, const Box& map, double below, double top, const std::string& unit, double type) {
  const Box strip{map.x, map.bottom() + below + 0.15 * em(type), map.width, strip_height * em(type)};
  if (top > 0) draw_inks(pages, strip);
  pages.frame(strip, {0.022 * type, ink, Dash::solid});
  const double base = strip.bottom() + 1.15 * em(type);
  pages.text({strip.x, base}, "0", picture_text(0.93 * type));
  const int decimals = top < 10 ? 2 : top < 100 ? 1 : 0;
  pages.text({strip.right(), base}, top > 0 ? fmt::format("{:.{}f} {}", top, decimals, unit) : "no light",
             picture_text(0.93 * type, Side::right));
}

}  // namespace

void draw_map_grid(Pages& pages, const Box& box, const MapGrid& grid) {
  if (grid.panels.empty()) return;
  const double type = std::min(8.5, picture_type(box)), unit = em(type), gap = panel_gap * unit;
  const bool common = grid.tops.size() == 1;
  ScaleBar scale;
  scale.to = grid.tops[0], scale.beam = grid.beam, scale.unit = grid.unit;
  const double bar_width = common ? scale_bar_width(pages, scale, type) : 0;
  const Box room{box.x, box.y, box.width - (common ? bar_width + 2 * gap : 0), box.height};
  const double below = common ? 0 : strip_room * unit;
  std::vector<PanelRoom> around;
  double most_left = 0;
  for (const MapPanel& panel : grid.panels) {
    around.push_back(panel_room(pages, panel, type));
    most_left = std::max(most_left, around.back().left);
  }
  for (PanelRoom& own : around) own.left = most_left;  // maps stand in line
  const Layout layout = layout_of(grid, around, room, gap, below);
  // Maps that do not fill their rooms move together, with a little more air, into the middle.
  const double wide = grid.columns > 0 ? layout.room_width : std::min(layout.room_width, layout.used_width + 2.7 * unit),
               high = std::min(layout.room_height, layout.used_height + 1.6 * unit);
  const double left = room.x + (room.width - layout.columns * wide) / 2, up = room.y + (room.height - layout.rows * high) / 2;
  for (std::size_t i = 0; i < grid.panels.size(); ++i) {
    const int column = static_cast<int>(i) % layout.columns, row = static_cast<int>(i) / layout.columns;
    const Box cell{left + column * wide, up + row * high, wide - gap, high - below};
    const double top = common ? grid.tops[0] : grid.tops[i];
    const Box map = draw_panel(pages, cell, grid.panels[i], top, type, around[i]);
    if (!common) draw_strip(pages, map, around[i].below, top, grid.unit, type);
  }
  if (!common) return;
  const double x = box.right() - bar_width;
  pages.line({x - gap, box.y}, {x - gap, box.bottom()}, {0.022 * type, ink, Dash::solid});
  draw_scale_bar(pages, {x, box.y, bar_width, box.height - unit}, scale, type);
}

}  // namespace dishwright
