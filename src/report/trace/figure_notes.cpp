// SPDX-License-Identifier: MIT
#include "report/trace/figure_notes.h"

#include <fmt/format.h>

#include "report/numbers/number_text.h"

namespace dishwright {

namespace {

constexpr double worth_telling = 0.005;  // share of the reflected light

bool has_plane(const TargetFigures& target) {
  return target.shape == "disk" || target.shape == "rectangle" || target.shape == "pot";
}

std::string plane_words(const TargetFigures& target) {
  return (target.shape == "pot" ? "the base of the " : "the ") + target.name;
}

std::string width_note(const TargetFigures& target) {
  const double share = target.share_curve && !target.share_curve->share.empty() ? target.share_curve->share.back() : 1;
  if (target.spot_width_50 && target.spot_width_90) {
    if (1 - share < worth_telling) return "";
    return fmt::format(
        "{}: the widths hold shares of the {} % of the reflected light that comes through the plane of {} from its front; the "
        "other {} % never does.",
        target.name, rough_text(100 * share, 3), plane_words(target), rough_text(100 * (1 - share), 3));
  }
  if (target.shape == "pot") return "";  // its side may get all
  if (!target.share_curve && target.power.value > 0)
    return fmt::format(
        "{}: no spot width is given, as too much of the light runs so flat to its plane that no width holds its share.",
        target.name);
  return fmt::format(
      "{}: no spot width is given, as no reflected light comes through the plane of the {} from its front. Does its front face "
      "the "
      "mirror that sends the light? (turn)",
      target.name, target.name);
}

std::string peak_note(const TargetFigures& target) {
  const std::string head = fmt::format("{}: no brightest spot is given, as ", target.name);
  switch (target.no_peak) {
    case NoPeak::point: return head + "the light meets in a point (a brightness without end).";
    case NoPeak::few_paths: return head + "too few paths came to tell its place; trace more paths.";
    default: return head + "its size follows from the spot width, which is not given.";
  }
}

}  // namespace

std::vector<std::string> figure_notes(const TargetFigures& target) {
  std::vector<std::string> out;
  if (has_plane(target)) out.push_back(width_note(target));
  if (!target.peak_irradiance && target.power.value > 0) out.push_back(peak_note(target));
  std::erase(out, "");
  return out;
}

}  // namespace dishwright
