// SPDX-License-Identifier: MIT
#include "report/map_card.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/caution.h"
#include "report/provenance.h"
#include "report/scene_words.h"

namespace dishwright {

namespace {

class Card {
 public:
  Card(const Result& result, std::size_t index)
      : result_(result),
        target_(result.figures.targets[index]),
        scale_(lengths_per_metre(result.units)),
        unit_(length_unit(result.units)) {}

  MapPage page() const {
    MapPage page;
    const std::string title = result_.scene.title.empty() ? result_.name : result_.scene.title;
    page.title_block = {
        {"project", title}, {"target", target_.name}, {"scene", result_.digest}, {"dishwright", DISHWRIGHT_VERSION}};
    page.question = fmt::format("How much light reaches the {}, and where?", target_.name);
    page.answer = answer();
    page.beam = result_.figures.beam / 1000;
    page.top = top();
    add_panels(page);
    page.numbers = numbers();
    page.why = why();
    page.settings = {settings_line(result_.scene, result_.figures, result_.digest), caution_line(result_.figures)};
    return page;
  }

 private:
  std::string answer() const {
    std::string text = fmt::format("{} of the {} that meet the mirror", number_text(target_.power, result_.units),
                                   number_text(result_.figures.aperture_power, result_.units));
    if (target_.spot_width_90)
      text += fmt::format("; nine tenths of it within {}", number_text(*target_.spot_width_90, result_.units));
    return text + ".";
  }

  /// Dark end of the colour scale [kW/m²]: the brightest bin; the peak figure where the bins are coarse.
  double top() const {
    double most = 0;
    for (const MapFace& face : target_.map) {
      for (const double value : face.irradiance) most = std::max(most, value);
    }
    return most / 1000;
  }

  void add_panels(MapPage& page) const {
    for (const MapFace& face : target_.map) {
      MapPanel panel;
      panel.heading = heading(face);
      panel.x_label = fmt::format("{} [{}]", face.across, unit_);
      panel.y_label = fmt::format("{} [{}]", face.up, unit_);
      panel.columns = face.columns, panel.rows = face.rows;
      panel.values.reserve(face.irradiance.size());
      for (const double value : face.irradiance) panel.values.push_back(value / 1000);
      panel.face = {face.x_from * scale_, face.x_to * scale_, face.y_from * scale_, face.y_to * scale_};
      panel.round = face.round;
      panel.whole_name = "the whole " + (target_.shape == "pot" ? face.name : target_.shape);
      add_marks(face, panel);
      panel.view = view(face, panel);
      page.panels.push_back(std::move(panel));
    }
  }

  std::string heading(const MapFace& face) const {
    const std::string across = length_text(face.x_to - face.x_from, result_.units),
                      up = length_text(face.y_to - face.y_from, result_.units);
    if (face.round) return fmt::format("{}, {} across, seen from the sun", face.name, across);
    if (face.name == "front") return fmt::format("{}, {} by {}, seen from the sun", face.name, across, up);
    return fmt::format("{}, unrolled: {} around, {} high", face.name, across, up);
  }

  void add_marks(const MapFace& face, MapPanel& panel) const {
    if (face.name != "front" || !target_.plane_centroid || !target_.spot_width_50) return;
    const double x = (*target_.plane_centroid)[0] * scale_, y = (*target_.plane_centroid)[1] * scale_;
    const double half = target_.spot_width_50->value * scale_, most = target_.spot_width_90->value * scale_;
    if (face.round) {
      panel.circles = {{x, y, half, "50 %", MarkLine::solid}, {x, y, most, "90 %", MarkLine::dashed}};
    } else {
      panel.bands = {{x - half / 2, x + half / 2, "50 %", MarkLine::solid},
                     {x - most / 2, x + most / 2, "90 %", MarkLine::dashed}};
    }
  }

  /// The whole face, or a square around the light where that is much smaller.
  MapWindow view(const MapFace& face, const MapPanel& panel) const {
    // Box of the bins that hold at least 2 % of the brightest.
    const double least = 0.02 * *std::max_element(face.irradiance.begin(), face.irradiance.end());
    if (least <= 0 || !face.round) return panel.face;
    double x_from = panel.face.x_to, x_to = panel.face.x_from, y_from = panel.face.y_to, y_to = panel.face.y_from;
    const double bin_x = panel.face.width() / face.columns, bin_y = panel.face.height() / face.rows;
    for (int row = 0; row < face.rows; ++row) {
      for (int column = 0; column < face.columns; ++column) {
        if (face.irradiance[static_cast<std::size_t>(row * face.columns + column)] < least) continue;
        x_from = std::min(x_from, panel.face.x_from + column * bin_x),
        x_to = std::max(x_to, panel.face.x_from + (column + 1) * bin_x);
        y_from = std::min(y_from, panel.face.y_from + row * bin_y), y_to = std::max(y_to, panel.face.y_from + (row + 1) * bin_y);
      }
    }
    for (const MapCircle& circle : panel.circles) {
      x_from = std::min(x_from, circle.x - circle.width / 2), x_to = std::max(x_to, circle.x + circle.width / 2);
      y_from = std::min(y_from, circle.y - circle.width / 2), y_to = std::max(y_to, circle.y + circle.width / 2);
    }
    const double half = 0.65 * std::max(x_to - x_from, y_to - y_from);
    if (half > 0.25 * panel.face.width()) return panel.face;
    const double x = std::clamp((x_from + x_to) / 2, panel.face.x_from + half, panel.face.x_to - half);
    const double y = std::clamp((y_from + y_to) / 2, panel.face.y_from + half, panel.face.y_to - half);
    return {x - half, x + half, y - half, y + half};
  }

  std::vector<CardEntry> numbers() const {
    std::vector<CardEntry> out;
    const Units units = result_.units;
    out.push_back({"light on it", number_text(target_.power, units)});
    if (target_.intercept) out.push_back({"share of what the mirror sends", percent_text(*target_.intercept)});
    if (target_.peak_irradiance) {
      out.push_back({"brightest place", number_text(*target_.peak_irradiance, units)});
      out.push_back({"that is, in suns", number_text(*target_.peak_concentration, units)});
    }
    if (target_.mean_irradiance) out.push_back({"mean over it", number_text(*target_.mean_irradiance, units)});
    if (target_.spot_width_50) out.push_back({"half of the light within", number_text(*target_.spot_width_50, units)});
    if (target_.spot_width_90) out.push_back({"nine tenths within", number_text(*target_.spot_width_90, units)});
    return out;
  }

  std::vector<std::string> why() const {
    std::vector<std::string> lines;
    double slope = 0;
    for (const Reflector& reflector : result_.scene.reflectors) slope = std::max(slope, reflector.slope_error);
    const double sun = result_.scene.sun.half_angle;
    if (slope > 0) {
      lines.push_back(
          fmt::format("A surface that tilts by {} turns the ray by twice as much: that, and the sun's own width of {}, sets the "
                      "size of the spot.",
                      milliradians_text(slope), milliradians_text(2 * sun)));
    } else if (sun > 0) {
      lines.push_back(
          fmt::format("The sun is {} wide, so even a perfect mirror makes a spot and not a point.", milliradians_text(2 * sun)));
    }
    if (result_.scene.sun.aim_error > 0) {
      lines.push_back(fmt::format("The dish points {} beside the sun: the spot moves to the other side and spreads.",
                                  degrees_text(result_.scene.sun.aim_error)));
    }
    return lines;
  }

  const Result& result_;
  const TargetFigures& target_;
  double scale_;
  std::string unit_;
};

}  // namespace

MapPage map_card(const Result& result, std::size_t index) { return Card(result, index).page(); }

}  // namespace dishwright
