// SPDX-License-Identifier: MIT
#include "picture/line_names.h"

#include <algorithm>
#include <cmath>

#include "picture/axes.h"
#include "picture/line_pen.h"

namespace dishwright {

namespace {

constexpr double name_height = 24, longest_name = 320;           // [units]
constexpr double sample = 3.2, sample_gap = 0.5, key_gap = 1.2;  // of a key [em]
constexpr double key_row = 1.5;                                  // [em]

bool overlap(const Box& a, const Box& b) { return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom(); }

/// A line's points at every few units within the plot.
PageTrail trail_of(const PageTrail& points, const Box& plot, double unit) {
  PageTrail trail;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const PagePoint a = points[i - 1], b = points[i];
    const int steps = static_cast<int>(std::clamp(std::hypot(b.x - a.x, b.y - a.y) / (4 * unit), 1.0, 400.0));
    for (int s = 0; s < steps; ++s) {
      const PagePoint p{a.x + (b.x - a.x) * s / steps, a.y + (b.y - a.y) * s / steps};
      if (!trail.empty() && std::hypot(p.x - trail.back().x, p.y - trail.back().y) < 3 * unit) continue;
      if (p.x >= plot.x && p.x <= plot.right() && p.y >= plot.y && p.y <= plot.bottom()) trail.push_back(p);
    }
  }
  return trail;
}

/// The point of a name's box where a leader from the line ends.
PagePoint nearest_on(const PagePoint& anchor, const Box& box, double unit) {
  return {std::clamp(anchor.x, box.x, box.right()), std::clamp(anchor.y, box.y + 3 * unit, box.bottom() - 2 * unit)};
}

/// What a leader from the line to a name covers.
Box leader_box(const PagePoint& anchor, const Box& box, double unit) {
  const PagePoint end = nearest_on(anchor, box, unit);
  return {std::min(end.x, anchor.x), std::min(end.y, anchor.y), std::abs(end.x - anchor.x), std::abs(end.y - anchor.y)};
}

double item_width(const Pages& pages, const ChartLine& line, double type) {
  return em(type) * (sample + sample_gap + key_gap) + pages.text_width(line.label, picture_text(type));
}

void draw_sample(Pages& pages, PagePoint at, std::size_t number, double type) {
  pages.line({at.x, at.y - 0.38 * em(type)}, {at.x + sample * em(type), at.y - 0.38 * em(type)}, line_pen(number, type));
}

/// Where each item of a key stands, from its top left corner.
std::vector<PagePoint> key_places(const Pages& pages, double width, const std::vector<ChartLine>& lines, double type) {
  std::vector<PagePoint> places;
  PagePoint at{0, em(type)};
  for (const ChartLine& line : lines) {
    const double wide = item_width(pages, line, type);
    if (at.x > 0 && at.x + wide - key_gap * em(type) > width) at = {0, at.y + key_row * em(type)};
    places.push_back(at);
    at.x += wide;
  }
  return places;
}

}  // namespace

LineNames::LineNames(Pages& pages, const Box& plot, double type, const std::vector<PageTrail>& lines)
    : pages_(pages), plot_(plot), type_(type), unit_(em(name_type(type)) / 18) {
  for (const PageTrail& line : lines) trails_.push_back(trail_of(line, plot, unit_));
}

double LineNames::crossings(const Box& leader) const {
  double cost = 0;
  for (const Box& other : taken_) cost += overlap(leader, other) ? 60 : 0;
  return cost;
}

double LineNames::cost_of(const Box& box, std::size_t own, double most) const {
  const Box wide{box.x - 5 * unit_, box.y - 2 * unit_, box.width + 10 * unit_, box.height + 4 * unit_};
  double cost = 0;
  if (wide.x < plot_.x || wide.right() > plot_.right() || wide.y < plot_.y || wide.bottom() > plot_.bottom()) cost += 1e6;
  for (const Box& other : taken_) cost += overlap(wide, other) ? 1e5 : 0;
  const double x = box.x + box.width / 2, y = box.y + box.height / 2;
  for (std::size_t n = 0; n < trails_.size(); ++n) {
    if (cost > most) return cost;
    double nearest2 = 1e18;
    for (const PagePoint& p : trails_[n]) {
      if (p.x > wide.x && p.x < wide.right() && p.y > wide.y && p.y < wide.bottom()) cost += 200;
      const double aside = std::max(0.0, std::abs(p.x - x) - box.width / 2), up = p.y - y;
      nearest2 = std::min(nearest2, aside * aside + up * up);
    }
    // A name stands nearer to its own line than to any other.
    if (n != own) cost += std::max(0.0, 34 - std::sqrt(nearest2) / unit_) * 6;
  }
  return cost;
}

LineNames::Place LineNames::best_place(std::size_t number, double width) const {
  const PageTrail& trail = trails_[number];
  double least = 1e300;
  Place best;
  const std::size_t step = std::max<std::size_t>(1, trail.size() / 120);
  for (std::size_t i = 0; i < trail.size(); i += step) {
    for (const double away : {9.0, 20.0, 40.0, 70.0}) {
      for (const auto& [right, down] : {std::pair{1, 1}, {1, -1}, {-1, -1}, {-1, 1}, {0, 1}, {0, -1}}) {
        const double x = trail[i].x + (right > 0 ? away * unit_ : right < 0 ? -away * unit_ - width : -width / 2);
        const double y = trail[i].y + (down > 0 ? away - 4 : -away + 4 - name_height) * unit_;
        const Box box{x, y, width, name_height * unit_};
        const double along = static_cast<double>(i) / static_cast<double>(trail.size());
        const double cost =
            away + cost_of(box, number, least) + crossings(leader_box(trail[i], box, unit_)) + std::abs(along - 0.6) * 20;
        if (cost < least) least = cost, best = {box, trail[i]};
      }
    }
  }
  return best;
}

void LineNames::draw_name(std::size_t number, const std::string& label) {
  if (trails_[number].empty() || label.empty()) return;
  TextStyle style = picture_bold(name_type(type_));
  style.halo = true, style.colour = line_pen(number, type_).colour, style.room = longest_name * unit_;
  const Place place = best_place(number, pages_.text_width(label, style));
  taken_.push_back(place.box);
  const Box leader = leader_box(place.anchor, place.box, unit_);
  if (std::hypot(leader.width, leader.height) > 16 * unit_) {
    taken_.push_back(leader);
    pages_.line(place.anchor, nearest_on(place.anchor, place.box, unit_), {0.02 * type_, style.colour, Dash::solid});
  }
  pages_.text({place.box.x, place.box.y + 17 * unit_}, label, style);
}

void LineNames::draw_beside(double x, const std::string& label) {
  TextStyle style = picture_text(type_);
  style.colour = soft_ink, style.halo = true;
  const double width = pages_.text_width(label, style);
  Box best;
  double least = 1e300;
  const int steps = static_cast<int>((plot_.height / unit_ - 34) / 20);
  for (int step = 0; step < steps; ++step) {
    const double y = plot_.bottom() - (30 + 20 * step) * unit_;
    for (const double left : {x + 10 * unit_, x - 10 * unit_ - width}) {
      const Box box{left, y, width, 22 * unit_};
      const double cost = cost_of(box, trails_.size(), least) + step + (left < x ? 3 : 0);
      if (cost < least) least = cost, best = box;
    }
  }
  if (least > 1e299) return;
  pages_.text({best.x, best.y + 16 * unit_}, label, style);
  taken_.push_back(best);
}

double key_height(const Pages& pages, double width, const std::vector<ChartLine>& lines, double type) {
  const std::vector<PagePoint> places = key_places(pages, width, lines, type);
  return places.empty() ? 0 : places.back().y + 0.6 * em(type);
}

void draw_key(Pages& pages, const Box& box, const std::vector<ChartLine>& lines, double type) {
  const std::vector<PagePoint> places = key_places(pages, box.width, lines, type);
  TextStyle style = picture_text(type);
  style.room = std::max(5.0, box.width - em(type) * (sample + sample_gap));
  for (std::size_t n = 0; n < lines.size(); ++n) {
    const PagePoint at{box.x + places[n].x, box.y + places[n].y};
    draw_sample(pages, at, n, type);
    pages.text({at.x + em(type) * (sample + sample_gap), at.y}, lines[n].label, style);
  }
}

void draw_key_column(Pages& pages, const Box& box, const std::vector<ChartLine>& lines, double type) {
  TextStyle style = picture_bold(name_type(type));
  style.room = std::max(5.0, box.width - em(type) * (sample + sample_gap));
  for (std::size_t n = 0; n < lines.size(); ++n) {
    const PagePoint at{box.x, box.y + em(type) * (1 + 1.75 * static_cast<double>(n))};
    style.colour = line_pen(n, type).colour;
    draw_sample(pages, at, n, type);
    pages.text({at.x + em(type) * (sample + sample_gap), at.y}, lines[n].label, style);
  }
}

}  // namespace dishwright
