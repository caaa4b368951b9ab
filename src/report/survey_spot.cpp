// SPDX-License-Identifier: MIT
#include "report/survey_spot.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "picture/image_file.h"
#include "picture/map_panel.h"
#include "picture/ticks.h"
#include "report/map_card.h"
#include "report/map_view.h"
#include "report/provenance.h"

namespace dishwright {

namespace {

constexpr Colour ink{29, 29, 31}, paper{255, 255, 255};
constexpr double heading_room = 6, axis_left = 10, axis_bottom = 11;  // [mm]

const MapFace& brightest_face(const TargetFigures& target) {
  return *std::max_element(target.map.begin(), target.map.end(),
                           [&](const MapFace& a, const MapFace& b) { return face_share(target, a) < face_share(target, b); });
}

/// The panel's view on the page, at true aspect.
struct SpotPlace {
  Box box;
  MapWindow view;
  double scale = 1;  ///< [mm for each unit of the panel]
  PagePoint at(double x, double y) const { return {box.x + (x - view.x_from) * scale, box.bottom() - (y - view.y_from) * scale}; }
};

SpotPlace place_in(const Box& box, const MapWindow& view) {
  const double scale =
      std::min((box.width - axis_left) / view.width(), (box.height - heading_room - axis_bottom) / view.height());
  return {{box.x + axis_left, box.y + heading_room, view.width() * scale, view.height() * scale}, view, scale};
}

Pixels spot_pixels(const MapPanel& panel, const SpotPlace& place) {
  constexpr double dots_per_mm = 6;
  const double top = std::max(1e-300, *std::max_element(panel.values.begin(), panel.values.end()));
  Pixels out;
  out.width = std::max(1, static_cast<int>(place.box.width * dots_per_mm));
  out.height = std::max(1, static_cast<int>(place.box.height * dots_per_mm));
  for (int row = 0; row < out.height; ++row) {
    for (int column = 0; column < out.width; ++column) {
      const double x = place.view.x_from + (column + 0.5) / out.width * place.view.width(),
                   y = place.view.y_to - (row + 0.5) / out.height * place.view.height();
      const double value = map_value(panel, x, y);
      const Colour c = value < 0 ? paper : ink_colour(value / top);
      for (const std::uint8_t part : {c.red, c.green, c.blue, std::uint8_t{255}}) out.rgba.push_back(part);
    }
  }
  return out;
}

void draw_marks(Pages& pages, const MapPanel& panel, const SpotPlace& place) {
  const auto dash = [](MarkLine line) { return line == MarkLine::solid ? Dash::solid : Dash::dashed; };
  pages.clip(place.box);
  for (const MapCircle& circle : panel.circles) {
    const PagePoint middle = place.at(circle.x, circle.y);
    pages.circle(middle, circle.width / 2 * place.scale, {0.6, paper, Dash::solid});
    pages.circle(middle, circle.width / 2 * place.scale, {0.25, ink, dash(circle.line)});
  }
  for (const MapBand& band : panel.bands) {
    for (const double x : {band.from, band.to}) {
      const double at = place.at(x, 0).x;
      pages.line({at, place.box.y}, {at, place.box.bottom()}, {0.6, paper, Dash::solid});
      pages.line({at, place.box.y}, {at, place.box.bottom()}, {0.25, ink, dash(band.line)});
    }
  }
  if (panel.round && panel.view == panel.face)
    pages.circle(place.at((panel.face.x_from + panel.face.x_to) / 2, (panel.face.y_from + panel.face.y_to) / 2),
                 panel.face.width() / 2 * place.scale, {0.25, ink, Dash::solid});
  pages.drop_clip();
}

void draw_axes(Pages& pages, const MapPanel& panel, const SpotPlace& place) {
  const PagePen pen{0.2, ink, Dash::solid};
  const PageText small{6.5, false, ink, Side::middle, 0, 1};
  PageText right = small;
  right.side = Side::right;
  pages.frame(place.box, pen);
  for (const Tick& tick : round_ticks(place.view.x_from, place.view.x_to, 4)) {
    const PagePoint at = place.at(tick.value, place.view.y_from);
    pages.line(at, {at.x, at.y + 0.8}, pen);
    pages.text({at.x, at.y + 3.4}, tick.label, small);
  }
  for (const Tick& tick : round_ticks(place.view.y_from, place.view.y_to, 4)) {
    const PagePoint at = place.at(place.view.x_from, tick.value);
    pages.line({at.x - 0.8, at.y}, at, pen);
    pages.text({at.x - 1.3, at.y + 0.9}, tick.label, right);
  }
  pages.text({place.box.x + place.box.width / 2, place.box.bottom() + 6.6}, panel.x_label + ", " + panel.y_label, small);
}

/// The scene's title and the power as traced.
Result result_of(const SurveyReport& report, const std::string& digest) {
  return {report.light->scene, report.name, digest, report.light->figures, report.units};
}

/// A peak that so few paths cannot tell is left out.
void drop_doubtful_peak(MapPage& page, const TargetFigures& target) {
  if (!target.peak_irradiance || target.peak_irradiance->std_error.value_or(0) < 0.2 * target.peak_irradiance->value) return;
  std::erase_if(page.numbers, [](const CardEntry& entry) { return entry.label.find("eak") != std::string::npos; });
}

}  // namespace

void draw_survey_spot(Pages& pages, const Box& box, const SurveyReport& report) {
  const TargetFigures& target = report.light->figures.targets.front();
  const MapFace& face = brightest_face(target);
  const MapPanel panel = face_panel(target, face, report.units, light_units(report.light->scene));
  const SpotPlace place = place_in(box, panel.view);
  pages.text({box.x, box.y + 3.2}, fmt::format("Spot on the {} ({})", target.name, face.name), {9, true, ink, Side::left, 0, 1});
  pages.image(place.box, spot_pixels(panel, place));
  draw_marks(pages, panel, place);
  draw_axes(pages, panel, place);
  if (!panel.circles.empty() || !panel.bands.empty())
    pages.text({place.box.x + place.box.width / 2, place.box.bottom() + 9.6}, "50 % (solid) and 90 % (dashed) of the light",
               {6.5, false, ink, Side::middle, 0, 1});
}

std::string add_spot_files(const SurveyReport& report, WholeFiles& files) {
  if (!report.light) return "";
  const std::string digest = scene_digest(report.light->scene);
  std::string names;
  for (std::size_t k = 0; k < report.light->targets.size(); ++k) {
    MapPage page = map_card(result_of(report, digest), k);
    page.question = fmt::format("What light would the measured mirror send to the {}?", report.light->targets[k]);
    page.why.emplace_back("The noise of the readings blurs this picture a little.");
    drop_doubtful_peak(page, report.light->figures.targets[k]);
    const std::string name = k == 0 ? "spot.png" : fmt::format("spot-{}.png", k + 1);
    files.add(name, png_bytes(draw_map_page(page)));
    names += ", " + name;
  }
  return names;
}

}  // namespace dishwright
