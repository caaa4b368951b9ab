// SPDX-License-Identifier: MIT
// Residual map, slope map and section of a measured mirror. High and low differ by colour and by the signs + and −; slopes are
// ink on paper.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <utility>

#include "base/tape_marks.h"
#include "picture/axes.h"
#include "report/survey/survey_files.h"

namespace dishwright {

namespace {

constexpr Colour grey{120, 120, 124}, brick{168, 58, 24}, blue{30, 100, 170};

enum class MapKind { residual, slope };

/// The scale of a map: its top and its words.
struct MapScale {
  double top = 1;  ///< [m] or [rad]
  std::vector<Tick> labels;
  bool both_ways = true;
};

double first_above(double value, const std::vector<double>& steps) {
  for (const double step : steps) {
    if (value <= step) return step;
  }
  return steps.back();
}

MapScale residual_scale(const SurveyReport& report) {
  double most = 0;
  for (const SlopePoint& point : report.survey.map.points) most = std::max(most, std::abs(point.value));
  const bool us = report.units == Units::us;
  const double unit = us ? 0.0254 : 1e-3;
  MapScale scale;
  scale.top = unit * first_above(most / unit, us ? std::vector<double>{1 / 32.0, 1 / 16.0, 1 / 8.0, 1 / 4.0, 1 / 2.0, 1, 2, 4, 8}
                                                 : std::vector<double>{0.5, 1, 2, 5, 10, 20, 50, 100, 200});
  const std::string size = tape_text(scale.top, report.units, 32);
  const std::string half = us ? tape_inches(scale.top / 2, 64) : fmt::format("{:g} mm", 500 * scale.top);
  scale.labels = {
      {scale.top, size + " high"}, {scale.top / 2, half}, {0, "true"}, {-scale.top / 2, half}, {-scale.top, size + " low"}};
  return scale;
}

Colour mixed(const Colour& end, double share) {
  const auto part = [share](std::uint8_t from, std::uint8_t to) {
    return static_cast<std::uint8_t>(std::lround(from + (to - from) * share));
  };
  return {part(paper_white.red, end.red), part(paper_white.green, end.green), part(paper_white.blue, end.blue)};
}

Colour colour_of(const MapScale& scale, double value) {
  const double share = std::clamp(value / scale.top, -1.0, 1.0);
  if (!scale.both_ways) return ink_colour(share);
  return mixed(share >= 0 ? brick : blue, std::abs(share));
}

/// Low places are hatched, so that a copy in grey tells them from high ones.
constexpr double hatched_from = 0.1;  // of the scale's top
bool is_hatched(const MapScale& scale, double value) { return scale.both_ways && value < -hatched_from * scale.top; }

Colour darker(const Colour& c) {
  constexpr double left = 0.45;
  const auto part = [](std::uint8_t from) { return static_cast<std::uint8_t>(std::lround(left * from)); };
  return {part(c.red), part(c.green), part(c.blue)};
}

double map_value(const SurveyReport& report, MapKind kind, double x, double y) {
  const MeasuredSurface& surface = *report.survey.surface;
  const Eigen::Vector2d fitted = slope_at(surface.shape(), x, y);
  const double level = 1 / std::sqrt(1 + fitted.squaredNorm());
  if (kind == MapKind::residual) return (surface.height(x, y) - surface.fitted_height(x, y)) * level;
  // The angle between the two normals, small angles.
  return (surface.slope(x, y) - fitted).norm() * level * level;
}

MapScale slope_scale(const SurveyReport& report) {
  double most = 0;
  const MeasuredSurface& surface = *report.survey.surface;
  constexpr int looks = 60;
  for (int i = 0; i < looks * looks; ++i) {
    const Eigen::Vector2d share((i % looks + 0.5) / looks, (std::floor(1.0 * i / looks) + 0.5) / looks);
    const Eigen::Vector2d at = surface.lowest() + share.cwiseProduct(surface.highest() - surface.lowest());
    if (surface.covers(at.x(), at.y())) most = std::max(most, map_value(report, MapKind::slope, at.x(), at.y()));
  }
  MapScale scale;
  scale.both_ways = false;
  scale.top = first_above(most, {1e-3, 2e-3, 4e-3, 6e-3, 0.01, 0.02, 0.04, 0.06, 0.1, 0.2, 0.5, 1, 2});
  for (int k = 0; k <= 4; ++k) scale.labels.push_back({scale.top * k / 4, fmt::format("{:g} mrad", 250 * k * scale.top)});
  return scale;
}

/// A map that has been reckoned, in the printed unit.
struct SurveyMap {
  MapWindow window;
  Pixels image;
  MapScale scale;
  std::string x_label;
  struct Sign {
    double x, y;
    int way;  ///< -1 low, 0 neither, 1 high
  };
  std::vector<Sign> signs;
  std::vector<std::pair<double, double>> spots;   ///< the worst first
  std::vector<std::pair<double, double>> unseen;  ///< half way between readings whose ring hides a wave that matters
};

Pixels map_pixels(const SurveyReport& report, MapKind kind, const Eigen::Vector2d& low, const Eigen::Vector2d& size,
                  const MapScale& scale) {
  constexpr double longer_side = 480;
  Pixels out;
  const double dots = longer_side / std::max(size.x(), size.y());
  out.width = std::max(1, static_cast<int>(size.x() * dots)), out.height = std::max(1, static_cast<int>(size.y() * dots));
  for (int row = 0; row < out.height; ++row) {
    for (int column = 0; column < out.width; ++column) {
      const double x = low.x() + (column + 0.5) / out.width * size.x(), y = low.y() + (1 - (row + 0.5) / out.height) * size.y();
      constexpr int hatch = 16, stroke = 3;  // dots
      Colour c = paper_white;
      if (report.survey.surface->covers(x, y)) {
        const double value = map_value(report, kind, x, y);
        c = colour_of(scale, value);
        if ((row + column) % hatch < stroke && is_hatched(scale, value)) c = darker(c);
      }
      for (const std::uint8_t part : {c.red, c.green, c.blue, std::uint8_t{255}}) out.rgba.push_back(part);
    }
  }
  return out;
}

/// High or low at the readings, so that a copy in grey still tells them apart.
std::vector<SurveyMap::Sign> signs_of(const SurveyReport& report, const MapScale& scale, double per_metre) {
  const SlopeMap& map = report.survey.map;
  const PlacedShape& shape = report.survey.surface->shape();
  const std::size_t stride = std::max<std::size_t>(1, map.samples.size() / 250);
  std::vector<SurveyMap::Sign> signs;
  for (std::size_t i = 0; i < map.samples.size(); i += stride) {
    const Vector3 at = shape.from_own(map.samples[i].foot);
    const double value = map.points[i].value;
    signs.push_back({at.x() * per_metre, at.y() * per_metre, std::abs(value) < 0.2 * scale.top ? 0 : value > 0 ? 1 : -1});
  }
  return signs;
}

std::vector<std::pair<double, double>> spots_of(const SurveyReport& report, double per_metre) {
  std::vector<std::pair<double, double>> spots;
  for (const Spot& spot : report.survey.spots) {
    Eigen::Vector2d at = spot.place;
    if (!report.survey.points.under_rim)
      at = report.survey.fit().shape.to_own(Vector3(at.x(), at.y(), report.survey.fit().shape.vertex.z())).head<2>();
    spots.emplace_back(at.x() * per_metre, at.y() * per_metre);
  }
  return spots;
}

/// Half way between neighbours on the rings that hide most: where to read, too. Gaps below two thirds of the widest are left out.
std::vector<std::pair<double, double>> unseen_of(const SurveyReport& report, double per_metre) {
  const std::vector<HiddenRing>& rings = report.survey.hidden.rings;
  double widest = 0;
  for (const HiddenRing& ring : rings) widest = std::max(widest, ring.gap);
  std::vector<std::pair<double, double>> places;
  for (const HiddenRing& ring : rings) {
    for (std::size_t k = 0; k < ring.angles.size(); ++k) {
      const double from = ring.angles[k],
                   to = k + 1 < ring.angles.size() ? ring.angles[k + 1] : ring.angles.front() + 2 * std::numbers::pi;
      if (2 * ring.radius * std::sin((to - from) / 2) < widest * 2 / 3) continue;
      const double half = (from + to) / 2;
      places.emplace_back(ring.radius * std::cos(half) * per_metre, ring.radius * std::sin(half) * per_metre);
    }
  }
  return places;
}

SurveyMap reckon_map(const SurveyReport& report, MapKind kind) {
  const MeasuredSurface& surface = *report.survey.surface;
  const double per_metre = lengths_per_metre(report.units);
  const Eigen::Vector2d edge = 0.02 * (surface.highest() - surface.lowest());
  const Eigen::Vector2d low = surface.lowest() - edge, high = surface.highest() + edge;
  SurveyMap map;
  map.window = {low.x() * per_metre, high.x() * per_metre, low.y() * per_metre, high.y() * per_metre};
  map.scale = kind == MapKind::residual ? residual_scale(report) : slope_scale(report);
  map.image = map_pixels(report, kind, low, high - low, map.scale);
  map.x_label = fmt::format("x [{}], y up, from the sun side", length_unit(report.units));
  if (kind == MapKind::residual) map.x_label += "; hatched: low";
  if (kind == MapKind::residual) map.signs = signs_of(report, map.scale, per_metre);
  map.spots = spots_of(report, per_metre);
  map.unseen = unseen_of(report, per_metre);
  if (!map.unseen.empty()) map.x_label += "; rings: not read";
  return map;
}

void draw_signs(Pages& pages, const Axes& axes, const SurveyMap& map) {
  const Pen pen{0.25, ink, Dash::solid};
  for (const SurveyMap::Sign& sign : map.signs) {
    const PagePoint p = axes.at(sign.x, sign.y);
    if (sign.way == 0) {
      pages.disc(p, 0.2, grey);
      continue;
    }
    pages.line({p.x - 0.8, p.y}, {p.x + 0.8, p.y}, pen);
    if (sign.way > 0) pages.line({p.x, p.y - 0.8}, {p.x, p.y + 0.8}, pen);
  }
}

void draw_unseen(Pages& pages, const Axes& axes, const SurveyMap& map) {
  for (const auto& [x, y] : map.unseen) pages.circle(axes.at(x, y), 1.1, {0.25, ink, Dash::dotted});
}

/// Numbers 1 to 5 beside the worst spots, each in a white disc that stays inside the map.
void draw_spot_numbers(Pages& pages, const Axes& axes, const SurveyMap& map) {
  const Box& box = axes.box;
  for (std::size_t k = 0; k < map.spots.size(); ++k) {
    PagePoint p = axes.at(map.spots[k].first, map.spots[k].second);
    p.x = std::clamp(p.x + 3.2, box.x + 2.2, box.right() - 2.2), p.y = std::clamp(p.y - 3.2, box.y + 2.2, box.bottom() - 2.2);
    pages.disc(p, 1.9, paper_white);
    pages.circle(p, 1.9, {0.25, ink, Dash::solid});
    pages.text({p.x, p.y + 0.95}, std::to_string(k + 1), picture_bold(7.5, Side::middle));
  }
}

void draw_map(Pages& pages, const Box& box, const SurveyMap& map) {
  const double type = picture_type(box);
  const AxisWords words{map.x_label, "", type, false};
  ScaleBar bar;
  bar.from = map.scale.both_ways ? -map.scale.top : 0, bar.to = map.scale.top, bar.marks = map.scale.labels;
  bar.colour = [&map, &bar](double share) {
    constexpr double strokes = 20, stroke = 0.3;
    const double value = bar.from + share * (bar.to - bar.from);
    const Colour c = colour_of(map.scale, value);
    return is_hatched(map.scale, value) && std::fmod(share * strokes, 1) < stroke ? darker(c) : c;
  };
  const double left = axes_left(pages, map.window, words), bar_width = scale_bar_width(pages, bar, type), gap = 1.3 * em(type);
  const double scale = std::min((box.width - left - gap - bar_width) / map.window.width(),
                                (box.height - 0.5 - axes_below(words)) / map.window.height());
  const Axes axes{{box.x + left, box.y + 0.5, map.window.width() * scale, map.window.height() * scale}, map.window, false};
  pages.image(axes.box, map.image);
  draw_axes(pages, axes, words);
  draw_signs(pages, axes, map);
  draw_unseen(pages, axes, map);
  draw_spot_numbers(pages, axes, map);
  draw_scale_bar(pages, {axes.box.right() + gap, axes.box.y, bar_width, axes.box.height}, bar, type);
}

// ---- Section ----
/// Heights along one line through the middle.
struct Cut {
  std::string name;
  std::vector<double> along, measured, wanted;  ///< [m]
  Dash dash = Dash::solid;
};

bool against_design(const SurveyReport& report) {
  return report.meant_focal_length || (report.scene && report.survey.fit().shape.kind == ShapeKind::meant);
}

/// What the surface is held against: the design standing on the measured lowest point, or the best fit.
double wanted_height(const SurveyReport& report, double x, double y) {
  const PlacedShape& fitted = report.survey.surface->shape();
  if (!against_design(report)) return report.survey.surface->fitted_height(x, y);
  PlacedShape meant = fitted;
  if (fitted.has_focus()) meant.size = *report.meant_focal_length * (fitted.kind == ShapeKind::sphere ? 2 : 1);
  if (report.survey.points.under_rim) {
    const bool trough = fitted.kind == ShapeKind::trough;
    meant.vertex = Vector3::Zero();
    meant.turn = Matrix3::Identity();
    if (trough && std::abs(fitted.turn(1, 0)) > std::abs(fitted.turn(0, 0))) meant.turn << 0, -1, 0, 1, 0, 0, 0, 0, 1;
  }
  return height_at(meant, x, y);
}

/// Is the middle of the rim the origin?
bool about_rim(const PlacedShape& shape) { return shape.kind != ShapeKind::meant || shape.meant->in_rim_plane; }

Cut cut_along(const SurveyReport& report, bool across) {
  const MeasuredSurface& surface = *report.survey.surface;
  Cut cut;
  cut.name = across ? "9 to 3 o'clock" : "6 to 12 o'clock";
  if (report.file.places == PlaceWords::cloud || !surface.shape().round() || !about_rim(surface.shape()))
    cut.name = across ? "along x" : "along y";
  cut.dash = across ? Dash::solid : Dash::dashed;
  const Eigen::Vector2d middle = (surface.lowest() + surface.highest()) / 2;
  const double from = across ? surface.lowest().x() : surface.lowest().y(),
               to = across ? surface.highest().x() : surface.highest().y();
  constexpr int count = 121;
  for (int k = 0; k < count; ++k) {
    const double s = from + (to - from) * k / (count - 1), x = across ? s : middle.x(), y = across ? middle.y() : s;
    cut.along.push_back(s);
    cut.measured.push_back(surface.height(x, y));
    cut.wanted.push_back(wanted_height(report, x, y));
  }
  return cut;
}

struct Range {
  double from = 0, to = 0;
};
Range range_of(const std::vector<Cut>& cuts, std::vector<double> Cut::*part) {
  Range range{1e300, -1e300};
  for (const Cut& cut : cuts) {
    for (const double value : cut.*part) range.from = std::min(range.from, value), range.to = std::max(range.to, value);
  }
  return range;
}

/// A section that has been reckoned.
struct Section {
  std::vector<Cut> cuts;
  double from = 0, to = 0;   ///< along [m]
  double low = 0, high = 0;  ///< heights [m]
  double most = 0;           ///< difference at the edge of the lower panel [m]
  std::string wanted, lengths, most_words;
  double per_metre = 1;
};

Section reckon_section(const SurveyReport& report) {
  Section section;
  section.cuts = {cut_along(report, true)};
  if (report.survey.fit().shape.round()) section.cuts.push_back(cut_along(report, false));
  const Range along = range_of(section.cuts, &Cut::along), height = range_of(section.cuts, &Cut::measured),
              wanted = range_of(section.cuts, &Cut::wanted);
  section.from = along.from, section.to = along.to;
  section.low = std::min(height.from, wanted.from), section.high = std::max(height.to, wanted.to);
  for (const Cut& cut : section.cuts) {
    for (std::size_t k = 0; k < cut.along.size(); ++k)
      section.most = std::max(section.most, std::abs(cut.measured[k] - cut.wanted[k]));
  }
  const bool us = report.units == Units::us;
  const double unit = us ? 0.0254 : 1e-3;
  section.most =
      unit * first_above(section.most / unit, us ? std::vector<double>{1 / 32.0, 1 / 16.0, 1 / 8.0, 1 / 4.0, 1 / 2.0, 1, 2, 4}
                                                 : std::vector<double>{0.5, 1, 2, 5, 10, 20, 50, 100});
  section.most_words = tape_text(section.most, report.units, 32);
  section.wanted = against_design(report) ? "design" : "best fit";
  section.lengths = fmt::format("lengths in {}", length_unit(report.units));
  section.per_metre = lengths_per_metre(report.units);
  return section;
}

/// Where the two panels of a section lie: the profile in true scale both ways; the difference, enlarged.
struct SectionFrame {
  const Section& section;
  Box upper, below;
  double scale = 1;  ///< [mm/m]
  double x(double along) const { return upper.x + (along - section.from) * scale; }
};

SectionFrame section_frame(const Box& box, const Section& section, double type) {
  const double unit = em(type), left = 5.7 * unit, key = 17.5 * unit, gap = 3.5 * unit, under = 1.8 * unit,
               least_below = 5.7 * unit;
  const double long_way = section.to - section.from, high = std::max(section.high - section.low, 1e-6);
  SectionFrame frame{section, {}, {}};
  frame.scale = std::min((box.width - left - key) / long_way, (box.height - least_below - gap - under) / high);
  frame.upper = {box.x + left, box.y, long_way * frame.scale, std::max(3.0, high * frame.scale)};
  frame.below = {frame.upper.x, frame.upper.bottom() + gap, frame.upper.width, box.bottom() - frame.upper.bottom() - gap - under};
  return frame;
}

Colour colour_of(const Cut& cut) { return cut.dash == Dash::solid ? brick : blue; }

void draw_cuts(Pages& pages, const SectionFrame& frame, double type) {
  const Box& below = frame.below;
  const Section& section = frame.section;
  for (const Cut& cut : section.cuts) {
    std::vector<PagePoint> measured, meant, off;
    for (std::size_t k = 0; k < cut.along.size(); ++k) {
      const double x = frame.x(cut.along[k]);
      measured.push_back({x, frame.upper.bottom() - (cut.measured[k] - section.low) * frame.scale});
      meant.push_back({x, frame.upper.bottom() - (cut.wanted[k] - section.low) * frame.scale});
      off.push_back({x, below.y + below.height / 2 * (1 - (cut.measured[k] - cut.wanted[k]) / section.most)});
    }
    if (&cut == section.cuts.data()) pages.polyline(meant, {0.054 * type, grey, Dash::dotted});
    pages.polyline(measured, {0.062 * type, colour_of(cut), cut.dash});
    pages.polyline(off, {0.062 * type, colour_of(cut), cut.dash});
  }
}

void draw_section_axes(Pages& pages, const SectionFrame& frame, double type) {
  const Box& below = frame.below;
  const Section& section = frame.section;
  const double unit = em(type), middle = below.y + below.height / 2;
  const Pen pen{0.2, ink, Dash::solid};
  pages.line({below.x, middle}, {below.right(), middle}, {0.15, grey, Dash::solid});
  pages.frame(below, pen);
  for (const auto& [y, words] :
       {std::pair{below.y, section.most_words}, {middle, "0"}, {below.bottom(), "-" + section.most_words}})
    pages.text({below.x - 0.5 * unit, y + 0.36 * unit}, words, picture_text(type, Side::right));
  pages.text({below.x, below.y - 0.5 * unit},
             fmt::format("difference, {:.0f} times as high", below.height / 2 / (section.most * frame.scale)),
             picture_text(type));
  for (const Tick& tick : round_ticks(section.from * section.per_metre, section.to * section.per_metre, 8)) {
    const double x = frame.x(tick.value / section.per_metre);
    pages.line({x, below.bottom()}, {x, below.bottom() + 0.35 * unit}, pen);
    pages.text({x, below.bottom() + 1.5 * unit}, tick.label, picture_text(type, Side::middle));
  }
}

void draw_section(Pages& pages, const Box& box, const Section& section) {
  const double type = picture_type(box), unit = em(type);
  const SectionFrame frame = section_frame(box, section, type);
  draw_section_axes(pages, frame, type);
  draw_cuts(pages, frame, type);
  const double key = frame.upper.right() + 1.7 * unit, sample = 3.5 * unit, word = key + 4.1 * unit;
  double y = box.y + 1.3 * unit;
  const auto draw_key = [&](const std::string& words, const Pen& pen) {
    pages.line({key, y - 0.38 * unit}, {key + sample, y - 0.38 * unit}, pen);
    pages.text({word, y}, words, picture_text(type));
    y += 1.8 * unit;
  };
  for (const Cut& cut : section.cuts) draw_key(cut.name, {0.062 * type, colour_of(cut), cut.dash});
  draw_key(section.wanted, {0.054 * type, grey, Dash::dotted});
  pages.text({key, y}, section.lengths, picture_text(type));
}

/// A picture that keeps what it shows.
template <class Shown>
CardPicture picture_of(const std::string& heading, Shown shown, void (*draw)(Pages&, const Box&, const Shown&)) {
  const auto kept = std::make_shared<const Shown>(std::move(shown));
  return {Drawing{[kept, draw](Pages& pages, const Box& box) { draw(pages, box, *kept); }}, heading};
}

}  // namespace

SurveyPictures survey_pictures(const SurveyReport& report) {
  return {picture_of("High and low against the best fit", reckon_map(report, MapKind::residual), draw_map),
          picture_of("Slope error: how far the skin leans", reckon_map(report, MapKind::slope), draw_map),
          picture_of(against_design(report) ? "Section: measured against design" : "Section: measured against the best fit",
                     reckon_section(report), draw_section)};
}

}  // namespace dishwright
