// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/numbers/caution.h"
#include "report/numbers/deferral.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/yard/keep_clear_report.h"
#include "report/yard/mirror_hull.h"
#include "report/yard/yard_words.h"

namespace dishwright {

namespace {

constexpr double below_margin = 8, side_margin = 22, top_margin = 4;  // [mm]; labels stand at the right

/// How a level is drawn: it reads by its hatch and its label alone.
struct Band {
  Colour ground;
  double gap;  ///< between hatch lines [mm]; 0: none
  Pen hatch, edge;
  const char* label;
};
const std::array<Band, 4> bands = {{{{248, 248, 246}, 0, {}, {0.3, ink, Dash::dashed}, "1 sun"},
                                    {{232, 232, 230}, 4, {0.15, soft_ink, Dash::solid}, {0.3, ink, Dash::dotted}, "hurts"},
                                    {{205, 205, 203}, 2, {0.2, soft_ink, Dash::solid}, {0.35, ink, Dash::solid}, "burns"},
                                    {{140, 140, 140}, 1, {0.25, ink, Dash::solid}, {0.6, ink, Dash::solid}, "fire"}}};

/// One view: across to the right, along the beam upward.
class View {
 public:
  View(const KeepClear& field, const Scene& scene, bool side, const Box& box) : side_(side) {
    const Vector3 across = side ? Vector3::UnitY() : Vector3::UnitX(), vertex = scene.reflectors.front().pose.at;
    for (const Reflector& mirror : scene.reflectors) {
      std::vector<Vector3> places = mirror_places(mirror);
      for (Vector3& at : places) at -= vertex;
      hulls_.push_back(seen_hull(places, across, Vector3::UnitZ()));
    }
    for (const auto& hull : hulls_) {
      for (const YardPoint& at : hull) take(at.right, at.up);
    }
    // What stretches far beyond the rest is cut at ten mirror widths.
    const double most = 10 * (right_ - left_) + high_;
    for (const KeepClearLevel& level : field.levels) {
      for (const KeepClearSlice& slice : level.slices) {
        if (slice.along > most) continue;
        take(low(slice), slice.along), take(high(slice), slice.along);
      }
    }
    const double wide = box.width - 2 * side_margin, tall = box.height - below_margin - top_margin;
    scale_ = std::min(wide / std::max(right_ - left_, 1e-6), tall / std::max(high_ - low_, 1e-6));
    x_ = box.x + box.width / 2 - scale_ * (left_ + right_) / 2;
    y_ = box.bottom() - below_margin + scale_ * low_;
  }

  PagePoint at(double across, double along) const { return {x_ + scale_ * across, y_ - scale_ * along}; }
  double scale() const { return scale_; }
  double low(const KeepClearSlice& slice) const { return side_ ? slice.low_y : slice.low_x; }
  double high(const KeepClearSlice& slice) const { return side_ ? slice.high_y : slice.high_x; }
  double right() const { return right_; }
  double top() const { return high_; }
  double bottom() const { return low_; }
  const std::vector<std::vector<YardPoint>>& hulls() const { return hulls_; }

  /// The outline of a level, from one end up one side and back.
  std::vector<PagePoint> outline(const KeepClearLevel& level) const {
    std::vector<PagePoint> left, right;
    for (const KeepClearSlice& slice : level.slices) {
      if (slice.along > high_) break;
      left.push_back(at(low(slice), slice.along)), right.push_back(at(high(slice), slice.along));
    }
    if (left.empty()) return {};
    const auto tip = [&](const KeepClearSlice& slice, double along) { return at((low(slice) + high(slice)) / 2, along); };
    std::vector<PagePoint> all{tip(level.slices.front(), level.from)};
    all.insert(all.end(), right.begin(), right.end());
    if (level.to <= high_) all.push_back(tip(level.slices.back(), level.to));
    all.insert(all.end(), left.rbegin(), left.rend());
    return all;
  }

 private:
  void take(double across, double along) {
    left_ = std::min(left_, across), right_ = std::max(right_, across);
    low_ = std::min(low_, along), high_ = std::max(high_, along);
  }
  bool side_;
  std::vector<std::vector<YardPoint>> hulls_;
  double left_ = 0, right_ = 0, low_ = 0, high_ = 0;  // [m]
  double scale_ = 1, x_ = 0, y_ = 0;                  // [mm]
};

/// Level lines across a polygon.
void draw_hatch(Pages& pages, const std::vector<PagePoint>& outline, double gap, const Pen& pen) {
  double top = 1e9, bottom = -1e9;
  for (const PagePoint& at : outline) top = std::min(top, at.y), bottom = std::max(bottom, at.y);
  for (double y = (std::floor(top / gap) + 0.5) * gap; y < bottom; y += gap) {
    std::vector<double> cuts;
    for (std::size_t k = 0; k < outline.size(); ++k) {
      const PagePoint &a = outline[k], &b = outline[(k + 1) % outline.size()];
      if ((a.y > y) == (b.y > y)) continue;
      cuts.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
    }
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t k = 0; k + 1 < cuts.size(); k += 2) pages.line({cuts[k], y}, {cuts[k + 1], y}, pen);
  }
}

/// Words at the right of the drawing, one below the other, each with a line to its height.
void draw_labels(Pages& pages, const View& view, const KeepClear& field, Units units) {
  struct Label {
    double y;
    std::string words;
    PagePoint from;
  };
  std::vector<Label> labels;
  for (std::size_t k = 0; k < field.levels.size(); ++k) {
    const KeepClearLevel& level = field.levels[k];
    if (!level.passed()) continue;
    const double to = std::min(level.to, view.top());
    const KeepClearSlice& last = level.slices.back();
    const PagePoint at = view.at((view.low(last) + view.high(last)) / 2, to);
    labels.push_back({at.y, fmt::format("{} to {}", bands.at(k).label, yard_text(level.to, units, true)), at});
    if (k > 0) {
      const KeepClearSlice& first = level.slices.front();
      const PagePoint below = view.at((view.low(first) + view.high(first)) / 2, level.from);
      labels.push_back({below.y, fmt::format("{} from {}", bands.at(k).label, yard_text(level.from, units, false)), below});
    }
  }
  std::sort(labels.begin(), labels.end(), [](const Label& a, const Label& b) { return a.y < b.y; });
  constexpr double line_height = 3.2;
  for (std::size_t k = 1; k < labels.size(); ++k) labels[k].y = std::max(labels[k].y, labels[k - 1].y + line_height);
  TextStyle style{6.5};
  style.halo = true;
  const double x = view.at(view.right(), 0).x + 2;
  for (const Label& one : labels) {
    pages.line(one.from, {x, one.y}, {0.12, soft_ink, Dash::solid});
    pages.text({x + 0.6, one.y + 0.9}, one.words, style);
  }
}

void draw_rule(Pages& pages, const View& view, const Box& box, Units units) {
  const double unit = units == Units::us ? 0.3048 : 0.5;
  const double length = unit * view.scale() >= 6 ? unit : unit * std::ceil(6 / (unit * view.scale()));
  const PagePoint from{box.x + 3, box.bottom() - 2.5};
  const Pen pen{0.35, ink, Dash::solid};
  pages.line(from, {from.x + length * view.scale(), from.y}, pen);
  for (const double end : {0.0, length * view.scale()}) pages.line({from.x + end, from.y - 1}, {from.x + end, from.y + 1}, pen);
  TextStyle style{6.5};
  style.side = Side::middle;
  pages.text({from.x + length * view.scale() / 2, from.y - 1.3}, yard_text(length, units), style);
}

void draw_view(Pages& pages, const Box& box, const KeepClear& field, const Scene& scene, bool side, Units units) {
  const View view(field, scene, side, box);
  pages.clip(box);
  for (std::size_t k = 0; k < field.levels.size(); ++k) {
    if (!field.levels[k].passed()) continue;
    std::vector<PagePoint> outline = view.outline(field.levels[k]);
    if (outline.size() < 3) continue;
    const Band& band = bands.at(k);
    pages.fill(outline, band.ground);
    if (band.gap > 0) draw_hatch(pages, outline, band.gap, band.hatch);
    outline.push_back(outline.front());
    pages.polyline(outline, band.edge);
  }
  for (const auto& hull : view.hulls()) {
    std::vector<PagePoint> outline;
    for (const YardPoint& one : hull) outline.push_back(view.at(one.right, one.up));
    outline.push_back(outline.front());
    pages.polyline(outline, {0.7, ink, Dash::solid});
  }
  pages.line(view.at(0, view.bottom()), view.at(0, view.top()), {0.15, ink, Dash::dash_dot});
  draw_labels(pages, view, field, units);
  draw_rule(pages, view, box, units);
  pages.drop_clip();
}

}  // namespace

CardPicture keep_clear_picture(const KeepClear& field, const Scene& scene, bool side, Units units) {
  Drawing drawing;
  drawing.draw = [field, scene, side, units](Pages& pages, const Box& box) { draw_view(pages, box, field, scene, side, units); };
  CardPicture picture;
  picture.what = std::move(drawing);
  picture.heading = side ? "From the side (up and down), the sun above" : "From above (left and right), the sun above";
  picture.share = 0.5, picture.height = 92;
  return picture;
}

WorkCard keep_clear_card(const Result& result) {
  const TraceFigures& figures = result.figures;
  const KeepClear& field = *figures.keep_clear;
  const bool none =
      std::none_of(field.levels.begin(), field.levels.end(), [](const KeepClearLevel& level) { return level.passed(); });
  WorkCard card;
  card.name = fmt::format("{}: keep clear", scene_title(result.scene, result.name));
  card.title = {{"Project", scene_title(result.scene, result.name)},
                {"Light", "sun"},
                {"Sheet", "keep clear"},
                {"Made with", fmt::format("dishwright {}", DISHWRIGHT_VERSION)}};
  card.question = "Where must nothing and nobody be?";
  card.answer = keep_clear_words(figures, result.units);
  if (!none)
    card.pictures = {keep_clear_picture(field, result.scene, true, result.units),
                     keep_clear_picture(field, result.scene, false, result.units)};
  CardTable table{keep_clear_table(field, result.units)};
  card.numbers = {{"How far, along the beam from the vertex and across it", table, true}};
  card.numbers.push_back({"What the levels mean (rough)",
                          CardList{{fmt::format("One sun: {} W/m², as much as the sun straight.", exact_text(field.beam)),
                                    "1.58 kW/m²: the most that clothed workers may stand in for long [API 521].",
                                    "4.73 kW/m²: a few minutes of emergency work, clothed [API 521]; dry wood can char.",
                                    "20 kW/m²: wood catches fire with no flame near, as codes take it."}}});
  card.numbers.push_back(
      {"How it was found",
       CardList{{"The light off the mirrors alone, pots and plates taken away: what is missed protects nobody.",
                 "On a face turned so that it gets the most. The sun straight adds one sun.",
                 "As the project is aimed: the whole drawing turns with the dish, and moves when the sun has moved.",
                 "Light more than 87 degrees off the beam is left out."}}});
  std::vector<std::string> list = safety_list(figures);
  card.numbers.push_back({"The list to work by", CardList{list, true, 8}, true});
  card.numbers.push_back({"Eyes and wind", CardList{{eye_words(), wind_words(dish_area(figures))}}, true});
  card.cautions = {"This is no promise that anything is safe. " + deferral};
  card.settings = {settings_line(result.scene, figures, result.digest)};
  return card;
}

}  // namespace dishwright
