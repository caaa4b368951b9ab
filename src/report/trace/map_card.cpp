// SPDX-License-Identifier: MIT
#include "report/trace/map_card.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "report/numbers/caution.h"
#include "report/numbers/light_units.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/text_layout.h"
#include "report/trace/map_smooth.h"
#include "report/trace/map_view.h"
#include "report/trace/side_picture.h"
#include "report/trace/why.h"
#include "result/figure_table.h"

namespace dishwright {

namespace {

/// "Base, 6 in across"; "Front, close-up; the whole is 3 in by 60 in".
std::string face_words(const MapFace& face, Units units, bool close_up) {
  const MapWindow whole = whole_window(face);
  std::string size = length_text(whole.width(), units);
  size += face.round ? " across" : " by " + length_text(whole.height(), units);
  return capital(fmt::format("{}, {}{}", face.name, close_up ? "close-up; the whole is " : "", size));
}

/// "x [in]"; an unrolled face says where it begins.
std::string across_words(const MapFace& face, const std::string& unit) {
  return fmt::format("{}{} [{}]", face.across, face.across == "around" ? " from the +x side" : "", unit);
}

MapWindow in_unit(const MapWindow& metres, double scale) {
  return {metres.x_from * scale, metres.x_to * scale, metres.y_from * scale, metres.y_to * scale};
}

/// Circles on a disk or a base, upright bands on a rectangle, about the centre of all the light on its plane.
void add_spot_marks(MapPanel& panel, const TargetFigures& target, double scale) {
  if (!target.plane_centroid || !target.spot_width_50 || !target.spot_width_90) return;
  const double x = (*target.plane_centroid)[0] * scale, y = (*target.plane_centroid)[1] * scale;
  const double half = target.spot_width_50->value * scale, most = target.spot_width_90->value * scale;
  if (panel.round) {
    panel.circles = {{x, y, half, "50 %", MarkLine::solid}, {x, y, most, "90 %", MarkLine::dashed}};
  } else {
    panel.bands = {{x - half / 2, x + half / 2, "50 %", MarkLine::solid}, {x - most / 2, x + most / 2, "90 %", MarkLine::dashed}};
  }
}

/// The faces that light reaches, the one with the most light first; all of them where there is none.
std::vector<MapPanel> card_panels(const TargetFigures& target, Units units, const LightUnits& light) {
  std::vector<const MapFace*> faces;
  std::string dark;
  for (const MapFace& face : target.map) {
    if (face_share(target, face) > 0) {
      faces.push_back(&face);
    } else {
      dark += fmt::format("; no light on the {}", face.name);
    }
  }
  const bool any = !faces.empty();
  if (!any) {
    for (const MapFace& face : target.map) faces.push_back(&face);
  }
  std::stable_sort(faces.begin(), faces.end(),
                   [&](const MapFace* a, const MapFace* b) { return face_share(target, *a) > face_share(target, *b); });
  std::vector<MapPanel> panels;
  panels.reserve(faces.size());
  for (const MapFace* face : faces) panels.push_back(face_panel(target, *face, units, light));
  if (any) panels.front().heading += dark;
  return panels;
}

std::vector<CardEntry> card_numbers(const Scene& scene, const TargetFigures& target, Units units, const LightUnits& light) {
  std::vector<CardEntry> out;
  const auto words = [&](Figure figure) { return with_outline(row_of(figure).card, target.shape == "rectangle"); };
  const auto add = [&](const std::string& label, const std::optional<Estimate>& figure) {
    if (figure) out.push_back({label, number_text(*figure, units)});
  };
  const auto add_bright = [&](const std::string& label, const std::optional<Estimate>& figure) {
    if (figure) out.push_back({label, irradiance_text(*figure, light)});
  };
  if (target.power_range) out.push_back({"The watts, whatever the finish turns out to be", power_range_words(scene, target)});
  if (target.intercept) out.push_back({words(Figure::intercept), percent_text(*target.intercept)});
  add_bright(words(Figure::peak_irradiance), target.peak_irradiance);
  add(words(Figure::peak_concentration), target.peak_concentration);
  add_bright("Mean over its " + number_text(Estimate{target.area, std::nullopt, "m2"}, units), target.mean_irradiance);
  add(words(Figure::evenness), target.evenness);
  add(words(Figure::spot_width_50), target.spot_width_50);
  add(words(Figure::spot_width_90), target.spot_width_90);
  if (target.centroid) {
    const auto& [x, y] = *target.centroid;
    out.push_back(
        {"Centre of the light that lands here", fmt::format("x {}\ny {}", number_text(x, units), number_text(y, units))});
  }
  if (target.direct_power.value > 0)
    add(fmt::format("Straight from the {}, not counted above", target.total_power ? "lamp" : "sun"), target.direct_power);
  return out;
}

/// The faces on one scale of ink, up to the peak.
MapPicture light_map(const TargetFigures& target, Units units, const LightUnits& light) {
  MapPicture map;
  map.unit = light.irradiance;
  map.panels = card_panels(target, units, light);
  for (const MapPanel& panel : map.panels)
    map.top = std::max(map.top, *std::max_element(panel.values.begin(), panel.values.end()));
  map.top = darkest_ink(target, map.top / light.per_si) * light.per_si;
  return map;
}

/// "sun, 850 W/m², 0.5 deg off"; "ball lamp, 800 lm"
std::string light_words(const Scene& scene) {
  if (scene.lamp) return fmt::format("{} lamp, {}", shape_word(scene.lamp->shape), lamp_power_words(*scene.lamp));
  const Sun& sun = scene.sun;
  std::string text = fmt::format("sun, {} W/m²", exact_text(sun.beam));
  if (sun.aim_error > 0) text += fmt::format(", {} off", about_degrees_text(sun.aim_error));
  return text;
}

/// What was done to the map for the eye, if anything.
std::string calm_words(const MapPicture& map) {
  double blur = 0;
  for (const MapPanel& panel : map.panels) blur = std::max(blur, panel.blur);
  if (blur == 0) return "";
  return fmt::format(" The picture is smoothed over {:.1f} bins of the map; the tables are not.", blur);
}

}  // namespace

MapPanel face_panel(const TargetFigures& target, const MapFace& face, Units units, const LightUnits& light) {
  const MapWindow whole = whole_window(face), view = map_view(target, face);
  const double scale = lengths_per_metre(units);
  MapPanel panel;
  panel.heading = face_words(face, units, !(view == whole));
  panel.whole_name = face.round ? "whole disk" : face.name == "front" ? "whole front" : "all of it";
  panel.x_label = across_words(face, length_unit(units));
  panel.y_label = fmt::format("{} [{}]", face.up, length_unit(units));
  panel.columns = face.columns, panel.rows = face.rows;
  panel.round = face.round;
  panel.face = in_unit(whole, scale);
  panel.view = view == whole ? panel.face : in_unit(view, scale);
  CalmMap calm = smoothed_map(face);
  panel.values = std::move(calm.irradiance), panel.blur = calm.blur;
  for (double& value : panel.values) value *= light.per_si;
  if (face.name == "front" || face.name == "base") add_spot_marks(panel, target, scale);
  return panel;
}

const MapPicture& map_of(const WorkCard& card) { return std::get<MapPicture>(card.pictures.front().what); }

WorkCard map_card(const Result& result, std::size_t index) {
  const Scene& scene = result.scene;
  const TraceFigures& figures = result.figures;
  const TargetFigures& target = figures.targets.at(index);
  const LightUnits light = light_units(scene);
  WorkCard card;
  card.name = fmt::format("{}: light on the {}", scene_title(scene, result.name), target.name);
  card.title = {{"Project", scene_title(scene, result.name)},
                {"Target", fmt::format("{} ({})", target.name, target.shape)},
                {"Light", light_words(scene)},
                {"Sheet", "light map"}};
  card.question = fmt::format("How much light reaches the {}?", target.name);
  const std::string power = number_text(target.power, result.units), all = number_text(figures.aperture_power, result.units);
  card.answer = scene.lamp ? fmt::format("{} of the lamp's {}, by mirror", power, all)
                           : fmt::format("{} of the {} that meet {}", power, all, mirrors_words(scene));
  MapPicture map = light_map(target, result.units, light);
  map.beam = light.suns ? figures.beam * light.per_si : 0;
  std::vector<CardShare> ledger;
  for (const LedgerLine& line : figures.ledger) {
    if (line.power.value > 0) ledger.push_back({line.where, line.power.value / figures.aperture_power.value});
  }
  card.numbers = {{"", card_numbers(scene, target, result.units, light)}};
  if (!ledger.empty()) card.numbers.push_back({"Where the light went", std::move(ledger), false, true});
  card.why = why_lines(scene, figures, index, result.units, result.story);
  if (result.story != nullptr) card.strip = side_picture(result.story->view, result.units);
  card.notes = scene.oddities;
  card.notes.push_back("After ± stands one standard error: 68 of 100 runs with other seeds come that close." + calm_words(map));
  card.cautions = {caution_line(figures)};
  card.settings = {settings_line(scene, figures, result.digest)};
  card.pictures = {{std::move(map)}};
  return card;
}

}  // namespace dishwright
