// SPDX-License-Identifier: MIT
#include "report/compare/compare_pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/compare/compare_text.h"
#include "report/compare/compare_verdict.h"
#include "report/compare/compare_widths.h"
#include "report/numbers/caution.h"
#include "report/numbers/light_units.h"
#include "report/numbers/provenance.h"
#include "report/trace/map_card.h"
#include "report/trace/map_smooth.h"
#include "report/trace/map_view.h"
#include "report/trace/text_map.h"

namespace dishwright {

namespace {

const TargetFigures& target_of(const Contestant& one) { return one.figures.targets.front(); }

double face_power(const MapFace& face) {
  double sum = 0;
  for (const double value : face.irradiance) sum += value;
  return sum * (face.x_to - face.x_from) * (face.y_to - face.y_from) / (face.columns * face.rows);
}

/// The name of the face that all together light most: "front", "base".
std::string shown_face(const Comparison& all) {
  std::string best;
  double most = -1;
  for (const MapFace& face : target_of(all.contestants.front()).map) {
    double sum = 0;
    for (const Contestant& one : all.contestants) {
      for (const MapFace& other : target_of(one).map) sum += other.name == face.name ? face_power(other) : 0;
    }
    if (sum > most) most = sum, best = face.name;
  }
  return best;
}

/// The face of that name, or the first one of a target of another shape.
const MapFace& face_of(const Contestant& one, const std::string& name) {
  const auto& map = target_of(one).map;
  const auto found = std::find_if(map.begin(), map.end(), [&](const MapFace& face) { return face.name == name; });
  return found == map.end() ? map.front() : *found;
}

WorkCard card_of(const Comparison& all, const std::string& name, const std::string& sheet) {
  const Contestant& first = all.contestants.front();
  const bool bent = !first.rule.empty();
  std::string names;
  for (const Contestant& one : all.contestants) names += (names.empty() ? "" : ", ") + one.name;
  WorkCard card;
  card.title = {{"Project", bent ? compare_title(all, name) : names},
                {"Target", fmt::format("{} ({})", target_of(first).name, target_of(first).shape)},
                {"Compared", fmt::format("{} {}", all.contestants.size(), bent ? "shapes of one width" : "files")},
                {"Sheet", sheet}};
  card.name = fmt::format("{}: {}", card.title.front().value, sheet);
  card.answer = verdict(all);
  const Contestant* hot = &first;
  for (const Contestant& one : all.contestants) hot = danger(one.figures) > danger(hot->figures) ? &one : hot;
  card.cautions = {caution_line(hot->figures)};
  card.settings = {settings_line(first.scene, first.figures, scene_digest(first.scene))};
  return card;
}

MapWindow together(const MapWindow& a, const MapWindow& b) {
  return {std::min(a.x_from, b.x_from), std::max(a.x_to, b.x_to), std::min(a.y_from, b.y_from), std::max(a.y_to, b.y_to)};
}

/// Largest value that the window shows.
double top_of(const MapPanel& panel) {
  double top = 0;
  for (int row = 0; row < panel.rows; ++row) {
    for (int column = 0; column < panel.columns; ++column) {
      const double x = panel.face.x_from + (column + 0.5) * panel.face.width() / panel.columns,
                   y = panel.face.y_from + (row + 0.5) * panel.face.height() / panel.rows;
      const MapWindow& v = panel.view;
      if (x < v.x_from || x > v.x_to || y < v.y_from || y > v.y_to) continue;
      top = std::max(top, panel.values[static_cast<std::size_t>(row) * static_cast<std::size_t>(panel.columns) +
                                       static_cast<std::size_t>(column)]);
    }
  }
  return top;
}

std::string share_words(const Contestant& one) {
  const double percent = 100 * ranked_share(one).value;
  return fmt::format("{:.{}f} %", percent, percent < 10 ? 2 : 1);
}

/// Takes out marks whose lines lie outside the window: only their names would be seen.
void drop_unseen_marks(MapPanel& panel) {
  const MapWindow& v = panel.view;
  std::erase_if(panel.circles, [&](const MapCircle& circle) {
    const double r = circle.width / 2;
    return circle.y + r > v.y_to || circle.y - r < v.y_from || circle.x + r > v.x_to || circle.x - r < v.x_from;
  });
  std::erase_if(panel.bands, [&](const MapBand& band) { return band.from < v.x_from || band.to > v.x_to; });
}

/// The panels with their own windows, each headed by its name and share.
std::vector<MapPanel> panels_of(const Comparison& all, const std::string& face, Units units, const LightUnits& light) {
  std::vector<MapPanel> panels;
  for (const Contestant& one : all.contestants) {
    panels.push_back(face_panel(target_of(one), face_of(one, face), units, light));
    // A file's name may be long and be cut: its number stands first.
    panels.back().heading =
        one.rule.empty() ? fmt::format("{}: {}", share_words(one), one.name) : fmt::format("{}: {}", one.name, share_words(one));
  }
  return panels;
}

/// One window for all, which holds each one's own.
void share_window(std::vector<MapPanel>& panels) {
  MapWindow window = panels.front().view;
  for (const MapPanel& panel : panels) window = together(window, panel.view);
  for (MapPanel& panel : panels) panel.view = window;
}

MapGrid grid_of(const Comparison& all, const std::string& face, std::vector<MapPanel> panels, const LightUnits& light,
                bool common) {
  MapGrid grid;
  grid.unit = light.irradiance;
  grid.beam = light.suns ? all.contestants.front().figures.beam * light.per_si : 0;
  grid.panels = std::move(panels);
  if (common) share_window(grid.panels);
  for (std::size_t k = 0; k < grid.panels.size(); ++k) {
    drop_unseen_marks(grid.panels[k]);
    const TargetFigures& target = target_of(all.contestants[k]);
    const double top = top_of(grid.panels[k]);
    // The peak is that of the target's brightest face, which need not be this one.
    const MapFace* hottest = hottest_face(target);
    grid.tops.push_back(hottest != nullptr && hottest->name == face ? darkest_ink(target, top / light.per_si) * light.per_si
                                                                    : top);
  }
  if (common) grid.tops = {*std::max_element(grid.tops.begin(), grid.tops.end())};
  return grid;
}

/// The greatest value over the smallest one above 0; 1 where there is none.
double times_apart(const std::vector<double>& tops) {
  double most = 0, least = 0;
  for (const double top : tops) {
    if (!(top > 0)) continue;
    most = std::max(most, top), least = least > 0 ? std::min(least, top) : top;
  }
  return least > 0 ? most / least : 1;
}

}  // namespace

CompareMaps compare_maps(const Comparison& all, const std::string& name, Units units) {
  const std::string face = shown_face(all);
  const LightUnits light = light_units(all.contestants.front().scene);
  const std::vector<MapPanel> panels = panels_of(all, face, units, light);
  double blur = 0;
  for (const MapPanel& panel : panels) blur = std::max(blur, panel.blur);
  std::string notes = fmt::format(
      "Shown: {}. Beside each name: the share that {}. Lines hold 50 % (solid), 90 % (dashed).", face,
      all.contestants.front().figures.caught_share ? "the mirror brings here of the lamp's light" : "the target catches");
  if (blur > 0) notes += fmt::format(" Smoothed over up to {:.1f} bins.", blur);
  const MapGrid each = grid_of(all, face, panels, light, false);
  CompareMaps maps;
  maps.apart = times_apart(each.tops);
  const std::string where = fmt::format("How does the light lie on the {}?", target_of(all.contestants.front()).name);
  const auto card_with = [&](const std::string& question, MapGrid grid) {
    WorkCard card = card_of(all, name, "maps");
    card.question = where + " " + question;
    if (const std::string words = tie_words(all, units); !words.empty()) card.notes.push_back(words);
    card.notes.push_back(notes);
    card.pictures = {{std::move(grid)}};
    return card;
  };
  const std::string times = rough_text(maps.apart, 2);
  maps.each =
      card_with(maps.each_first() ? fmt::format("Each map has its own scale of ink: the brightest is {} times the palest.", times)
                                  : "Each map has its own window and its own scale of ink.",
                each);
  maps.common = card_with(
      maps.each_first() ? fmt::format("One scale for all: the palest is {} times below the brightest, and looks blank.", times)
                        : "All maps have one window and one scale of ink.",
      grid_of(all, face, panels, light, true));
  return maps;
}

std::optional<WorkCard> share_card(const Comparison& all, const std::string& name, Units units) {
  const std::string what = widened(all);
  if (what.empty()) return std::nullopt;
  const bool band = what == "strip";
  const double scale = lengths_per_metre(units);
  double widest = 0, target_reach = 0;
  for (const Contestant& one : all.contestants) {
    const TargetFigures& target = target_of(one);
    const double own = target_width(one.scene.targets.front().shape);
    target_reach = std::max(target_reach, own);
    if (target.spot_width_90) widest = std::max(widest, std::min(target.spot_width_90->value, 2 * own));
  }
  WorkCard card = card_of(all, name, "share");
  const std::string shape = band ? "band" : "circle";
  card.question =
      fmt::format("How wide must a {} be? Share of the light from the mirror within a {} of that width.", what, shape);
  card.answer = width_words(all, units);
  LineChart chart;
  chart.x_label = fmt::format("{} of the {} [{}]", band ? "width" : "diameter", shape, length_unit(units));
  chart.y_label = "share of the mirror's light [%]";
  const double x_to = std::max(1.25 * widest, widest > 0 && target_reach < 2 * widest ? 1.1 * target_reach : 0.0);
  chart.x_to = (x_to > 0 ? x_to : 1.1 * target_reach) * scale;
  chart.y_from = 0, chart.y_to = 105;
  for (const Contestant& one : all.contestants) {
    ChartLine line;
    line.label = one.name;
    if (const auto& curve = target_of(one).share_curve) {
      for (std::size_t i = 0; i < curve->width.size(); ++i) {
        line.x.push_back(curve->width[i] * scale);
        line.y.push_back(100 * curve->share[i]);
        line.error.push_back(100 * curve->std_error[i]);
      }
      if (!line.x.empty() && line.x.back() < chart.x_to)  // all of it is inside from here on
        line.x.push_back(chart.x_to), line.y.push_back(line.y.back()), line.error.push_back(line.error.back());
    }
    chart.lines.push_back(std::move(line));
    const double own = target_width(one.scene.targets.front().shape) * scale;
    const bool marked = std::any_of(chart.marks.begin(), chart.marks.end(),
                                    [&](const ChartMark& mark) { return std::abs(mark.at - own) < 1e-6 * own; });
    if (!marked) chart.marks.push_back({own, fmt::format("{}: {} wide", target_of(one).name, length_text(own / scale, units))});
  }
  chart.levels = {{100 * most_of_the_light, exact_text(100 * most_of_the_light) + " %"}};
  std::string notes = fmt::format(
      "Each {} lies about the middle of its own spot, on the plane of the {} without end. Pale bands: ± one standard error.",
      shape, what == "pot" ? "pot's base" : "target");
  if (target_reach * scale > chart.x_to)
    notes += fmt::format(" The target, {} wide, ends beyond the right edge.", length_text(target_reach, units));
  card.notes = {notes};
  card.pictures = {{std::move(chart)}};
  return card;
}

}  // namespace dishwright
