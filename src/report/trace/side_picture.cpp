// SPDX-License-Identifier: MIT
#include "report/trace/side_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/numbers/text_layout.h"
#include "report/trace/size_words.h"

namespace dishwright {

namespace {

constexpr double words_share = 0.36;  // of the width, for the words beside the drawing
constexpr double margin = 0.06;       // of the drawing's size, all round
const Pen mirror_pen{0.9, ink, Dash::solid}, axis_pen{0.18, soft_ink, Dash::dash_dot}, in_pen{0.18, soft_ink, Dash::solid},
    hit_pen{0.3, ink, Dash::solid}, miss_pen{0.3, ink, Dash::dashed}, target_pen{0.5, ink, Dash::solid},
    aside_pen{0.4, ink, Dash::dotted};

/// What has to be seen [m].
struct Extent {
  double left = 0, right = 0, low = 0, high = 0;
  void take(const CutPoint& at) {
    left = std::min(left, at.across), right = std::max(right, at.across);
    low = std::min(low, at.up), high = std::max(high, at.up);
  }
};

Extent extent_of(const SideView& view) {
  Extent all;
  for (const auto& line : view.profile) {
    for (const CutPoint& at : line) all.take(at);
  }
  const double size = std::max(all.right - all.left, all.high - all.low);
  for (const auto& outline : view.targets) {
    for (const CutPoint& at : outline) {
      if (std::hypot(at.across, at.up) < 4 * size) all.take(at);
    }
  }
  if (view.focal_length && *view.focal_length < 4 * size) all.take({0, *view.focal_length});
  const double room = margin * std::max(all.right - all.left, all.high - all.low);
  all.left -= room, all.right += room, all.low -= 2 * room, all.high += 2 * room;
  return all;
}

/// Metres of the cut onto millimetres of a box, in one scale.
class Scale {
 public:
  Scale(const Extent& extent, const Box& box) : box_(box) {
    per_metre_ = std::min(box.width / (extent.right - extent.left), box.height / (extent.high - extent.low));
    left_ = box.x + (box.width - per_metre_ * (extent.right - extent.left)) / 2 - per_metre_ * extent.left;
    low_ = box.bottom() - (box.height - per_metre_ * (extent.high - extent.low)) / 2 + per_metre_ * extent.low;
  }
  PagePoint operator()(const CutPoint& at) const { return {left_ + per_metre_ * at.across, low_ - per_metre_ * at.up}; }
  double per_metre() const { return per_metre_; }
  /// From a place in the box along a direction of the cut to the box's edge.
  PagePoint edge(const CutPoint& from, const CutPoint& toward) const {
    const PagePoint at = (*this)(from);
    const double dx = toward.across, dy = -toward.up;
    const double x_way = dx > 0 ? (box_.right() - at.x) / dx : dx < 0 ? (box_.x - at.x) / dx : 1e9;
    const double y_way = dy > 0 ? (box_.bottom() - at.y) / dy : dy < 0 ? (box_.y - at.y) / dy : 1e9;
    const double way = std::max(0.0, std::min(x_way, y_way));
    return {at.x + way * dx, at.y + way * dy};
  }

 private:
  Box box_;
  double per_metre_ = 1, left_ = 0, low_ = 0;
};

std::vector<PagePoint> placed(const std::vector<CutPoint>& line, const Scale& scale) {
  std::vector<PagePoint> out;
  out.reserve(line.size());
  for (const CutPoint& at : line) out.push_back(scale(at));
  return out;
}

/// Light on its way in, from the edge of the picture; after the mirror until it lands or leaves.
void draw_ray(Pages& pages, const CutRay& ray, const Scale& scale) {
  if (ray.way.size() < 2) return;
  const CutPoint &start = ray.way[0], &first = ray.way[1];
  const double length = std::hypot(start.across - first.across, start.up - first.up);
  const CutPoint back{(start.across - first.across) / length, (start.up - first.up) / length};
  pages.line(scale.edge(first, back), scale(first), in_pen);
  const bool lands = ray.end == SightEnd::counted;
  const Pen& pen = lands ? hit_pen : miss_pen;
  for (std::size_t k = 1; k + 1 < ray.way.size(); ++k) pages.line(scale(ray.way[k]), scale(ray.way[k + 1]), pen);
  if (ray.end == SightEnd::missed && ray.way.size() >= 2) {
    const double step = std::hypot(ray.toward.across, ray.toward.up);
    if (step > 1e-9) pages.line(scale(ray.way.back()), scale.edge(ray.way.back(), ray.toward), pen);
  }
}

void draw_letter(Pages& pages, const CutRay& ray, const char* letter, const Scale& scale) {
  if (ray.way.size() < 2) return;
  TextStyle style{8, true};
  style.side = Side::middle, style.halo = true;
  const PagePoint at = scale(ray.way[1]);
  pages.text({at.x, at.y + 3.6}, letter, style);
}

void draw_sun(Pages& pages, const SideView& view, const Box& box) {
  constexpr double reach = 7;
  TextStyle style{7.5};
  style.side = Side::right, style.colour = soft_ink;
  // An arrow the way the light travels, in the corner.
  const PagePoint head{box.x + 10, box.y + 9};
  const PagePoint tail{head.x + reach * std::sin(view.sun), head.y - reach * std::cos(view.sun)};
  const Pen pen{0.35, ink, Dash::solid};
  pages.line(tail, head, pen);
  for (const double turn : {0.4, -0.4})
    pages.line(head, {head.x + 2.2 * std::sin(view.sun + turn), head.y - 2.2 * std::cos(view.sun + turn)}, pen);
  pages.text({tail.x - 1.5, tail.y + 2.4}, "sun", style);
}

void draw_cut(Pages& pages, const Box& box, const SideView& view) {
  const Scale scale(extent_of(view), box);
  pages.clip(box);
  pages.line(scale.edge({0, 0}, {0, -1}), scale.edge({0, 0}, {0, 1}), axis_pen);
  for (const CutRay& ray : view.rays) draw_ray(pages, ray, scale);
  for (std::size_t k = 0; k < view.targets.size(); ++k) {
    std::vector<PagePoint> corners = placed(view.targets[k], scale);
    if (corners.empty()) continue;
    const bool cut = k >= view.cut_targets.size() || view.cut_targets[k] != 0;
    if (corners.size() > 2 && cut) pages.fill(corners, faint_ink);
    corners.push_back(corners.front());
    pages.polyline(corners, cut ? target_pen : aside_pen);
  }
  for (const auto& line : view.profile) pages.polyline(placed(line, scale), mirror_pen);
  if (view.named && view.sun != 0) {
    draw_letter(pages, view.named->middle, "M", scale);
    draw_letter(pages, view.named->near_rim, "N", scale);
    draw_letter(pages, view.named->far_rim, "F", scale);
  }
  if (view.focal_length) {
    const PagePoint focus = scale({0, *view.focal_length});
    pages.disc(focus, 0.9, paper_white);
    pages.circle(focus, 0.9, {0.35, ink, Dash::solid});
    TextStyle style{7.5};
    style.halo = true;
    // Beside whatever stands there.
    double right = focus.x + 1;
    for (const auto& outline : view.targets) {
      double from = 1e9, to = -1e9;
      for (const CutPoint& at : outline) from = std::min(from, scale(at).x), to = std::max(to, scale(at).x);
      if (from < focus.x + 2 && to > focus.x && to < focus.x + 25) right = std::max(right, to);
    }
    pages.text({right + 1.2, focus.y - 1.2}, "focus", style);
  }
  draw_sun(pages, view, box);
  pages.drop_clip();
}

/// The words beside the drawing.
std::vector<std::string> beside(const SideView& view, Units units) {
  std::vector<std::string> lines{size_words(view, units)};
  if (const std::string doubts = size_doubts(view, units); !doubts.empty()) lines.push_back(doubts);
  if (view.directrix)
    lines.push_back(fmt::format("A parabola: its directrix is {} below the vertex.", length_text(*view.focal_length, units)));
  if (view.petals > 0)
    lines.push_back(fmt::format("{} petals, flat across: that does not show in a cut along them.", view.petals));
  const bool misses = std::any_of(view.rays.begin(), view.rays.end(),
                                  [](const CutRay& ray) { return ray.end != SightEnd::counted && ray.way.size() > 1; });
  lines.emplace_back(misses ? "Rays of the sun's middle: drawn through where they land on the target, dashed where they do not."
                            : "Rays of the sun's middle: all that are drawn land on the target.");
  if (std::find(view.cut_targets.begin(), view.cut_targets.end(), 0) != view.cut_targets.end())
    lines.emplace_back("A dotted target stands before or behind this cut.");
  if (view.named && view.sun != 0)
    lines.emplace_back("M: middle ray. N: near rim, on the side that the sun leans to. F: far rim.");
  return lines;
}

}  // namespace

CardPicture side_picture(const SideView& view, Units units) {
  Drawing drawing;
  drawing.draw = [view, units](Pages& pages, const Box& box) {
    const double words = words_share * box.width;
    draw_cut(pages, {box.x, box.y, box.width - words - 4, box.height}, view);
    const std::vector<std::string> lines = beside(view, units);
    constexpr double gap = 1.2;  // [mm]
    TextStyle style;
    for (const double size : {8.5, 7.8, 7.2, 6.6, 6.0, 5.4}) {  // the largest type with which all of it fits
      style.size = size;
      double height = 0;
      for (const std::string& line : lines) height += pages.paragraph_height(words, line, style) + gap;
      if (height <= box.height) break;
    }
    double y = box.y;
    for (const std::string& line : lines) y += pages.paragraph({box.right() - words, y, words, 0}, line, style) + gap;
  };
  CardPicture picture;
  picture.what = std::move(drawing);
  picture.heading = "Side view, to scale";
  picture.share = 1, picture.height = 50;
  return picture;
}

}  // namespace dishwright
