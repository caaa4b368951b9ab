// SPDX-License-Identifier: MIT
#include "picture/axes.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr double tick_length = 0.35, number_gap = 0.25;  // of the type's em
constexpr double across_step = 4, up_step = 4;           // least distance of two numbers [em]
constexpr double base_line = 0.36;                       // of a number, below the middle of its figures [em]
constexpr double bar_wide = 1.75;                        // [em]
constexpr int bar_steps = 100;

Pen frame_pen(double type) { return {type * 0.028, soft_ink, Dash::solid}; }

int numbers_along(double length, double step, int least) { return std::max(least, static_cast<int>(length / step)); }

std::vector<Tick> x_ticks(const Axes& axes, double type) {
  const MapWindow& w = axes.window;
  if (axes.x_log) return ratio_ticks(w.x_from, w.x_to);
  double widest = 0;
  for (const Tick& tick : round_ticks(w.x_from, w.x_to, 5))
    widest = std::max(widest, 0.64 * static_cast<double>(tick.label.size()) + 1.3);
  const double step = em(type) * std::max(across_step, widest);
  return round_ticks(w.x_from, w.x_to, numbers_along(axes.box.width, step, axes.box.width < 9 * em(type) ? 2 : 3));
}

std::vector<Tick> y_ticks(const MapWindow& w, double height, double type) {
  return round_ticks(w.y_from, w.y_to, std::min(10, numbers_along(height, up_step * em(type), 2)));
}

double widest_label(const Pages& pages, const std::vector<Tick>& ticks, double type) {
  double widest = 0;
  for (const Tick& tick : ticks) widest = std::max(widest, pages.text_width(tick.label, picture_text(type)));
  return widest;
}

/// Numbers of a bar, with the scale that they count in.
std::vector<Tick> bar_ticks(const ScaleBar& bar, double per_unit, double height, double type) {
  if (!bar.marks.empty()) return bar.marks;
  return round_ticks(bar.from / per_unit, bar.to / per_unit, std::min(10, numbers_along(height, 4 * em(type), 3)));
}

}  // namespace

double picture_type(const Box& box) { return std::clamp(std::min(box.width / 25, box.height / 14) + 2.8, 6.5, 9.0); }

TextStyle picture_text(double size, Side side) {
  TextStyle style;
  style.size = size, style.side = side;
  return style;
}

TextStyle picture_bold(double size, Side side) {
  TextStyle style = picture_text(size, side);
  style.bold = true;
  return style;
}

PagePoint Axes::at(double x, double y) const {
  const double share =
      x_log ? std::log(x / window.x_from) / std::log(window.x_to / window.x_from) : (x - window.x_from) / window.width();
  return {box.x + share * box.width, box.bottom() - (y - window.y_from) / window.height() * box.height};
}

double axes_left(const Pages& pages, const MapWindow& window, const AxisWords& words) {
  const double widest = widest_label(pages, y_ticks(window, 1e9, words.type), words.type);
  return widest + em(words.type) * (tick_length + 2 * number_gap + (words.y_label.empty() ? 0.2 : 1.6));
}

double axes_below(const AxisWords& words) { return em(words.type) * (words.x_label.empty() ? 1.8 : 3.6); }

void draw_axis_labels(Pages& pages, const Box& box, double left, const AxisWords& words) {
  const double unit = em(words.type);
  TextStyle style = picture_text(words.type, Side::middle);
  // A label longer than its axis may reach over its ends, not over the neighbours.
  style.room = std::max(box.width + 2 * left, 12 * unit);
  if (!words.x_label.empty()) pages.text({box.x + box.width / 2, box.bottom() + 3.0 * unit}, words.x_label, style);
  style.turn = 90, style.room = std::max(box.height + 4 * unit, 12 * unit);
  if (!words.y_label.empty()) pages.text({box.x - left + unit, box.y + box.height / 2}, words.y_label, style);
}

void draw_axes(Pages& pages, const Axes& axes, const AxisWords& words) {
  const Box& box = axes.box;
  const double unit = em(words.type);
  const Pen pen = frame_pen(words.type), grid{0.8 * pen.width, faint_ink, Dash::solid};
  for (const Tick& tick : x_ticks(axes, words.type)) {
    const double x = axes.at(tick.value, axes.window.y_from).x;
    if (words.grid) pages.line({x, box.y}, {x, box.bottom()}, grid);
    pages.line({x, box.bottom()}, {x, box.bottom() + tick_length * unit}, pen);
    pages.text({x, box.bottom() + 1.5 * unit}, tick.label, picture_text(words.type, Side::middle));
  }
  for (const Tick& tick : y_ticks(axes.window, box.height, words.type)) {
    const double y = axes.at(axes.window.x_from, tick.value).y;
    if (words.grid) pages.line({box.x, y}, {box.right(), y}, grid);
    pages.line({box.x - tick_length * unit, y}, {box.x, y}, pen);
    pages.text({box.x - (tick_length + number_gap) * unit, y + base_line * unit}, tick.label,
               picture_text(words.type, Side::right));
  }
  pages.frame(box, pen);
  draw_axis_labels(pages, box, axes_left(pages, axes.window, words), words);
}

void draw_inks(Pages& pages, const Box& bar, const std::function<Colour(double share)>& colour) {
  // Each step reaches down to the foot and is covered by the next lower one, so that no seam shows.
  for (int k = bar_steps; k > 0; --k) {
    const double share = (k - 0.5) / bar_steps;
    if (bar.height >= bar.width) {
      const double high = bar.height * k / bar_steps;
      pages.fill(Box{bar.x, bar.bottom() - high, bar.width, high}, colour ? colour(share) : ink_colour(share));
    } else {
      pages.fill(Box{bar.x, bar.y, bar.width * k / bar_steps, bar.height}, colour ? colour(share) : ink_colour(share));
    }
  }
}

double scale_bar_width(const Pages& pages, const ScaleBar& bar, double type) {
  const double beside = em(type) * (tick_length + number_gap);
  const double first = widest_label(pages, bar_ticks(bar, 1, 1e9, type), type) + beside;
  if (bar.beam <= 0) return std::max(em(type) * bar_wide + first, pages.text_width(bar.unit, picture_bold(type)));
  const double second = widest_label(pages, bar_ticks(bar, bar.beam, 1e9, type), type) + beside;
  const double head = pages.text_width(bar.unit + " suns", picture_bold(type)) + em(type);
  return std::max(first + em(type) * bar_wide + second, head);
}

void draw_scale_bar(Pages& pages, const Box& room, const ScaleBar& bar, double type) {
  const double unit = em(type), beside = unit * (tick_length + number_gap);
  const bool twice = bar.beam > 0, any = bar.to > bar.from;
  double left = 0;
  if (twice) {
    left = std::max(any ? widest_label(pages, bar_ticks(bar, 1, room.height, type), type) + beside : 0.0,
                    pages.text_width(bar.unit, picture_bold(type)) - 0.4 * unit);
  }
  const double head = bar.unit.empty() ? 0 : 1.7 * unit;
  const Box box{room.x + left, room.y + head, unit * bar_wide, room.height - head};
  draw_inks(pages, box, bar.colour);
  const Pen pen{type * 0.028, ink, Dash::solid};
  pages.frame(box, pen);
  if (twice) {
    pages.text({box.x + 0.3 * unit, room.y + unit}, bar.unit, picture_bold(type, Side::right));
    pages.text({box.right() - 0.3 * unit, room.y + unit}, "suns", picture_bold(type));
  } else {
    pages.text({box.x, room.y + unit}, bar.unit, picture_bold(type));
  }
  const auto mark = [&](double value, const std::string& label, bool at_left) {
    const double y = any ? box.bottom() - (value - bar.from) / (bar.to - bar.from) * box.height : box.bottom();
    const double edge = at_left ? box.x : box.right(), way = at_left ? -1 : 1;
    pages.line({edge, y}, {edge + way * tick_length * unit, y}, pen);
    pages.text({edge + way * beside, y + base_line * unit}, label, picture_text(type, at_left ? Side::right : Side::left));
  };
  if (!any) {
    mark(bar.from, "0", false);
    return;
  }
  for (const Tick& tick : bar_ticks(bar, 1, box.height, type)) mark(tick.value, tick.label, twice);
  if (!twice) return;
  for (const Tick& tick : bar_ticks(bar, bar.beam, box.height, type)) mark(tick.value * bar.beam, tick.label, false);
}

}  // namespace dishwright
