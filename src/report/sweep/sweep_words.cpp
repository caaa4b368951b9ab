// SPDX-License-Identifier: MIT
#include "report/sweep/sweep_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "report/numbers/caution.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/trace/why_story.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

constexpr double good_share = 0.9;  // of the mirror's light: what the sentence on the share caught asks for

/// Point numbers that have the figure.
std::vector<std::size_t> with_figure(const Sweep& sweep, const std::string& figure) {
  std::vector<std::size_t> found;
  for (std::size_t k = 0; k < sweep.points.size(); ++k) {
    if (figure_at(sweep.points[k], figure)) found.push_back(k);
  }
  return found;
}

std::string figure_text(const Estimate& figure, const FigureWords& words) {
  Estimate shown{figure.value * words.per_si, std::nullopt, words.unit.empty() ? "1" : words.unit};
  if (figure.std_error) shown.std_error = *figure.std_error * words.per_si;
  return number_text(shown, Units::si);
}

std::string place_text(const Sweep& sweep, std::size_t point) {
  std::string out;
  for (std::size_t a = 0; a < sweep.axes.size(); ++a)
    out += (a == 0 ? "" : ", ") + (sweep.axes.size() == 1 ? "" : sweep.axes[a].key + " ") +
           axis_value(sweep.axes[a], sweep.points[point].at[a]);
  return out;
}

/// Rounded to three digits: places between points are no better known.
std::string crossing_text(const SweepAxis& axis, double si) {
  const std::string unit = axis_unit(axis);
  return rough_text(axis_number(axis, si), 3) + (unit.empty() ? "" : " " + unit);
}

/// "90 % or more from 0 deg to about 1.83 deg": the stretches of one axis where the share is good.
std::string good_stretches(const Sweep& sweep, const std::vector<std::size_t>& points, const std::string& figure) {
  const SweepAxis& axis = sweep.axes[0];
  std::vector<std::string> stretches;
  std::optional<std::string> from;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double x = sweep.points[points[i]].at[0], y = figure_at(sweep.points[points[i]], figure)->value;
    if (i == 0 && y >= good_share) from = axis_value(axis, x);
    if (i == 0) continue;
    const double x0 = sweep.points[points[i - 1]].at[0], y0 = figure_at(sweep.points[points[i - 1]], figure)->value;
    if ((y0 >= good_share) == (y >= good_share)) continue;
    const std::string edge = "about " + crossing_text(axis, x0 + (good_share - y0) / (y - y0) * (x - x0));
    if (y >= good_share) {
      from = edge;
    } else {
      stretches.push_back(fmt::format("from {} to {}", *from, edge));
      from.reset();
    }
  }
  if (from && stretches.empty() && *from == axis_value(axis, sweep.points[points.front()].at[0]))
    return "It is 90 % or more all the way.";
  if (from) stretches.push_back(fmt::format("from {} to {}", *from, axis_value(axis, sweep.points[points.back()].at[0])));
  if (stretches.empty()) return "It is below 90 % all the way.";
  return fmt::format("It is 90 % or more {}.", fmt::join(stretches, " and "));
}

}  // namespace

FigureWords figure_words(const Sweep& sweep, const std::string& name, Units units) {
  const bool band = std::any_of(sweep.scene.targets.begin(), sweep.scene.targets.end(), [&](const Target& target) {
    return target.name == sweep.target && is_plate(target.shape) && is_band(target.shape);
  });
  return figure_words(*find_figure(name), sweep.scene, band, units);
}

double axis_number(const SweepAxis& axis, double si) {
  return axis.unit == nullptr ? si : (si - axis.unit->zero) / axis.unit->scale;
}
std::string axis_unit(const SweepAxis& axis) { return axis.unit == nullptr ? "" : std::string(axis.unit->shown); }

std::string axis_label(const SweepAxis& axis) {
  const std::string unit = axis_unit(axis);
  return unit.empty() ? axis.key : fmt::format("{} [{}]", axis.key, unit);
}

std::string axis_value(const SweepAxis& axis, double si) {
  const std::string unit = axis_unit(axis);
  return exact_text(axis_number(axis, si)) + (unit.empty() ? "" : " " + unit);
}

std::string sweep_title(const Sweep& sweep, const std::string& name) { return scene_title(sweep.scene, name); }

std::string sweep_sentence(const Sweep& sweep, const std::string& figure, Units units) {
  const FigureWords words = figure_words(sweep, figure, units);
  const std::vector<std::size_t> points = with_figure(sweep, figure);
  if (points.empty())
    return fmt::format("There is no {} at any of the points: too little {} arrives.", words.words,
                       sweep.scene.is_wave() ? "of the wave" : "light");
  const auto value = [&](std::size_t k) { return *figure_at(sweep.points[k], figure); };
  const auto text = [&](std::size_t k) { return figure_text(value(k), words); };
  const auto less = [&](std::size_t a, std::size_t b) { return value(a).value < value(b).value; };
  const std::size_t most = *std::max_element(points.begin(), points.end(), less),
                    least = *std::min_element(points.begin(), points.end(), less);
  const std::string subject = "The " + words.words;
  if (sweep.axes.size() == 2)
    return fmt::format("{} is most at {}: {}; least at {}: {}.", subject, place_text(sweep, most), text(most),
                       place_text(sweep, least), text(least));
  const std::size_t first = points.front(), last = points.back();
  if (first == last)
    return fmt::format("{} is {} at {}, the only point that has one.", subject, text(first), place_text(sweep, first));
  std::string out = fmt::format("{} is {} at {} and {} at {}.", subject, text(first), place_text(sweep, first), text(last),
                                place_text(sweep, last));
  if (most != first && most != last) out += fmt::format(" It is most at {}: {}.", place_text(sweep, most), text(most));
  if (least != first && least != last) out += fmt::format(" It is least at {}: {}.", place_text(sweep, least), text(least));
  if (figure == "intercept") out += " " + good_stretches(sweep, points, figure);
  return out;
}

std::string sweep_reason(const Sweep& sweep, Units units) {
  return sweep.last_aim ? comet_line(sweep.last_aim->first, sweep.last_aim->second, units, false) : "";
}

std::string sweep_caution(const Sweep& sweep) {
  return sweep.scene.is_wave() ? wave_caution(sweep.scene.radio.has_value())
                               : caution(sweep.hottest, "All rules: safety.pdf of a trace.");
}

std::string sweep_caution_line(const Sweep& sweep) {
  return sweep.scene.is_wave() ? wave_caution_line(sweep.scene.radio.has_value()) : caution_line(sweep.hottest);
}

std::string sweep_settings_line(const Sweep& sweep, Detail detail) {
  const std::string digest = scene_digest(sweep.scene);
  return sweep.scene.is_wave() ? wave_settings_line(sweep.convergence.points, sweep.wave_speed, digest, detail)
                               : settings_line(sweep.scene, sweep.hottest, digest, detail);
}

std::string broken_off_sentence(const Sweep& sweep) {
  if (sweep.complete) return "";
  return fmt::format("INTERRUPTED: {} of {} points {} done.", sweep.points.size(), sweep.count(),
                     sweep.points.size() == 1 ? "was" : "were");
}

std::string method_sentence(const Sweep& sweep, Detail detail) {
  const auto sharp = static_cast<std::size_t>(std::count_if(
      sweep.points.begin(), sweep.points.end(), [](const SweepPoint& point) { return point.method == "quadrature"; }));
  const std::string paths = grouped_whole(sweep.scene.trace.paths);
  const bool told = detail == Detail::method;
  std::string out;
  if (sweep.scene.is_wave()) {
    out = told ? "All points by the wave integral, no chance." : "Nothing here is chance.";
    if (!sweep.convergence.reached)
      out += fmt::format(" The sum over the mirror did not settle: good to about {} of the strongest amplitude.",
                         rough_text(sweep.convergence.change, 1));
  } else if (!told) {
    return "";
  } else if (sharp == sweep.points.size()) {
    out = "All points by mirror quadrature: smooth images of the sun, no chance.";
  } else if (sharp == 0) {
    out = fmt::format("All points by rays: the same {} random paths for each.", paths);
  } else {
    out = fmt::format("{} by mirror quadrature, {} by {} random paths each, where quadrature does not apply or takes longer.",
                      sharp == 1 ? "1 point" : fmt::format("{} points", sharp), sweep.points.size() - sharp, paths);
  }
  return out;
}

}  // namespace dishwright
