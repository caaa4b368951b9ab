// SPDX-License-Identifier: MIT
#include "report/trace/why_story.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <variant>

#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

constexpr double small_cost = 0.01, all_of_it = 0.99, next_of_first = 1.0 / 3;

std::string percent(double share) { return rough_text(100 * share, 2) + " %"; }

std::string length_of(double metres, Units units) {
  return rough_text(metres * lengths_per_metre(units), 2) + " " + length_unit(units);
}

/// The thing that costs, as the subject of a sentence.
std::string cause_subject(Cause cause, const std::string& mirror) {
  switch (cause) {
    case Cause::aim: return "The aim";
    case Cause::place: return "The place of the target";
    case Cause::slope: return "The slope error of the " + mirror;
    case Cause::spread: return "The scatter of the skin";
    case Cause::flaws: return fmt::format("What is wrong with the shape of the {} (its flaws)", mirror);
    case Cause::shape: return "The curve";
    case Cause::sun_disc: return "The width of the sun itself";
  }
  return "";
}

/// How it would be right.
std::string made_right(Cause cause, const std::string& mirror) {
  switch (cause) {
    case Cause::aim: return "aimed true";
    case Cause::place: return "at the focus of the " + mirror;
    case Cause::slope: return "with no slope error";
    case Cause::spread: return "with a skin that does not scatter";
    case Cause::flaws: return "without them";
    case Cause::shape: return "with a parabola of the same focal length";
    case Cause::sun_disc: return "from a point";
  }
  return "";
}

bool counts(const CauseCost& cost) {
  return cost.gain.value >= small_cost && cost.gain.value >= 2 * cost.gain.std_error.value_or(0);
}

}  // namespace

std::vector<std::string> cost_lines(const Causes& causes, const Target& target, const std::string& mirror) {
  if (causes.costs.empty() || causes.share.value >= all_of_it) return {};
  const CauseCost& first = causes.costs.front();
  if (!counts(first)) {
    return {fmt::format("The {} catches {} of the mirror's light, and no single thing put right would change that by a per cent.",
                        target.name, percent(causes.share.value))};
  }
  std::string line =
      fmt::format("{} costs most: {}, the {} would catch {} of the mirror's light, not {}.", cause_subject(first.cause, mirror),
                  made_right(first.cause, mirror), target.name, percent(first.share.value), percent(causes.share.value));
  if (first.cause == Cause::flaws) line.replace(line.find(" costs most"), 11, " cost most");
  if (causes.costs.size() > 1) {
    const CauseCost& next = causes.costs[1];
    if (counts(next) && next.gain.value >= next_of_first * first.gain.value)
      line += fmt::format(" {} alone: {}.", capital(made_right(next.cause, mirror)), percent(next.share.value));
  }
  return {line};
}

std::vector<std::string> curve_lines(const Reflector& mirror, Units units) {
  const auto circle = [&](double radius, double width, const char* what) {
    // A ray along the axis that meets a circle at the height of sin θ = r/R crosses the axis R/(2 cos θ) before its centre.
    const double sine = std::min(1.0, width / 2 / radius), cosine = std::sqrt(1 - sine * sine);
    const double crossing = radius - radius / (2 * std::max(cosine, 1e-6));
    const std::string rim = length_of(crossing, units), middle = length_of(radius / 2, units);
    std::vector<std::string> lines;
    if (crossing <= 0) {
      lines.push_back(fmt::format(
          "Rim rays of a {} so deep meet it again before they cross its axis; those near the middle cross {} up.", what, middle));
    } else if (rim != middle) {  // a shallow one is as good as a parabola
      lines.push_back(
          fmt::format("Rim rays of a {} cross lower: {} above its lowest place, {} those near the middle, so there is no "
                      "one focus.",
                      what, rim, middle));
    }
    return lines;
  };
  if (const auto* sphere = std::get_if<SphereBowl>(&mirror.shape)) return circle(sphere->radius, sphere->width, "sphere");
  if (const auto* arc = std::get_if<ArcTrough>(&mirror.shape)) return circle(arc->radius, arc->width, "circle");
  if (const auto* petals = std::get_if<Petals>(&mirror.shape)) {
    const double chord = petals->width * std::sin(std::numbers::pi / petals->count);
    return {fmt::format("Each of the {} petals is flat across, {} at the rim: it throws a line about as long, not a point.",
                        petals->count, length_of(chord, units))};
  }
  if (const auto* facets = std::get_if<Facets>(&mirror.shape)) {
    return {fmt::format("Each tile is flat: it throws its own size, {}, and the sun's width on top; smaller tiles, smaller spot.",
                        length_of(facets->tile, units))};
  }
  return {};
}

std::string comet_line(const SideView& view, const Sun& sun, Units units, bool letters) {
  // Where the sun leans along a trough alone, no rim of the cut is nearer to it.
  constexpr double upright = 1e-6;
  if (sun.aim_error <= 0 || !view.named || std::abs(view.sun) < upright) return "";
  const std::array<const CutRay*, 3> rays{&view.named->middle, &view.named->near_rim, &view.named->far_rim};
  std::array<double, 3> away{},
      moved{};  // to the side away from the sun: from the target's middle, from where a true aim lands [m]
  double scale = 0, before = 0;
  for (std::size_t k = 0; k < rays.size(); ++k) {
    if (!rays[k]->on_plane || !rays[k]->aimed_true) return "";
    const auto along = [&](const CutPoint& at) { return -(at.across * view.sun_side.across + at.up * view.sun_side.up); };
    away[k] = along(*rays[k]->on_plane), moved[k] = away[k] - along(*rays[k]->aimed_true);
    scale = std::max(scale, std::abs(moved[k])), before = std::max(before, std::abs(away[k] - moved[k]));
  }
  const bool gathered = before < 0.05 * scale;  // a true aim brings all three to the middle
  const std::array<double, 3>& told = gathered ? away : moved;
  const std::string start = fmt::format("The sun stands {} off. ", about_degrees_text(sun.aim_error));
  std::string places =
      gathered
          ? fmt::format(
                "So the middle ray (M) meets the target's plane {} from its middle on the side away from the sun, the ray of "
                "the near rim (N) {}, of the far rim (F) {}",
                length_of(told[0], units), length_of(told[1], units), length_of(told[2], units))
          : fmt::format(
                "That moves the middle ray (M) by {} away from the sun's side, the ray of the near rim (N) by {}, of the "
                "far rim (F) by {}",
                length_of(told[0], units), length_of(told[1], units), length_of(told[2], units));
  for (const std::string letter : {" (M)", " (N)", " (F)"}) {
    if (!letters) places.erase(places.find(letter), letter.size());
  }
  if (told[0] > 0 && told[1] > 1.02 * told[0] && told[2] > 1.02 * told[0]) {
    return start + places +
           (gathered ? ": rim rays land farther out than middle rays, and the spot grows a tail to that side, like a comet."
                     : ": rim rays move farther than middle rays, and the spot grows a tail to that side, like a comet.");
  }
  const auto [low, high] = std::minmax_element(told.begin(), told.end());
  if (*high - *low < 0.05 * scale) return start + places + ": all move alike, so the spot moves but keeps its shape.";
  return start + places + ".";
}

}  // namespace dishwright
