// SPDX-License-Identifier: MIT
#include "picture/map_panel.h"

#include <algorithm>
#include <cmath>

#include "picture/ticks.h"

namespace dishwright {

namespace {

constexpr double tick_text = 15, label_text = 16;
constexpr Colour soft{96, 96, 100};

/// Map units → pixels.
struct Scale {
  Box map;
  MapWindow view;
  double x(double value) const { return map.x + (value - view.x_from) / view.width() * map.width; }
  double y(double value) const { return map.bottom() - (value - view.y_from) / view.height() * map.height; }
  double per_unit() const { return map.width / view.width(); }
};

/// The largest box of the window's aspect within the room, in whole pixels, at the top left.
Box fit(const MapWindow& window, const Box& room) {
  const double scale = std::min(room.width / window.width(), room.height / window.height());
  return {std::round(room.x), std::round(room.y), std::max(2.0, std::floor(scale * window.width())),
          std::max(2.0, std::floor(scale * window.height()))};
}

bool bin_inside(const MapPanel& panel, int column, int row) {
  if (column < 0 || row < 0 || column >= panel.columns || row >= panel.rows) return false;
  if (!panel.round) return true;
  const double u = (column + 0.5) / panel.columns * 2 - 1, v = (row + 0.5) / panel.rows * 2 - 1;
  return u * u + v * v <= 1;
}

void draw_values(Canvas& canvas, const MapPanel& panel, const Scale& scale, double top) {
  if (top <= 0) return;
  const double per_x = scale.view.width() / scale.map.width, per_y = scale.view.height() / scale.map.height;
  canvas.dots(scale.map, [&](double px, double py) -> std::optional<Colour> {
    const double value =
        map_value(panel, scale.view.x_from + (px - scale.map.x) * per_x, scale.view.y_to - (py - scale.map.y) * per_y);
    if (value < 0) return std::nullopt;
    return ink_colour(value / top);
  });
}

void draw_outline(Canvas& canvas, const MapPanel& panel, const Scale& scale, double width) {
  Pen pen;
  pen.width = width;
  const MapWindow& f = panel.face;
  canvas.clip({scale.map.x - 1, scale.map.y - 1, scale.map.width + 2, scale.map.height + 2});
  if (panel.round) {
    canvas.circle(scale.x((f.x_from + f.x_to) / 2), scale.y((f.y_from + f.y_to) / 2), scale.per_unit() * f.width() / 2, pen);
  } else {
    canvas.frame({scale.x(f.x_from), scale.y(f.y_to), scale.x(f.x_to) - scale.x(f.x_from), scale.y(f.y_from) - scale.y(f.y_to)},
                 pen);
  }
  canvas.drop_clip();
}

void draw_axes(Canvas& canvas, const MapPanel& panel, const Scale& scale) {
  Pen pen;
  pen.colour = soft;
  const Box& map = scale.map;
  canvas.frame({map.x - 0.5, map.y - 0.5, map.width + 1, map.height + 1}, pen);
  TextStyle style;
  style.size = tick_text, style.side = Side::middle;
  // About 64 px from number to number; three at least where they fit.
  const int across = std::max(map.width < 150 ? 2 : 3, static_cast<int>(map.width / 64));
  for (const Tick& tick : round_ticks(panel.view.x_from, panel.view.x_to, across)) {
    const double x = scale.x(tick.value);
    canvas.line(x, map.bottom(), x, map.bottom() + 6, pen);
    canvas.text(x, map.bottom() + 7, tick.label, style);
  }
  style.side = Side::right;
  for (const Tick& tick : round_ticks(panel.view.y_from, panel.view.y_to, std::max(2, static_cast<int>(map.height / 64)))) {
    const double y = scale.y(tick.value);
    canvas.line(map.x - 6, y, map.x, y, pen);
    canvas.text(map.x - 9, y - 9, tick.label, style);
  }
  style.side = Side::middle, style.size = label_text;
  canvas.text(map.x + map.width / 2, map.bottom() + 27, panel.x_label, style);
  style.upward = true;
  canvas.text(map.x - panel_left + 2, map.y + map.height / 2, panel.y_label, style);
}

Pen mark_pen(MarkLine line) {
  Pen pen;
  pen.width = 2, pen.halo = true, pen.dash = line == MarkLine::solid ? Dash::solid : Dash::dashed;
  return pen;
}

TextStyle mark_style() {
  TextStyle style;
  style.size = 16, style.bold = true, style.side = Side::middle, style.halo = true;
  return style;
}

void draw_circles(Canvas& canvas, const MapPanel& panel, const Scale& scale) {
  for (const MapCircle& circle : panel.circles) {
    const double radius = scale.per_unit() * circle.width / 2;
    canvas.clip(scale.map);
    canvas.circle(scale.x(circle.x), scale.y(circle.y), radius, mark_pen(circle.line));
    canvas.drop_clip();
  }
  // Solid circles are named above, dashed ones below, so that the words of a small and a large one keep apart.
  for (const MapCircle& circle : panel.circles) {
    const double radius = scale.per_unit() * circle.width / 2;
    const double y = circle.line == MarkLine::solid ? scale.y(circle.y) - radius - 24 : scale.y(circle.y) + radius + 3;
    canvas.text(scale.x(circle.x), std::clamp(y, scale.map.y + 2, scale.map.bottom() - 22), circle.label, mark_style());
  }
}

void draw_bands(Canvas& canvas, const MapPanel& panel, const Scale& scale) {
  canvas.clip(scale.map);
  for (const MapBand& band : panel.bands) {
    for (const double edge : {band.from, band.to})
      canvas.line(scale.x(edge), scale.map.y, scale.x(edge), scale.map.bottom(), mark_pen(band.line));
  }
  canvas.drop_clip();
  // The name stands beside the right line, or the left one where that is out of sight; each a step lower than the one before.
  double y = scale.map.y + 10;
  for (const MapBand& band : panel.bands) {
    const double right = scale.x(band.to) + 32, left = scale.x(band.from) - 32;
    const double x = right < scale.map.right() - 28 || left < scale.map.x + 28 ? right : left;
    canvas.text(std::clamp(x, scale.map.x + 28, scale.map.right() - 28), y, band.label, mark_style());
    y += 28;
  }
}

}  // namespace

double map_value(const MapPanel& panel, double x, double y) {
  const MapWindow& f = panel.face;
  const double u = (x - f.x_from) / f.width(), v = (y - f.y_from) / f.height();
  if (!(u >= 0 && u <= 1 && v >= 0 && v <= 1)) return -1;
  if (panel.round && (2 * u - 1) * (2 * u - 1) + (2 * v - 1) * (2 * v - 1) > 1) return -1;
  const double column = u * panel.columns - 0.5, row = v * panel.rows - 0.5;
  const int c = static_cast<int>(std::floor(column)), r = static_cast<int>(std::floor(row));
  double sum = 0, weights = 0;
  for (int j = 0; j < 2; ++j) {
    for (int i = 0; i < 2; ++i) {
      if (!bin_inside(panel, c + i, r + j)) continue;
      const double weight = (i == 0 ? c + 1 - column : column - c) * (j == 0 ? r + 1 - row : row - r);
      sum += weight * panel.values[static_cast<std::size_t>(r + j) * static_cast<std::size_t>(panel.columns) +
                                   static_cast<std::size_t>(c + i)];
      weights += weight;
    }
  }
  return weights > 1e-9 ? sum / weights : 0;
}

Box draw_panel(Canvas& canvas, const MapPanel& panel, const Box& room, double top) {
  const Box inner{room.x + panel_left, room.y + panel_top, room.width - panel_left, room.height - panel_top - panel_bottom};
  const Scale scale{fit(panel.view, inner), panel.view};
  TextStyle heading;
  heading.size = label_text, heading.bold = true, heading.room = room.width - panel_left;
  canvas.text(scale.map.x, room.y, panel.heading, heading);
  draw_values(canvas, panel, scale, top);
  draw_outline(canvas, panel, scale, 1.5);
  draw_axes(canvas, panel, scale);
  draw_bands(canvas, panel, scale);
  draw_circles(canvas, panel, scale);
  return scale.map;
}

void draw_whole_face(Canvas& canvas, const MapPanel& panel, const Box& room, double top) {
  TextStyle style;
  style.size = 14, style.colour = soft;
  const double caption = canvas.paragraph({room.x, room.y, room.width, 0}, panel.whole_name, style) + 4;
  const Scale scale{fit(panel.face, {room.x + 1, room.y + caption, room.width - 2, room.height - caption - 2}), panel.face};
  draw_values(canvas, panel, scale, top);
  draw_outline(canvas, panel, scale, 1.2);
  Pen pen;
  pen.width = 1.6, pen.halo = true;
  canvas.frame({scale.x(panel.view.x_from), scale.y(panel.view.y_to), scale.per_unit() * panel.view.width(),
                scale.y(panel.view.y_from) - scale.y(panel.view.y_to)},
               pen);
}

void draw_colour_bar(Canvas& canvas, const Box& room, double top, double beam, const std::string& unit) {
  const Box bar{std::round(room.x + 48), std::round(room.y + panel_top), 26, std::round(room.height - panel_top - 26)};
  canvas.dots(bar, [&](double, double y) { return std::optional<Colour>(ink_colour((bar.bottom() - y) / bar.height)); });
  Pen pen;
  canvas.frame({bar.x - 0.5, bar.y - 0.5, bar.width + 1, bar.height + 1}, pen);
  TextStyle style;
  style.size = tick_text, style.bold = true, style.side = Side::right;
  canvas.text(bar.x + 4, room.y + 2, unit, style);
  style.side = Side::left;
  if (beam > 0) canvas.text(bar.right() - 10, room.y + 2, " suns", style);
  style.bold = false;
  if (top <= 0) {
    canvas.text(bar.right() + 9, bar.bottom() - 9, "0", style);
    return;
  }
  const int wanted = std::max(3, static_cast<int>(bar.height / 60));
  for (const Tick& tick : beam > 0 ? round_ticks(0, top / beam, wanted) : std::vector<Tick>{}) {
    const double y = bar.bottom() - tick.value * beam / top * bar.height;
    canvas.line(bar.right(), y, bar.right() + 6, y, pen);
    canvas.text(bar.right() + 9, y - 9, tick.label, style);
  }
  style.side = Side::right;
  for (const Tick& tick : round_ticks(0, top, wanted)) {
    const double y = bar.bottom() - tick.value / top * bar.height;
    canvas.line(bar.x - 6, y, bar.x, y, pen);
    canvas.text(bar.x - 9, y - 9, tick.label, style);
  }
}

}  // namespace dishwright
