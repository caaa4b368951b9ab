// SPDX-License-Identifier: MIT
#include "picture/chart.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "picture/ticks.h"

namespace dishwright {

namespace {

constexpr Box plot{112, 196, 1040, 520};
constexpr double tick_text = 16, label_text = 18, name_text = 18, name_height = 24;
constexpr double closest = 1.5;  // points of a line [px]
constexpr Colour soft{96, 96, 100}, faint{224, 224, 222};

Pen line_pen(std::size_t number) {
  const ChartLineStyle style = chart_line_style(number);
  Pen pen;
  pen.width = number < 4 ? 3.2 : 2.0;
  pen.dash = style.dash, pen.colour = style.colour;
  return pen;
}

struct Axes {
  const LineChart& chart;
  double x(double value) const {
    const double share = chart.x_log ? std::log(value / chart.x_from) / std::log(chart.x_to / chart.x_from)
                                     : (value - chart.x_from) / (chart.x_to - chart.x_from);
    return plot.x + share * plot.width;
  }
  double y(double value) const { return plot.bottom() - (value - chart.y_from) / (chart.y_to - chart.y_from) * plot.height; }
};

Colour pale(const Colour& c) {
  const auto mix = [](int channel) { return static_cast<std::uint8_t>(255 - (255 - channel) / 4); };
  return {mix(c.red), mix(c.green), mix(c.blue)};
}

void draw_axes(Canvas& canvas, const Axes& axes) {
  const LineChart& chart = axes.chart;
  Pen grid, pen;
  grid.colour = faint;
  pen.colour = soft;
  TextStyle style;
  style.size = tick_text, style.side = Side::middle;
  for (const Tick& tick : chart.x_log ? ratio_ticks(chart.x_from, chart.x_to) : round_ticks(chart.x_from, chart.x_to, 10)) {
    const double x = axes.x(tick.value);
    canvas.line(x, plot.y, x, plot.bottom(), grid);
    canvas.line(x, plot.bottom(), x, plot.bottom() + 7, pen);
    canvas.text(x, plot.bottom() + 9, tick.label, style);
  }
  style.side = Side::right;
  for (const Tick& tick : round_ticks(chart.y_from, chart.y_to, 8)) {
    const double y = axes.y(tick.value);
    canvas.line(plot.x, y, plot.right(), y, grid);
    canvas.line(plot.x - 7, y, plot.x, y, pen);
    canvas.text(plot.x - 11, y - 10, tick.label, style);
  }
  canvas.frame({plot.x - 0.5, plot.y - 0.5, plot.width + 1, plot.height + 1}, pen);
  style.side = Side::middle, style.size = label_text;
  canvas.text(plot.x + plot.width / 2, plot.bottom() + 34, chart.x_label, style);
  style.upward = true;
  canvas.text(32, plot.y + plot.height / 2, chart.y_label, style);
}

Canvas::Points points_of(const Axes& axes, const ChartLine& line) {
  Canvas::Points points;
  for (std::size_t i = 0; i < line.x.size(); ++i) {
    const double x = axes.x(line.x[i]), y = axes.y(line.y[i]);
    const bool near = !points.empty() && std::hypot(x - points.back().first, y - points.back().second) < closest;
    if (!near || i + 1 == line.x.size()) points.emplace_back(x, y);
  }
  return points;
}

void draw_bands(Canvas& canvas, const Axes& axes) {
  for (std::size_t n = 0; n < axes.chart.lines.size(); ++n) {
    const ChartLine& line = axes.chart.lines[n];
    if (line.error.size() != line.x.size()) continue;
    ChartLine above = line, below = line;
    for (std::size_t i = 0; i < line.y.size(); ++i) above.y[i] += line.error[i], below.y[i] -= line.error[i];
    Canvas::Points edge = points_of(axes, above), back = points_of(axes, below);
    edge.insert(edge.end(), back.rbegin(), back.rend());
    canvas.area(edge, pale(line_pen(n).colour));
  }
}

/// A line's points at every few pixels within the plot, for keeping words off it.
Canvas::Points trail_of(const Canvas::Points& points) {
  Canvas::Points trail;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const auto [x0, y0] = points[i - 1];
    const auto [x1, y1] = points[i];
    const int steps = static_cast<int>(std::clamp(std::hypot(x1 - x0, y1 - y0) / 4, 1.0, 400.0));
    for (int s = 0; s < steps; ++s) {
      const double x = x0 + (x1 - x0) * s / steps, y = y0 + (y1 - y0) * s / steps;
      if (!trail.empty() && std::hypot(x - trail.back().first, y - trail.back().second) < 3) continue;
      if (x >= plot.x && x <= plot.right() && y >= plot.y && y <= plot.bottom()) trail.emplace_back(x, y);
    }
  }
  return trail;
}

bool overlap(const Box& a, const Box& b) { return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom(); }

/// Puts each line's name beside it, off all lines and off the other names.
class Names {
 public:
  Names(Canvas& canvas, const Axes& axes) : canvas_(canvas), axes_(axes) {
    for (const ChartLine& line : axes.chart.lines) trails_.push_back(trail_of(points_of(axes, line)));
  }
  void keep_off(const Box& box) { taken_.push_back(box); }

  /// Where words beside an upright line meet nothing, the lower the better.
  Box free_place_beside(double x, double width) const {
    Box best;
    double least = 1e300;
    const int steps = static_cast<int>((plot.height - 34) / 20);
    for (int step = 0; step < steps; ++step) {
      const double y = plot.bottom() - 30 - 20 * step;
      for (const double left : {x + 10, x - 10 - width}) {
        const Box box{left, y, width, 22};
        const double cost = cost_of(box, trails_.size()) + step + (left < x ? 3 : 0);
        if (cost < least) least = cost, best = box;
      }
    }
    return best;
  }

  void draw(std::size_t number) {
    const Canvas::Points& trail = trails_[number];
    if (trail.empty()) return;
    TextStyle style;
    style.size = name_text, style.bold = true, style.halo = true, style.colour = line_pen(number).colour;
    const std::string& label = axes_.chart.lines[number].label;
    style.room = 320;
    const double width = std::min(canvas_.text_width(label, style), 320.0);
    double least = 1e300;
    Box best;
    std::pair<double, double> anchor;
    const std::size_t step = std::max<std::size_t>(1, trail.size() / 120);
    for (std::size_t i = 0; i < trail.size(); i += step) {
      for (const double away : {9.0, 20.0, 40.0, 70.0}) {
        for (const auto& [right, down] : {std::pair{1, 1}, {1, -1}, {-1, -1}, {-1, 1}, {0, 1}, {0, -1}}) {
          const double x = trail[i].first + (right > 0 ? away : right < 0 ? -away - width : -width / 2);
          const double y = trail[i].second + (down > 0 ? away - 4 : -away + 4 - name_height);
          const Box box{x, y, width, name_height};
          const double along = static_cast<double>(i) / static_cast<double>(trail.size());
          const double cost = away + cost_of(box, number) + crossings(leader_box(trail[i], box)) + std::abs(along - 0.6) * 20;
          if (cost < least) least = cost, best = box, anchor = trail[i];
        }
      }
    }
    taken_.push_back(best);
    const Box leader = leader_box(anchor, best);
    if (std::hypot(leader.width, leader.height) > 16) {
      taken_.push_back(leader);
      Pen pen;
      pen.colour = style.colour;
      const auto [x, y] = nearest_on(anchor, best);
      canvas_.line(anchor.first, anchor.second, x, y, pen);
    }
    canvas_.text(best.x, best.y, label, style);
  }

 private:
  /// The point of a name's box where a leader from the line ends.
  static std::pair<double, double> nearest_on(const std::pair<double, double>& anchor, const Box& box) {
    return {std::clamp(anchor.first, box.x, box.right()), std::clamp(anchor.second, box.y + 3, box.bottom() - 2)};
  }
  /// What a leader from the line to a name covers.
  static Box leader_box(const std::pair<double, double>& anchor, const Box& box) {
    const auto [x, y] = nearest_on(anchor, box);
    return {std::min(x, anchor.first), std::min(y, anchor.second), std::abs(x - anchor.first), std::abs(y - anchor.second)};
  }
  double crossings(const Box& leader) const {
    double cost = 0;
    for (const Box& other : taken_) cost += overlap(leader, other) ? 60 : 0;
    return cost;
  }
  double cost_of(const Box& box, std::size_t own) const {
    const Box wide{box.x - 5, box.y - 2, box.width + 10, box.height + 4};
    double cost = 0;
    if (wide.x < plot.x || wide.right() > plot.right() || wide.y < plot.y || wide.bottom() > plot.bottom()) cost += 1e6;
    for (const Box& other : taken_) cost += overlap(wide, other) ? 1e5 : 0;
    const double x = box.x + box.width / 2, y = box.y + box.height / 2;
    for (std::size_t n = 0; n < trails_.size(); ++n) {
      double nearest = 1e9;
      for (const auto& [px, py] : trails_[n]) {
        if (px > wide.x && px < wide.right() && py > wide.y && py < wide.bottom()) cost += 200;
        nearest = std::min(nearest, std::hypot(std::max(0.0, std::abs(px - x) - box.width / 2), py - y));
      }
      // A name stands nearer to its own line than to any other.
      if (n != own) cost += std::max(0.0, 34 - nearest) * 6;
    }
    return cost;
  }

  Canvas& canvas_;
  const Axes& axes_;
  std::vector<Canvas::Points> trails_;
  std::vector<Box> taken_;
};

void draw_marks(Canvas& canvas, const Axes& axes, Names& names) {
  TextStyle style;
  style.size = tick_text, style.colour = soft, style.halo = true;
  Pen pen;
  pen.colour = soft, pen.width = 1.6, pen.dash = Dash::dashed;
  for (const ChartMark& mark : axes.chart.marks) {
    if (!(mark.at > axes.chart.x_from && mark.at <= axes.chart.x_to)) continue;
    const double x = axes.x(mark.at);
    canvas.line(x, plot.y, x, plot.bottom(), pen);
    names.keep_off({x - 3, plot.y, 6, plot.height});
  }
  for (const ChartMark& mark : axes.chart.marks) {
    if (!(mark.at > axes.chart.x_from && mark.at <= axes.chart.x_to)) continue;
    const double width = canvas.text_width(mark.label, style);
    const Box box = names.free_place_beside(axes.x(mark.at), width);
    canvas.text(box.x, box.y, mark.label, style);
    names.keep_off(box);
  }
}

void draw_chart(Canvas& canvas, const LineChart& chart) {
  draw_sheet(canvas, chart.words);
  if (!(chart.x_to > chart.x_from && chart.y_to > chart.y_from)) return;
  const Axes axes{chart};
  draw_axes(canvas, axes);
  canvas.clip(plot);
  draw_bands(canvas, axes);
  for (std::size_t n = 0; n < chart.lines.size(); ++n) canvas.curve(points_of(axes, chart.lines[n]), line_pen(n));
  canvas.drop_clip();
  Names names(canvas, axes);
  draw_marks(canvas, axes, names);
  for (std::size_t n = 0; n < chart.lines.size(); ++n) names.draw(n);
}

}  // namespace

ChartLineStyle chart_line_style(std::size_t number) {
  static constexpr Colour black{29, 29, 31}, brick{158, 58, 38}, plum{98, 38, 84}, umber{118, 78, 16};
  static constexpr std::array<ChartLineStyle, 8> styles{{{Dash::solid, black},
                                                         {Dash::dashed, brick},
                                                         {Dash::dotted, plum},
                                                         {Dash::dash_dot, umber},
                                                         {Dash::long_dash, black},
                                                         {Dash::dotted, brick},
                                                         {Dash::solid, umber},
                                                         {Dash::dash_dot, plum}}};
  return styles[number % styles.size()];
}

Pixels draw_line_chart(const LineChart& chart) {
  Canvas canvas(sheet_width, sheet_height);
  draw_chart(canvas, chart);
  return canvas.pixels();
}

std::string line_chart_svg(const LineChart& chart) {
  Canvas canvas(sheet_width, sheet_height, SheetKind::drawing);
  draw_chart(canvas, chart);
  return canvas.svg(chart.words.question, chart.words.answer);
}

}  // namespace dishwright
