// SPDX-License-Identifier: MIT
// Residual map, slope map and section of a measured mirror. High and low differ by colour and by the signs + and −; slopes are ink on paper.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/tape.h"
#include "picture/ticks.h"
#include "report/survey_files.h"

namespace dishwright {

namespace {

constexpr Colour ink{29, 29, 31}, faint{120, 120, 124}, paper{255, 255, 255}, brick{168, 58, 24}, blue{30, 100, 170};
constexpr double bar_room = 24, axis_left = 9, axis_bottom = 9, heading_room = 6;  // [mm]

/// What a map shows: values at places, the scale's top and its words.
struct MapScale {
  double top = 1;  ///< [m] or [rad]
  std::vector<std::pair<double, std::string>> labels;
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
  return {part(paper.red, end.red), part(paper.green, end.green), part(paper.blue, end.blue)};
}

Colour colour_of(const MapScale& scale, double value) {
  const double share = std::clamp(value / scale.top, -1.0, 1.0);
  if (!scale.both_ways) return ink_colour(share);
  return mixed(share >= 0 ? brick : blue, std::abs(share));
}

double map_value(const SurveyReport& report, SurveyPicture kind, double x, double y) {
  const MeasuredSurface& surface = *report.survey.surface;
  const Eigen::Vector2d fitted = slope_at(surface.shape(), x, y);
  const double level = 1 / std::sqrt(1 + fitted.squaredNorm());
  if (kind == SurveyPicture::residual) return (surface.height(x, y) - surface.fitted_height(x, y)) * level;
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
    if (surface.covers(at.x(), at.y())) most = std::max(most, map_value(report, SurveyPicture::slope, at.x(), at.y()));
  }
  MapScale scale;
  scale.both_ways = false;
  scale.top = first_above(most, {1e-3, 2e-3, 4e-3, 6e-3, 0.01, 0.02, 0.04, 0.06, 0.1, 0.2, 0.5, 1, 2});
  for (int k = 0; k <= 4; ++k) scale.labels.emplace_back(scale.top * k / 4, fmt::format("{:g} mrad", 250 * k * scale.top));
  return scale;
}

/// The map's place on the page and its scale.
struct MapPlace {
  Box box;
  Eigen::Vector2d low, high;  ///< of the mirror [m]
  PagePoint at(double x, double y) const {
    return {box.x + (x - low.x()) / (high.x() - low.x()) * box.width,
            box.bottom() - (y - low.y()) / (high.y() - low.y()) * box.height};
  }
};

MapPlace place_in(const Box& room, const MeasuredSurface& surface) {
  MapPlace place;
  const Eigen::Vector2d margin = 0.02 * (surface.highest() - surface.lowest());
  place.low = surface.lowest() - margin, place.high = surface.highest() + margin;
  const Eigen::Vector2d size = place.high - place.low;
  const double scale = std::min(room.width / size.x(), room.height / size.y());
  place.box = {room.x, room.y, size.x() * scale, size.y() * scale};
  return place;
}

Pixels map_pixels(const SurveyReport& report, SurveyPicture kind, const MapPlace& place, const MapScale& scale) {
  constexpr double dots_per_mm = 5;
  Pixels out;
  out.width = std::max(1, static_cast<int>(place.box.width * dots_per_mm)),
  out.height = std::max(1, static_cast<int>(place.box.height * dots_per_mm));
  for (int row = 0; row < out.height; ++row) {
    for (int column = 0; column < out.width; ++column) {
      const double x = place.low.x() + (column + 0.5) / out.width * (place.high.x() - place.low.x());
      const double y = place.high.y() - (row + 0.5) / out.height * (place.high.y() - place.low.y());
      const Colour c = report.survey.surface->covers(x, y) ? colour_of(scale, map_value(report, kind, x, y)) : paper;
      for (const std::uint8_t part : {c.red, c.green, c.blue, std::uint8_t{255}}) out.rgba.push_back(part);
    }
  }
  return out;
}

void draw_axes(Pages& pages, const MapPlace& place, Units units) {
  const double per_metre = lengths_per_metre(units);
  const PagePen pen{0.2, ink, Dash::solid};
  const PageText small{6.5, false, ink, Side::middle, 0, 1};
  pages.frame(place.box, pen);
  for (const Tick& tick : round_ticks(place.low.x() * per_metre, place.high.x() * per_metre, 5)) {
    const PagePoint at = place.at(tick.value / per_metre, place.low.y());
    pages.line(at, {at.x, at.y + 1}, pen);
    pages.text({at.x, at.y + 3.8}, tick.label, small);
  }
  PageText right = small;
  right.side = Side::right;
  for (const Tick& tick : round_ticks(place.low.y() * per_metre, place.high.y() * per_metre, 5)) {
    const PagePoint at = place.at(place.low.x(), tick.value / per_metre);
    pages.line({at.x - 1, at.y}, at, pen);
    pages.text({at.x - 1.5, at.y + 0.9}, tick.label, right);
  }
  pages.text({place.box.x + place.box.width / 2, place.box.bottom() + 7.4},
             fmt::format("x [{}], y up; seen from the sun side", length_unit(units)), small);
}

/// + and − at the readings, so that a copy in grey still tells high from low.
void draw_signs(Pages& pages, const MapPlace& place, const SurveyReport& report, const MapScale& scale) {
  const SlopeMap& map = report.survey.map;
  const PlacedShape& shape = report.survey.surface->shape();
  const std::size_t stride = std::max<std::size_t>(1, map.samples.size() / 250);
  for (std::size_t i = 0; i < map.samples.size(); i += stride) {
    const Vector3 at = shape.from_own(map.samples[i].foot);
    const PagePoint p = place.at(at.x(), at.y());
    if (std::abs(map.points[i].value) < 0.2 * scale.top) {
      pages.disc(p, 0.2, faint);
      continue;
    }
    pages.line({p.x - 0.8, p.y}, {p.x + 0.8, p.y}, {0.25, ink, Dash::solid});
    if (map.points[i].value > 0) pages.line({p.x, p.y - 0.8}, {p.x, p.y + 0.8}, {0.25, ink, Dash::solid});
  }
}

/// Numbers 1 to 5 beside the worst spots, each in a white disc that stays inside the map.
void draw_spot_numbers(Pages& pages, const MapPlace& place, const SurveyReport& report) {
  for (std::size_t k = 0; k < report.survey.spots.size(); ++k) {
    Eigen::Vector2d at = report.survey.spots[k].place;
    if (!report.survey.points.under_rim)
      at = report.survey.fit().shape.to_own(Vector3(at.x(), at.y(), report.survey.fit().shape.vertex.z())).head<2>();
    PagePoint p = place.at(at.x(), at.y());
    p.x = std::clamp(p.x + 3.2, place.box.x + 2.2, place.box.right() - 2.2),
    p.y = std::clamp(p.y - 3.2, place.box.y + 2.2, place.box.bottom() - 2.2);
    pages.disc(p, 1.9, paper);
    pages.circle(p, 1.9, {0.25, ink, Dash::solid});
    pages.text({p.x, p.y + 1.05}, std::to_string(k + 1), {7.5, true, ink, Side::middle, 0, 1});
  }
}

void draw_bar(Pages& pages, const Box& box, const MapScale& scale) {
  constexpr int steps = 60;
  const double from = scale.both_ways ? -scale.top : 0, span = scale.top - from;
  for (int k = 0; k < steps; ++k) {
    const double value = from + (k + 0.5) / steps * span;
    pages.fill(Box{box.x, box.bottom() - (k + 1) * box.height / steps, box.width, box.height / steps + 0.05},
               colour_of(scale, value));
  }
  pages.frame(box, {0.2, ink, Dash::solid});
  for (const auto& [value, words] : scale.labels) {
    const double y = box.bottom() - (value - from) / span * box.height;
    pages.line({box.right(), y}, {box.right() + 0.8, y}, {0.2, ink, Dash::solid});
    pages.text({box.right() + 1.3, y + 0.9}, words, {6.5, false, ink, Side::left, 0, 1});
  }
}

void draw_map(Pages& pages, const Box& box, const SurveyReport& report, SurveyPicture kind) {
  const bool residual = kind == SurveyPicture::residual;
  pages.text({box.x, box.y + 3.2}, residual ? "High and low against the best fit" : "Slope error: how far the skin leans",
             {9, true, ink, Side::left, 0, 1});
  const Box room{box.x + axis_left, box.y + heading_room, box.width - axis_left - bar_room,
                 box.height - heading_room - axis_bottom};
  const MapPlace place = place_in(room, *report.survey.surface);
  const MapScale scale = residual ? residual_scale(report) : slope_scale(report);
  pages.image(place.box, map_pixels(report, kind, place, scale));
  draw_axes(pages, place, report.units);
  if (residual) draw_signs(pages, place, report, scale);
  draw_spot_numbers(pages, place, report);
  draw_bar(pages, {place.box.right() + 3, place.box.y, 3.5, place.box.height}, scale);
}

// ---- Section ----
/// Heights along one line through the middle.
struct Cut {
  std::string name;
  std::vector<double> along, measured, wanted;  ///< [m]
  Dash dash = Dash::solid;
};

/// What the surface is held against: the design standing on the measured lowest point, or the best fit.
double wanted_height(const SurveyReport& report, double x, double y) {
  const PlacedShape& fitted = report.survey.surface->shape();
  if (!report.meant_focal_length) return report.survey.surface->fitted_height(x, y);
  PlacedShape meant = fitted;
  meant.size = *report.meant_focal_length * (fitted.kind == ShapeKind::sphere ? 2 : 1);
  if (report.survey.points.under_rim) {
    const bool trough = fitted.kind == ShapeKind::trough;
    meant.vertex = Vector3::Zero();
    meant.turn = Matrix3::Identity();
    if (trough && std::abs(fitted.turn(1, 0)) > std::abs(fitted.turn(0, 0))) meant.turn << 0, -1, 0, 1, 0, 0, 0, 0, 1;
  }
  return height_at(meant, x, y);
}

Cut cut_along(const SurveyReport& report, bool across) {
  const MeasuredSurface& surface = *report.survey.surface;
  Cut cut;
  cut.name = across ? "9 to 3 o'clock" : "6 to 12 o'clock";
  if (report.file.places == PlaceWords::cloud || surface.shape().kind == ShapeKind::trough)
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

/// Where the two panels of a section lie and what they span.
struct SectionFrame {
  Box upper, below;         ///< profile in true scale both ways; difference, enlarged
  double from = 0, to = 0;  ///< along [m]
  double low = 0;           ///< lowest height [m]
  double scale = 1;         ///< [mm/m]
  double most = 0;          ///< difference at the edge of the lower panel [m]
  double x(double along) const { return upper.x + (along - from) * scale; }
};

SectionFrame section_frame(const Box& box, const SurveyReport& report, const std::vector<Cut>& cuts) {
  const Range along = range_of(cuts, &Cut::along), height = range_of(cuts, &Cut::measured), wanted = range_of(cuts, &Cut::wanted);
  const double top = std::max(height.to, wanted.to), left = 13, lower = 17, legend = 40, gap = 8;
  SectionFrame frame;
  frame.from = along.from, frame.to = along.to, frame.low = std::min(height.from, wanted.from);
  frame.scale = std::min((box.width - left - legend) / (along.to - along.from),
                         (box.height - heading_room - lower - gap - 4) / std::max(top - frame.low, 1e-6));
  frame.upper = {box.x + left, box.y + heading_room, (along.to - along.from) * frame.scale,
                 std::max(3.0, (top - frame.low) * frame.scale)};
  frame.below = {frame.upper.x, frame.upper.bottom() + gap, frame.upper.width, box.bottom() - frame.upper.bottom() - gap - 4};
  for (const Cut& cut : cuts) {
    for (std::size_t k = 0; k < cut.along.size(); ++k)
      frame.most = std::max(frame.most, std::abs(cut.measured[k] - cut.wanted[k]));
  }
  const bool us = report.units == Units::us;
  const double unit = us ? 0.0254 : 1e-3;
  frame.most =
      unit * first_above(frame.most / unit, us ? std::vector<double>{1 / 32.0, 1 / 16.0, 1 / 8.0, 1 / 4.0, 1 / 2.0, 1, 2, 4}
                                               : std::vector<double>{0.5, 1, 2, 5, 10, 20, 50, 100});
  return frame;
}

Colour colour_of(const Cut& cut) { return cut.dash == Dash::solid ? brick : blue; }

void draw_cuts(Pages& pages, const SectionFrame& frame, const std::vector<Cut>& cuts) {
  const Box& below = frame.below;
  for (const Cut& cut : cuts) {
    std::vector<PagePoint> measured, meant, off;
    for (std::size_t k = 0; k < cut.along.size(); ++k) {
      const double x = frame.x(cut.along[k]);
      measured.push_back({x, frame.upper.bottom() - (cut.measured[k] - frame.low) * frame.scale});
      meant.push_back({x, frame.upper.bottom() - (cut.wanted[k] - frame.low) * frame.scale});
      off.push_back({x, below.y + below.height / 2 * (1 - (cut.measured[k] - cut.wanted[k]) / frame.most)});
    }
    if (&cut == cuts.data()) pages.polyline(meant, {0.35, faint, Dash::dotted});
    pages.polyline(measured, {0.4, colour_of(cut), cut.dash});
    pages.polyline(off, {0.4, colour_of(cut), cut.dash});
  }
}

void draw_section_axes(Pages& pages, const SectionFrame& frame, Units units) {
  const Box& below = frame.below;
  const double per_metre = lengths_per_metre(units);
  const PageText small{6.5, false, ink, Side::right, 0, 1};
  const std::string size = tape_text(frame.most, units, 32);
  pages.line({below.x, below.y + below.height / 2}, {below.right(), below.y + below.height / 2}, {0.15, faint, Dash::solid});
  pages.frame(below, {0.2, ink, Dash::solid});
  pages.text({below.x - 1.2, below.y + 2}, size, small);
  pages.text({below.x - 1.2, below.y + below.height / 2 + 0.9}, "0", small);
  pages.text({below.x - 1.2, below.bottom()}, "-" + size, small);
  pages.text({below.x, below.y - 1.2},
             fmt::format("difference, {:.0f} times as high", below.height / 2 / (frame.most * frame.scale)),
             {6.5, false, ink, Side::left, 0, 1});
  PageText middle = small;
  middle.side = Side::middle;
  for (const Tick& tick : round_ticks(frame.from * per_metre, frame.to * per_metre, 8)) {
    const double x = frame.x(tick.value / per_metre);
    pages.line({x, below.bottom()}, {x, below.bottom() + 0.8}, {0.2, ink, Dash::solid});
    pages.text({x, below.bottom() + 3.4}, tick.label, middle);
  }
}

/// Upper panel: the profile, true scale both ways. Lower: the difference, enlarged.
void draw_section(Pages& pages, const Box& box, const SurveyReport& report) {
  const bool design = report.meant_focal_length.has_value();
  pages.text({box.x, box.y + 3.2}, design ? "Section: measured against design" : "Section: measured against the best fit",
             {9, true, ink, Side::left, 0, 1});
  std::vector<Cut> cuts = {cut_along(report, true)};
  if (report.survey.fit().shape.kind != ShapeKind::trough) cuts.push_back(cut_along(report, false));
  const SectionFrame frame = section_frame(box, report, cuts);
  draw_section_axes(pages, frame, report.units);
  draw_cuts(pages, frame, cuts);
  const PageText small{6.5, false, ink, Side::left, 0, 1};
  const double key = frame.upper.right() + 4;
  double y = box.y + heading_room + 3;
  for (const Cut& cut : cuts) {
    pages.line({key, y - 0.9}, {key + 8, y - 0.9}, {0.4, colour_of(cut), cut.dash});
    pages.text({key + 9.5, y}, cut.name, small);
    y += 4.2;
  }
  pages.line({key, y - 0.9}, {key + 8, y - 0.9}, {0.35, faint, Dash::dotted});
  pages.text({key + 9.5, y}, design ? "design" : "best fit", small);
  pages.text({key, y + 4.2}, fmt::format("lengths in {}", length_unit(report.units)), small);
}

}  // namespace

void draw_survey_picture(Pages& pages, const Box& box, const SurveyReport& report, SurveyPicture kind) {
  if (kind == SurveyPicture::section) {
    draw_section(pages, box, report);
  } else {
    draw_map(pages, box, report, kind);
  }
}

Pixels survey_image(const SurveyReport& report, SurveyPicture kind) {
  constexpr double margin = 5, dots_per_mm = 7;
  const bool section = kind == SurveyPicture::section;
  const PageSize size = section ? PageSize{170, 75} : PageSize{140, 118};
  Pages pages(size, "");
  draw_survey_picture(pages, {margin, margin, size.width - 2 * margin, size.height - 2 * margin}, report, kind);
  return pages.pixels(0, dots_per_mm);
}

}  // namespace dishwright
