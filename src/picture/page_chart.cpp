// SPDX-License-Identifier: MIT
#include "picture/page_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "picture/map_panel.h"
#include "picture/page_card.h"
#include "picture/ticks.h"

namespace dishwright {

namespace {

constexpr Colour ink{29, 29, 31}, faint{224, 224, 222}, soft{96, 96, 100};
constexpr double left_room = 13, bottom_room = 9, heading_room = 5.5, name_room = 4;  // [mm]
constexpr double small = 6.5;                                                         // [pt]

PageText small_text(Side side) {
  PageText style = card_plain(small);
  style.side = side;
  return style;
}

/// A window of values on the sheet.
struct Axes {
  Box box;
  MapWindow window;
  bool x_log = false;
  PagePoint at(double x, double y) const {
    const double share =
        x_log ? std::log(x / window.x_from) / std::log(window.x_to / window.x_from) : (x - window.x_from) / window.width();
    return {box.x + share * box.width, box.bottom() - (y - window.y_from) / window.height() * box.height};
  }
};

void draw_axes(Pages& pages, const Axes& axes, const std::string& x_label, const std::string& y_label, bool grid) {
  const Box& box = axes.box;
  const MapWindow& w = axes.window;
  const PagePen pen{0.2, ink, Dash::solid}, pale{0.15, faint, Dash::solid};
  const int across = std::max(3, static_cast<int>(box.width / 12)), up = std::max(3, static_cast<int>(box.height / 8));
  for (const Tick& tick : axes.x_log ? ratio_ticks(w.x_from, w.x_to) : round_ticks(w.x_from, w.x_to, across)) {
    const PagePoint at = axes.at(tick.value, w.y_from);
    if (grid) pages.line({at.x, box.y}, at, pale);
    pages.line(at, {at.x, at.y + 1}, pen);
    pages.text({at.x, at.y + 3.6}, tick.label, small_text(Side::middle));
  }
  for (const Tick& tick : round_ticks(w.y_from, w.y_to, up)) {
    const PagePoint at = axes.at(w.x_from, tick.value);
    if (grid) pages.line(at, {box.right(), at.y}, pale);
    pages.line({at.x - 1, at.y}, at, pen);
    pages.text({at.x - 1.5, at.y + 0.9}, tick.label, small_text(Side::right));
  }
  pages.frame(box, pen);
  pages.text({box.x + box.width / 2, box.bottom() + 7.4}, x_label, small_text(Side::middle));
  PageText upward = small_text(Side::middle);
  upward.turn = 90;
  pages.text({box.x - left_room + 3, box.y + box.height / 2}, y_label, upward);
}

/// A short piece of each line and its name, in a row.
void draw_names(Pages& pages, PagePoint at, const LineChart& chart) {
  for (std::size_t n = 0; n < chart.lines.size(); ++n) {
    const ChartLineStyle style = chart_line_style(n);
    pages.line({at.x, at.y - 0.9}, {at.x + 8, at.y - 0.9}, {0.5, style.colour, style.dash});
    pages.text({at.x + 9.5, at.y}, chart.lines[n].label, card_plain(small));
    at.x += 13 + pages.text_width(chart.lines[n].label, card_plain(small));
  }
}

void draw_values(Pages& pages, const Box& box, const MapPanel& panel, double top) {
  constexpr double dots_per_mm = 5;
  Pixels out;
  out.width = std::max(1, static_cast<int>(box.width * dots_per_mm)),
  out.height = std::max(1, static_cast<int>(box.height * dots_per_mm));
  const MapWindow& v = panel.view;
  for (int row = 0; row < out.height; ++row) {
    for (int column = 0; column < out.width; ++column) {
      const double value =
          map_value(panel, v.x_from + (column + 0.5) / out.width * v.width(), v.y_to - (row + 0.5) / out.height * v.height());
      const Colour c = value < 0 || top <= 0 ? Colour{255, 255, 255} : ink_colour(value / top);
      for (const std::uint8_t part : {c.red, c.green, c.blue, std::uint8_t{255}}) out.rgba.push_back(part);
    }
  }
  pages.image(box, out);
}

/// On white, so that it reads on dark ink too.
void draw_label(Pages& pages, PagePoint middle, const std::string& words) {
  PageText style = card_bold(small);
  style.side = Side::middle;
  const double width = pages.text_width(words, style) + 1.4;
  pages.fill(Box{middle.x - width / 2, middle.y - 2.4, width, 3.2}, {255, 255, 255});
  pages.text(middle, words, style);
}

void draw_circles(Pages& pages, const Axes& axes, const MapPanel& panel) {
  for (const MapCircle& circle : panel.circles) {
    const PagePoint centre = axes.at(circle.x, circle.y);
    const double radius = circle.width / 2 * axes.box.width / axes.window.width();
    const Dash dash = circle.line == MarkLine::solid ? Dash::solid : Dash::dashed;
    pages.clip(axes.box);
    pages.circle(centre, radius, {0.9, {255, 255, 255}, Dash::solid});
    pages.circle(centre, radius, {0.4, ink, dash});
    pages.drop_clip();
    draw_label(pages, {centre.x, std::clamp(centre.y - radius - 1.4, axes.box.y + 3, axes.box.bottom() - 1)}, circle.label);
  }
}

void draw_scale(Pages& pages, const Box& bar, double top, const std::string& unit) {
  constexpr int steps = 60;
  for (int k = 0; k < steps; ++k) {
    pages.fill(Box{bar.x, bar.bottom() - (k + 1) * bar.height / steps, bar.width, bar.height / steps + 0.05},
               ink_colour((k + 0.5) / steps));
  }
  pages.frame(bar, {0.2, ink, Dash::solid});
  for (const Tick& tick : round_ticks(0, top, 5)) {
    const double y = bar.bottom() - tick.value / top * bar.height;
    pages.line({bar.right(), y}, {bar.right() + 0.8, y}, {0.2, ink, Dash::solid});
    pages.text({bar.right() + 1.3, y + 0.9}, tick.label + " " + unit, card_plain(small));
  }
}

}  // namespace

void draw_page_chart(Pages& pages, const Box& box, const std::string& heading, const LineChart& chart) {
  pages.text({box.x, box.y + 3.2}, heading, card_bold(9));
  draw_names(pages, {box.x + left_room, box.y + heading_room + 2.4}, chart);
  const double above = heading_room + name_room;
  const Axes axes{{box.x + left_room, box.y + above, box.width - left_room - 2, box.height - above - bottom_room},
                  {chart.x_from, chart.x_to, chart.y_from, chart.y_to},
                  chart.x_log};
  if (!(chart.x_to > chart.x_from && chart.y_to > chart.y_from)) return;
  draw_axes(pages, axes, chart.x_label, chart.y_label, true);
  pages.clip(axes.box);
  for (const ChartMark& mark : chart.marks) {
    if (!(mark.at > chart.x_from && mark.at <= chart.x_to)) continue;
    const PagePoint foot = axes.at(mark.at, chart.y_from);
    pages.line(foot, {foot.x, axes.box.y}, {0.25, soft, Dash::dashed});
    pages.text({foot.x + 1, foot.y - 1.5}, mark.label, card_plain(small));
  }
  for (std::size_t n = 0; n < chart.lines.size(); ++n) {
    std::vector<PagePoint> points;
    for (std::size_t k = 0; k < chart.lines[n].x.size(); ++k) points.push_back(axes.at(chart.lines[n].x[k], chart.lines[n].y[k]));
    const ChartLineStyle style = chart_line_style(n);
    pages.polyline(points, {0.5, style.colour, style.dash});
  }
  pages.drop_clip();
}

void draw_page_map(Pages& pages, const Box& box, const MapPanel& panel, double top, const std::string& unit) {
  constexpr double scale_room = 18;
  pages.text({box.x, box.y + 3.2}, panel.heading, card_bold(9));
  const double wide = box.width - left_room - scale_room, high = box.height - heading_room - bottom_room;
  const double scale = std::min(wide / panel.view.width(), high / panel.view.height());
  const Axes axes{
      {box.x + left_room, box.y + heading_room, scale * panel.view.width(), scale * panel.view.height()}, panel.view, false};
  draw_values(pages, axes.box, panel, top);
  draw_axes(pages, axes, panel.x_label, panel.y_label, false);
  draw_circles(pages, axes, panel);
  if (top > 0) draw_scale(pages, {axes.box.right() + 4, axes.box.y, 3.5, axes.box.height}, top, unit);
}

double draw_page_bars(Pages& pages, const Box& box, const std::string& heading, const std::vector<CardShare>& shares) {
  constexpr double row = 4.6, number_room = 14;
  pages.text({box.x, box.y + 3.2}, heading, card_bold(9));
  double label = 0;
  for (const CardShare& share : shares) label = std::max(label, pages.text_width(share.label, card_plain(7.5)) + 2);
  const double length = box.width - label - number_room;
  double y = box.y + 5;
  for (const CardShare& share : shares) {
    pages.text({box.x, y + 3}, share.label, card_plain(7.5));
    pages.fill(Box{box.x + label, y + 0.7, length * std::clamp(share.share, 0.0, 1.0), 2.8}, soft);
    pages.frame(Box{box.x + label, y + 0.7, length, 2.8}, {0.2, ink, Dash::solid});
    pages.text({box.x + label + length + 1.5, y + 3}, fmt::format("{:.1f} %", 100 * share.share), card_plain(7.5));
    y += row;
  }
  return y;
}

}  // namespace dishwright
