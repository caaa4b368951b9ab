// SPDX-License-Identifier: MIT
#include "picture/map_panel.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace dishwright {

namespace {

/// To whole dots of a screen's sheet, so that a map's bins are as sharp there as they can be.
double on_dot(double length) { return std::round(length * screen_dots) / screen_dots; }

/// The largest box of the window's aspect within the room, at the top left.
Box fit(const MapWindow& window, const Box& room) {
  const double scale = std::min(room.width / window.width(), room.height / window.height()), dot = 1 / screen_dots;
  return {on_dot(room.x), on_dot(room.y), std::max(2 * dot, on_dot(scale * window.width() - dot / 2)),
          std::max(2 * dot, on_dot(scale * window.height() - dot / 2))};
}

bool bin_inside(const MapPanel& panel, int column, int row) {
  if (column < 0 || row < 0 || column >= panel.columns || row >= panel.rows) return false;
  if (!panel.round) return true;
  const double u = (column + 0.5) / panel.columns * 2 - 1, v = (row + 0.5) / panel.rows * 2 - 1;
  return u * u + v * v <= 1;
}

void draw_values(Pages& pages, const MapPanel& panel, const Axes& axes, double top) {
  if (top <= 0) return;
  const MapWindow& view = axes.window;
  draw_dots(pages, axes.box, [&](double across, double down) {
    const double value = map_value(panel, view.x_from + across * view.width(), view.y_to - down * view.height());
    return value < 0 ? paper_white : ink_colour(value / top);
  });
}

/// The edge of the face, as far as it is shown.
void draw_outline(Pages& pages, const MapPanel& panel, const Axes& axes, double type) {
  const MapWindow& f = panel.face;
  const Pen pen{0.033 * type, ink, Dash::solid};
  const double half = pen.width / 2;
  pages.clip({axes.box.x - half, axes.box.y - half, axes.box.width + 2 * half, axes.box.height + 2 * half});
  if (panel.round) {
    pages.circle(axes.at((f.x_from + f.x_to) / 2, (f.y_from + f.y_to) / 2), axes.scale() * f.width() / 2, pen);
  } else {
    const PagePoint low = axes.at(f.x_from, f.y_from), high = axes.at(f.x_to, f.y_to);
    pages.frame({low.x, high.y, high.x - low.x, low.y - high.y}, pen);
  }
  pages.drop_clip();
}

Pen mark_pen(MarkLine line, double type) {
  return {0.044 * type, ink, line == MarkLine::solid ? Dash::solid : Dash::dashed, true};
}

TextStyle mark_style(double type) {
  TextStyle style = picture_bold(1.05 * type, Side::middle);
  style.halo = true;
  return style;
}

TextStyle heading_style(double type) { return picture_bold(1.05 * type); }

/// Where the name of a circle stands: just outside its line, above a solid one and below a dashed one, so that the words of a
/// small and a large one keep apart; elsewhere along it where that is out of the map. Empty where no line is on the map.
std::optional<PagePoint> circle_label_place(const MapCircle& circle, const Axes& axes, double type) {
  constexpr int steps = 12;
  const double unit = em(type), radius = axes.scale() * circle.width / 2, side = circle.line == MarkLine::solid ? -1 : 1;
  const PagePoint middle = axes.at(circle.x, circle.y);
  const Box& map = axes.box;
  for (int step = 0; step <= steps; ++step) {
    for (const double turn : {1.0, -1.0}) {
      const double angle = turn * step * std::numbers::pi / steps;
      const PagePoint line{middle.x + radius * std::sin(angle), middle.y + side * radius * std::cos(angle)};
      if (line.x < map.x + 1.6 * unit || line.x > map.right() - 1.6 * unit || line.y < map.y || line.y > map.bottom()) continue;
      const double y = line.y + (line.y < middle.y || (side < 0 && line.y == middle.y) ? -0.5 : 1.2) * unit;
      return PagePoint{line.x, std::clamp(y, map.y + 1.2 * unit, std::max(map.y + 1.2 * unit, map.bottom() - 0.4 * unit))};
    }
  }
  return std::nullopt;
}

void draw_circles(Pages& pages, const MapPanel& panel, const Axes& axes, double type) {
  const Box& map = axes.box;
  pages.clip(map);
  for (const MapCircle& circle : panel.circles)
    pages.circle(axes.at(circle.x, circle.y), axes.scale() * circle.width / 2, mark_pen(circle.line, type));
  pages.drop_clip();
  for (const MapCircle& circle : panel.circles) {
    if (const auto at = circle_label_place(circle, axes, type)) pages.text(*at, circle.label, mark_style(type));
  }
}

void draw_bands(Pages& pages, const MapPanel& panel, const Axes& axes, double type) {
  const Box& map = axes.box;
  pages.clip(map);
  for (const MapBand& band : panel.bands) {
    for (const double edge : {band.from, band.to}) {
      const double x = axes.at(edge, panel.view.y_from).x;
      pages.line({x, map.y}, {x, map.bottom()}, mark_pen(band.line, type));
    }
  }
  pages.drop_clip();
  // Named beside their right edge, or the left one where the right one is too far out, one below the other.
  const double half = 1.9 * em(type);
  double y = map.y + 1.4 * em(type);
  for (const MapBand& band : panel.bands) {
    const auto on_map = [&](double edge) { return edge >= panel.view.x_from && edge <= panel.view.x_to; };
    if (!on_map(band.from) && !on_map(band.to)) continue;
    const double right = axes.at(band.to, panel.view.y_from).x, left = axes.at(band.from, panel.view.y_from).x;
    const double x = right < map.right() - half || left < map.x + half ? right : left;
    pages.text({std::clamp(x, map.x + half, std::max(map.x + half, map.right() - half)), y}, band.label, mark_style(type));
    y += 1.9 * em(type);
  }
}

/// The whole face, small, with a frame around what the panel shows.
void draw_whole_face(Pages& pages, const Box& room, const MapPanel& panel, double top, double type) {
  TextStyle style = picture_text(0.93 * type);
  style.colour = soft_ink;
  const double caption = pages.paragraph({room.x, room.y, room.width, 0}, panel.whole_name, style) + 0.8;
  const double edge = 0.2;
  const Box inner{room.x + edge, room.y + caption, room.width - 2 * edge, room.height - caption - 2 * edge};
  const Axes axes{fit(panel.face, inner), panel.face};
  draw_values(pages, panel, axes, top);
  draw_outline(pages, panel, axes, 0.8 * type);
  const PagePoint low = axes.at(panel.view.x_from, panel.view.y_from), high = axes.at(panel.view.x_to, panel.view.y_to);
  pages.frame({low.x, high.y, high.x - low.x, low.y - high.y}, {0.036 * type, ink, Dash::solid, true});
}

/// Where the small picture of a whole face stands, if one is needed.
enum class WholeAt { none, right, below, under_bar };

WholeAt whole_place(const MapPanel& panel, bool alone) {
  if (panel.view == panel.face) return WholeAt::none;
  const double aspect = panel.face.width() / panel.face.height();
  if (aspect > 3) return WholeAt::below;
  return alone && aspect > 1.0 / 3 ? WholeAt::under_bar : WholeAt::right;
}

/// Heights of the panels' rooms: each as tall as its view needs at full width, the tallest cut until all fit.
std::vector<double> panel_heights(const std::vector<MapPanel>& panels, const std::vector<PanelRoom>& around, const Box& room) {
  std::vector<double> heights;
  for (std::size_t i = 0; i < panels.size(); ++i) {
    heights.push_back((room.width - around[i].left) * panels[i].view.height() / panels[i].view.width() + around[i].above +
                      around[i].below);
  }
  const auto total = [&](double cap) {
    double sum = 0;
    for (const double height : heights) sum += std::min(height, cap);
    return sum;
  };
  double cap = room.height;
  while (total(cap) > room.height && cap > 0.2) cap -= 0.2;
  for (double& height : heights) height = std::min(height, cap);
  return heights;
}

/// The rooms of panels that stand in line.
std::vector<PanelRoom> rooms_in_line(const Pages& pages, const std::vector<MapPanel>& panels, double type) {
  std::vector<PanelRoom> rooms;
  double left = 0;
  for (const MapPanel& panel : panels) {
    rooms.push_back(panel_room(pages, panel, type));
    left = std::max(left, rooms.back().left);
  }
  for (PanelRoom& room : rooms) room.left = left;
  return rooms;
}

struct PlacedMaps {
  Box first;  ///< the first map
  Box all;    ///< all maps, with their headings' length
};

/// The panels one below the other, each with the small picture of its whole face where that does not stand under the bar.
PlacedMaps draw_panels(Pages& pages, const Box& room, const MapPicture& picture, double type) {
  const double unit = em(type);
  const std::vector<PanelRoom> around = rooms_in_line(pages, picture.panels, type);
  const std::vector<double> heights = panel_heights(picture.panels, around, room);
  double used = 0;
  for (const double height : heights) used += height;
  // A flat picture stands in the middle of its room.
  double y = room.y + std::max(0.0, (room.height - used) / 3);
  PlacedMaps placed{{}, {room.x, y, 0, 0}};
  for (std::size_t i = 0; i < picture.panels.size(); ++i) {
    const MapPanel& panel = picture.panels[i];
    Box own{room.x, y, room.width, heights[i]};
    const WholeAt place = whole_place(panel, picture.panels.size() == 1);
    if (place == WholeAt::right) own.width -= 7 * unit;
    if (place == WholeAt::below) own.height -= 6 * unit;
    const Box map = draw_panel(pages, own, panel, picture.top, type, around[i]);
    double right =
        std::max(map.right(), map.x + std::min(pages.text_width(panel.heading, heading_style(type)), own.right() - map.x));
    if (place == WholeAt::right) {
      const Box whole{std::min(map.right() + 2 * unit, own.right() + unit), map.y, 6 * unit, map.height};
      draw_whole_face(pages, whole, panel, picture.top, type);
      right = std::max(right, whole.right());
    }
    if (place == WholeAt::below) {
      const Box whole{map.x, map.bottom() + around[i].below + 0.4 * unit, room.right() - map.x, 5.6 * unit};
      draw_whole_face(pages, whole, panel, picture.top, type);
    }
    if (i == 0) placed.first = map, placed.all.y = map.y;
    placed.all.width = std::max(placed.all.width, right - room.x), placed.all.height = map.bottom() - placed.all.y;
    y += heights[i];
  }
  return placed;
}

}  // namespace

void draw_dots(Pages& pages, const Box& box, const std::function<Colour(double across, double down)>& colour_at) {
  Pixels out;
  out.width = std::max(1, static_cast<int>(std::lround(box.width * screen_dots)));
  out.height = std::max(1, static_cast<int>(std::lround(box.height * screen_dots)));
  out.rgba.reserve(4 * static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
  for (int row = 0; row < out.height; ++row) {
    for (int column = 0; column < out.width; ++column) {
      const Colour c = colour_at((column + 0.5) / out.width, (row + 0.5) / out.height);
      for (const std::uint8_t part : {c.red, c.green, c.blue, std::uint8_t{255}}) out.rgba.push_back(part);
    }
  }
  pages.image(box, out);
}

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

PanelRoom panel_room(const Pages& pages, const MapPanel& panel, double type) {
  const AxisWords words{panel.x_label, panel.y_label, type, false};
  return {axes_left(pages, panel.view, words), (panel.heading.empty() ? 0.5 : 1.9) * em(type), axes_below(words)};
}

Box draw_panel(Pages& pages, const Box& room, const MapPanel& panel, double top, double type) {
  return draw_panel(pages, room, panel, top, type, panel_room(pages, panel, type));
}

Box draw_panel(Pages& pages, const Box& room, const MapPanel& panel, double top, double type, const PanelRoom& around) {
  const Box inner{room.x + around.left, room.y + around.above, room.width - around.left,
                  room.height - around.above - around.below};
  const Axes axes{fit(panel.view, inner), panel.view};
  TextStyle heading = heading_style(type);
  heading.room = room.width - around.left;
  pages.text({axes.box.x, room.y + em(type)}, panel.heading, heading);
  draw_values(pages, panel, axes, top);
  draw_outline(pages, panel, axes, type);
  draw_axes(pages, axes, {panel.x_label, panel.y_label, type, false});
  draw_bands(pages, panel, axes, type);
  draw_circles(pages, panel, axes, type);
  return axes.box;
}

void draw_map_picture(Pages& pages, const Box& box, const MapPicture& picture) {
  const double type = picture_type(box), unit = em(type);
  ScaleBar scale;
  scale.to = picture.top, scale.beam = picture.beam, scale.unit = picture.unit;
  const double bar_width = picture.bar ? scale_bar_width(pages, scale, type) : 0, gap = picture.bar ? 1.2 * unit : 0;
  const Box maps{box.x, box.y, box.width - bar_width - gap, box.height};
  const PlacedMaps placed = draw_panels(pages, maps, picture, type);
  // The bar stands beside the maps and is as high as they are, unless the small picture of the whole stands under it.
  const double head = scale.unit.empty() ? 0 : 1.7 * unit;
  Box bar{std::min(maps.right() + gap, placed.all.right() + 2 * unit), placed.all.y - head, bar_width, placed.all.height + head};
  if (!picture.panels.empty() && whole_place(picture.panels.front(), picture.panels.size() == 1) == WholeAt::under_bar) {
    const double side = std::min({11.5 * unit, box.right() - bar.x, 0.4 * box.height}), caption = 1.7 * unit;
    bar.height = box.bottom() - side - caption - unit - bar.y;
    draw_whole_face(pages, {bar.x, bar.bottom() + unit, side, side + caption}, picture.panels.front(), picture.top, type);
  }
  if (picture.bar) draw_scale_bar(pages, bar, scale, type);
  if (picture.top > 0) return;
  TextStyle style = picture_bold(1.45 * type, Side::middle);
  style.halo = true;
  pages.text({placed.first.x + placed.first.width / 2, placed.first.y + placed.first.height / 2 + 0.5 * unit}, picture.empty,
             style);
}

}  // namespace dishwright
