// SPDX-License-Identifier: MIT
// Maps of a surveyed dish of tiles: how each leans, how high it stands, where it sends its light. Ink tells sizes; signs,
// hatching and arrows tell the ways, so that a copy in grey says the same.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "base/tape_marks.h"
#include "picture/axes.h"
#include "report/survey/tile_plan.h"
#include "report/survey/tile_report.h"

namespace dishwright {

namespace {

using Vector2 = Eigen::Vector2d;

constexpr Colour tile_high{196, 120, 92}, tile_low{120, 160, 200}, outline_grey{150, 150, 152};
constexpr double darkest = 0.75;  // of the ink, so that an arrow or a sign on a tile is still seen

struct TileShade {
  std::vector<Vector2> corners;  // printed unit
  Vector2 middle;
  double value = 0;               // share of the scale's top, −1 … 1
  Vector2 way = Vector2::Zero();  // where its light goes astray, 1 long
  bool read = false, known = false;
};

struct TileMap {
  bool both_ways = false;
  MapWindow window;
  std::vector<TileShade> tiles;
  std::vector<Vector2> worst;
  std::vector<Tick> labels;
  std::string x_label;
};

double tile_first_above(double value, const std::vector<double>& steps) {
  const auto step = std::find_if(steps.begin(), steps.end(), [value](double s) { return value <= s; });
  return step == steps.end() ? steps.back() : *step;
}

/// All tiles without values.
TileMap empty_map(const TileReport& report) {
  const TiledDesign& design = report.tiles.design;
  const double per_metre = lengths_per_metre(report.base.units), reach = 1.02 * tiles_reach(design) * per_metre;
  TileMap map;
  map.window = {-reach, reach, -reach, reach};
  for (std::size_t k = 0; k < design.tiles.size(); ++k) {
    TileShade shade;
    for (const Vector2& corner : tile_on_plan(design, k)) shade.corners.push_back(corner * per_metre);
    shade.middle = design.tiles[k].centre.head<2>() * per_metre;
    map.tiles.push_back(std::move(shade));
  }
  for (std::size_t k = 0; report.light && k < report.light->worst.size(); ++k)
    map.worst.push_back(design.tiles[report.light->worst[k].tile].centre.head<2>() * per_metre);
  map.x_label = fmt::format("x [{}], y up, from the sun side", length_unit(report.base.units));
  return map;
}

TileMap lean_map(const TileReport& report) {
  TileMap map = empty_map(report);
  double most = 1e-3;
  for (const SurveyedTile& read : report.tiles.tiles) most = std::max(most, read.lean.norm());
  const double top = tile_first_above(most, {4e-3, 8e-3, 0.02, 0.04, 0.08, 0.2, 0.4, 0.8, 2});
  for (const SurveyedTile& read : report.tiles.tiles) {
    TileShade& shade = map.tiles[read.tile];
    shade.read = true, shade.known = read.has_plane;
    shade.value = read.lean.norm() / top;
    // A tile that is high at the right sends its light to the left.
    if (shade.value > 0.2)
      shade.way = -(report.tiles.design.tiles[read.tile].turn.topLeftCorner<2, 2>() * read.lean).normalized();
  }
  for (int k = 0; k <= 4; ++k) map.labels.push_back({k / 4.0, fmt::format("{:g} mrad", 250 * k * top)});
  map.x_label = fmt::format("x [{}], y up; arrow: where its light goes", length_unit(report.base.units));
  return map;
}

TileMap height_map(const TileReport& report) {
  TileMap map = empty_map(report);
  map.both_ways = true;
  double most = 0;
  for (const SurveyedTile& read : report.tiles.tiles) most = std::max(most, std::abs(read.height));
  const bool us = report.base.units == Units::us;
  const double unit = us ? 0.0254 : 1e-3;
  const double top =
      unit * tile_first_above(most / unit, us ? std::vector<double>{1 / 32.0, 1 / 16.0, 1 / 8.0, 1 / 4.0, 1 / 2.0, 1, 2, 4}
                                              : std::vector<double>{0.5, 1, 2, 5, 10, 20, 50, 100});
  for (const SurveyedTile& read : report.tiles.tiles) {
    TileShade& shade = map.tiles[read.tile];
    shade.read = shade.known = true;
    shade.value = std::clamp(read.height / top, -1.0, 1.0);
  }
  const std::string size = tape_text(top, report.base.units, 32),
                    half = us ? tape_inches(top / 2, 64) : fmt::format("{:g} mm", 500 * top);
  map.labels = {{1, size + " high"}, {0.5, half}, {0, "true"}, {-0.5, half}, {-1, size + " low"}};
  map.x_label += "; hatched: low";
  return map;
}

Colour toward(const Colour& end, double share) {
  const auto part = [share](std::uint8_t from, std::uint8_t to) {
    return static_cast<std::uint8_t>(std::lround(from + (to - from) * share));
  };
  return {part(255, end.red), part(255, end.green), part(255, end.blue)};
}

Colour shade_colour(const TileMap& map, double value) {
  if (!map.both_ways) return ink_colour(darkest * std::clamp(value, 0.0, 1.0));
  return toward(value >= 0 ? tile_high : tile_low, std::min(1.0, std::abs(value)));
}

/// Three strokes across a tile.
void hatch(Pages& pages, const Axes& axes, const TileShade& tile) {
  const Vector2 u = (tile.corners[0] - tile.middle) * 0.7, v = Vector2(-u.y(), u.x());
  for (const double t : {-0.55, 0.0, 0.55}) {
    const Vector2 from = tile.middle + t * v - u * (1 - std::abs(t)), to = tile.middle + t * v + u * (1 - std::abs(t));
    pages.line(axes.at(from.x(), from.y()), axes.at(to.x(), to.y()), {0.18, ink, Dash::solid});
  }
}

void draw_way(Pages& pages, const PagePoint& at, const Vector2& way, double length) {
  const Vector2 page(way.x(), -way.y()), side(-page.y(), page.x());
  const Vector2 middle(at.x, at.y), tip = middle + page * length / 2, tail = middle - page * length / 2;
  const Pen pen{0.3, ink, Dash::solid, true};
  const auto point = [](const Vector2& p) { return PagePoint{p.x(), p.y()}; };
  pages.line(point(tail), point(tip), pen);
  for (const double way_out : {-1.0, 1.0}) {
    const Vector2 barb = tip - page * 0.35 * length + side * 0.22 * length * way_out;
    pages.line(point(barb), point(tip), pen);
  }
}

void draw_tile(Pages& pages, const Axes& axes, const TileMap& map, const TileShade& tile) {
  std::vector<PagePoint> outline;
  for (const Vector2& corner : tile.corners) outline.push_back(axes.at(corner.x(), corner.y()));
  outline.push_back(outline.front());
  const double size = (tile.corners[1] - tile.corners[0]).norm() * axes.scale();
  if (tile.known) pages.fill(outline, shade_colour(map, tile.value));
  if (tile.known && map.both_ways && tile.value < -0.1) hatch(pages, axes, tile);
  pages.polyline(outline, {tile.read ? 0.2 : 0.08, tile.read ? ink : outline_grey, Dash::solid});
  const PagePoint at = axes.at(tile.middle.x(), tile.middle.y());
  if (tile.way.norm() > 0) draw_way(pages, at, tile.way, std::clamp(0.7 * size, 1.6, 4.0));
  if (tile.read && !tile.known) pages.text({at.x, at.y + 1}, "?", picture_bold(7, Side::middle));
  if (map.both_ways && tile.read && tile.value > 0.2) {
    pages.line({at.x - 0.7, at.y}, {at.x + 0.7, at.y}, {0.25, ink, Dash::solid});
    pages.line({at.x, at.y - 0.7}, {at.x, at.y + 0.7}, {0.25, ink, Dash::solid});
  }
}

void draw_tile_map(Pages& pages, const Box& box, const TileMap& map) {
  const double type = picture_type(box);
  const AxisWords words{map.x_label, "", type, false};
  ScaleBar bar;
  bar.from = map.both_ways ? -1 : 0, bar.to = 1, bar.marks = map.labels;
  bar.colour = [&map, &bar](double share) { return shade_colour(map, bar.from + share * (bar.to - bar.from)); };
  const double left = axes_left(pages, map.window, words), bar_width = scale_bar_width(pages, bar, type), gap = 1.3 * em(type);
  const double scale = std::min((box.width - left - gap - bar_width) / map.window.width(),
                                (box.height - 0.5 - axes_below(words)) / map.window.height());
  const Axes axes{{box.x + left, box.y + 0.5, map.window.width() * scale, map.window.height() * scale}, map.window, false};
  for (const TileShade& tile : map.tiles) draw_tile(pages, axes, map, tile);
  draw_axes(pages, axes, words);
  for (std::size_t k = 0; k < map.worst.size(); ++k) {
    PagePoint p = axes.at(map.worst[k].x(), map.worst[k].y());
    p.x = std::clamp(p.x + 3.2, axes.box.x + 2.2, axes.box.right() - 2.2);
    p.y = std::clamp(p.y - 3.2, axes.box.y + 2.2, axes.box.bottom() - 2.2);
    pages.disc(p, 1.9, paper_white);
    pages.circle(p, 1.9, {0.25, ink, Dash::solid});
    pages.text({p.x, p.y + 0.95}, std::to_string(k + 1), picture_bold(7.5, Side::middle));
  }
  draw_scale_bar(pages, {axes.box.right() + gap, axes.box.y, bar_width, axes.box.height}, bar, type);
}

/// Where the middle of each tile sends its light against where it should, and how wide the target is.
struct AimMap {
  std::vector<Vector2> at;  // printed unit
  double half_width = 0, reach = 1, error = 0;
  std::string x_label, target;
};

AimMap aim_map(const TileReport& report) {
  const double per_metre = lengths_per_metre(report.base.units);
  AimMap map;
  const Target& target = report.base.scene->targets.front();
  map.target = target.name;
  map.half_width = per_metre * std::visit([](const auto& shape) { return shape.width / 2; }, target.shape);
  map.error = per_metre * 2 * report.tiles.design.throw_length() * report.tiles.lean_error();
  map.reach = 1.15 * map.half_width;
  for (const TileAim& aim : report.light->aims) {
    map.at.push_back(aim.off * per_metre);
    map.reach = std::max(map.reach, 1.08 * map.at.back().cwiseAbs().maxCoeff());
  }
  map.x_label = fmt::format("x [{}]; each dot ± {}", length_unit(report.base.units),
                            rough_length(map.error / per_metre, report.base.units));
  return map;
}

void draw_aims(Pages& pages, const Box& box, const AimMap& map) {
  const double type = picture_type(box), unit = em(type);
  const MapWindow window{-map.reach, map.reach, -map.reach, map.reach};
  const AxisWords words{map.x_label, "", type, false};
  const double left = axes_left(pages, window, words);
  const double side = std::min(box.width - left - 1, box.height - 0.5 - axes_below(words));
  const Axes axes{{box.x + left, box.y + 0.5, side, side}, window, false};
  const PagePoint middle = axes.at(0, 0);
  pages.clip(axes.box);
  pages.circle(middle, map.half_width * axes.scale(), {0.3, ink, Dash::dashed});
  for (const double way : {-1.0, 1.0}) {
    pages.line(middle, {middle.x + way * unit, middle.y}, {0.2, outline_grey, Dash::solid});
    pages.line(middle, {middle.x, middle.y + way * unit}, {0.2, outline_grey, Dash::solid});
  }
  for (const Vector2& at : map.at) pages.disc(axes.at(at.x(), at.y()), 0.6, ink);
  pages.drop_clip();
  draw_axes(pages, axes, words);
  TextStyle style = picture_text(type, Side::middle);
  style.halo = true;
  pages.text({middle.x, middle.y - map.half_width * axes.scale() - 0.3 * unit}, "as wide as the " + map.target, style);
}

template <class Shown>
CardPicture tile_picture(const std::string& heading, Shown shown, void (*draw)(Pages&, const Box&, const Shown&)) {
  const auto kept = std::make_shared<const Shown>(std::move(shown));
  return {Drawing{[kept, draw](Pages& pages, const Box& box) { draw(pages, box, *kept); }}, heading};
}

}  // namespace

std::vector<CardPicture> tile_pictures(const TileReport& report) {
  std::vector<CardPicture> out = {tile_picture("Lean of each tile that was read", lean_map(report), draw_tile_map),
                                  tile_picture("High and low against the design", height_map(report), draw_tile_map)};
  if (report.light && !report.light->light.targets.empty())
    out.push_back(tile_picture("Where each tile sends its light, off its place", aim_map(report), draw_aims));
  return out;
}

}  // namespace dishwright
