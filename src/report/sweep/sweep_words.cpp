// SPDX-License-Identifier: MIT
#include "report/sweep/sweep_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "report/numbers/caution.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/text_layout.h"
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
  if (axis.midnight) return axis_value(axis, si);
  const std::string unit = axis_unit(axis);
  return rough_text(axis_number(axis, si), 3) + (unit.empty() ? "" : " " + unit);
}

/// A point of the one key: its value [SI], its share caught.
struct SharePoint {
  double at, share, error;
  bool good() const { return share >= good_share; }
  bool sure() const { return std::abs(share - good_share) > 2 * error; }
};

/// Those that have a share, by rising value.
std::vector<SharePoint> share_points(const Sweep& sweep) {
  std::vector<SharePoint> points;
  for (const std::size_t k : with_figure(sweep, "intercept")) {
    const Estimate share = *figure_at(sweep.points[k], "intercept");
    points.push_back({sweep.points[k].at[0], share.value, share.std_error.value_or(0)});
  }
  std::sort(points.begin(), points.end(), [](const SharePoint& a, const SharePoint& b) { return a.at < b.at; });
  return points;
}

/// Points on one side of 90 %, from the first to the last.
struct Run {
  std::size_t first, last;
};
/// A run between two others counts where one of its points is surely there.
std::vector<Run> runs_of(const std::vector<SharePoint>& points) {
  std::vector<Run> runs;
  for (std::size_t i = 0, end = 0; i < points.size(); i = end) {
    bool sure = false;
    for (end = i; end < points.size() && points[end].good() == points[i].good(); ++end) sure = sure || points[end].sure();
    if (i > 0 && end < points.size() && !sure) continue;
    if (!runs.empty() && points[runs.back().last].good() == points[i].good()) {
      runs.back().last = end - 1;
    } else {
      runs.push_back({i, end - 1});
    }
  }
  return runs;
}

std::string edge_text(const SweepAxis& axis, double si) {
  return axis.whole ? axis_value(axis, si) : "about " + crossing_text(axis, si);
}

/// "90 % or more from 0 deg to about 1.83 deg": the stretches of one axis where the share is good, as the sweep ran.
std::string good_stretches(const Sweep& sweep) {
  const SweepAxis& axis = sweep.axes[0];
  const std::vector<SharePoint> points = share_points(sweep);
  const std::vector<ShareEdge> edges = share_edges(sweep);
  if (edges.empty()) return points.front().good() ? "It is 90 % or more all the way." : "It is below 90 % all the way.";
  std::vector<std::string> stretches;
  const bool falling = axis.values.front() > axis.values.back();
  const auto add = [&](const std::string& from, const std::string& to) {
    stretches.push_back(falling ? fmt::format("from {} to {}", to, from) : fmt::format("from {} to {}", from, to));
  };
  std::string from = axis_value(axis, points.front().at);
  for (const ShareEdge& edge : edges) {
    if (edge.ends) add(from, edge_text(axis, edge.at));
    from = edge_text(axis, edge.at);
  }
  if (!edges.back().ends) add(from, axis_value(axis, points.back().at));
  if (falling) std::reverse(stretches.begin(), stretches.end());
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
  if (axis.midnight) return fmt::format("{} [h of {}, {}]", axis.key, date_text(*axis.midnight), offset_text(*axis.midnight));
  const std::string unit = axis_unit(axis);
  return unit.empty() ? axis.key : fmt::format("{} [{}]", axis.key, unit);
}

std::string axis_value(const SweepAxis& axis, double si) {
  if (axis.midnight) {
    const Moment moment = later(*axis.midnight, si);
    return si < 86400 ? clock_text(moment) : fmt::format("{} {}", date_text(moment), clock_text(moment));
  }
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
  if (figure == "intercept") out += " " + good_stretches(sweep);
  return out;
}

std::vector<ShareEdge> share_edges(const Sweep& sweep) {
  if (sweep.axes.size() != 1 || sweep.scene.is_wave()) return {};
  const std::vector<SharePoint> points = share_points(sweep);
  const std::vector<Run> runs = runs_of(points);
  std::vector<ShareEdge> edges;
  for (std::size_t r = 1; r < runs.size(); ++r) {
    // Between two runs there may be some that were passed over: the last crossing counts.
    const SharePoint &a = points[runs[r].first - 1], &b = points[runs[r].first];
    const double part = (good_share - a.share) / (b.share - a.share);
    edges.push_back(
        {sweep.axes[0].whole ? (a.good() ? a.at : b.at) : a.at + part * (b.at - a.at), points[runs[r - 1].last].good()});
  }
  return edges;
}

bool shows_own(const Sweep& sweep) {
  if (sweep.axes.size() != 1 || !sweep.axes[0].own) return false;
  const auto [least, most] = std::minmax(sweep.axes[0].values.front(), sweep.axes[0].values.back());
  const double slack = 1e-9 * (most - least);
  return *sweep.axes[0].own >= least - slack && *sweep.axes[0].own <= most + slack;
}

std::string edge_sentence(const Sweep& sweep) {
  std::string out;
  for (const ShareEdge& edge : share_edges(sweep))
    out = joined_sentences(out, fmt::format("90 % {} at {}.", edge.ends ? "ends" : "begins", edge_text(sweep.axes[0], edge.at)));
  return out;
}

std::string here_sentence(const Sweep& sweep, const std::string& figure, Units units) {
  if (!shows_own(sweep)) return "";
  const SweepAxis& axis = sweep.axes[0];
  const double own = *axis.own;
  const std::string here = "You are here: " + axis_value(axis, own);
  // On a straight line between the two neighbours, where both have the figure.
  const SweepPoint *below = nullptr, *above = nullptr;
  for (const SweepPoint& point : sweep.points) {
    if (point.at[0] <= own && (below == nullptr || point.at[0] > below->at[0])) below = &point;
    if (point.at[0] >= own && (above == nullptr || point.at[0] < above->at[0])) above = &point;
  }
  const auto a = below == nullptr ? std::nullopt : figure_at(*below, figure),
             b = above == nullptr ? std::nullopt : figure_at(*above, figure);
  if (!a || !b) return here + ".";
  const double apart = above->at[0] - below->at[0], part = apart > 0 ? (own - below->at[0]) / apart : 0;
  const FigureWords words = figure_words(sweep, figure, units);
  const std::string unit = words.unit.empty() ? "" : " " + words.unit;
  return fmt::format("{}, {} about {}{}.", here, words.words,
                     rough_text((a->value + part * (b->value - a->value)) * words.per_si, 3), unit);
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
