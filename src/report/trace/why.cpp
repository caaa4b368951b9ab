// SPDX-License-Identifier: MIT
#include "report/trace/why.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <utility>

#include "report/trace/why_story.h"

namespace dishwright {

namespace {

/// The first mirror with a focus, and how far its rays travel from vertex to focus.
struct Focusing {
  const Reflector* mirror = nullptr;
  double focal_length = 0;
  Vector3 focus = Vector3::Zero();
};

Focusing focusing(const Scene& scene) {
  for (const Reflector& mirror : scene.reflectors) {
    if (const std::optional<Vector3> own = own_focus(mirror.shape))
      return {&mirror, own->z(), mirror.pose.turn * *own + mirror.pose.at};
  }
  return {};
}

double degrees(double radians) { return radians * 180 / std::numbers::pi; }

/// Two digits: these are rules of thumb.
std::string about_length(double metres, Units units) {
  const double scale = lengths_per_metre(units);
  return rough_text(metres * scale, 2) + " " + length_unit(units);
}

/// What sets the width of a spot at the focus; empty for a point sun on a perfect mirror.
std::string spot_reason(const Focusing& at, const Sun& sun, Units units) {
  std::string text;
  if (sun.half_angle > 0) {
    text = fmt::format("Focal length {}: the sun's disc alone makes a spot {} wide or wider.",
                       length_text(at.focal_length, units), about_length(2 * at.focal_length * std::tan(sun.half_angle), units));
  }
  const double slope = at.mirror->slope_error;
  if (slope > 0) {
    text += fmt::format("{}A slope error of {} turns rays by twice as much: about {} of blur (rms) each way.",
                        text.empty() ? "" : " ", milliradians_text(slope), about_length(2 * slope * at.focal_length, units));
  }
  return text;
}

std::string place_reason(const Focusing& at, const Target& target, double away, Units units) {
  return fmt::format("The {} stands {} from the focus of the {}, so the light there is not drawn together as far as it can be.",
                     target.name, about_length(away, units), at.mirror->name);
}

std::string aim_reason(const Focusing& at, const Sun& sun, Units units) {
  return fmt::format("The aim is {} off the sun: that moves the spot about {} to the other side.",
                     about_degrees_text(sun.aim_error), about_length(at.focal_length * std::tan(sun.aim_error), units));
}

/// A ledger line as the subject of a sentence.
std::string loss_words(const std::string& where) {
  const auto after = [&](std::string_view head) { return where.substr(head.size()); };
  if (where == "missed") return "light that misses everything";
  if (where == "missed the mirrors") return "light that never meets a mirror";
  if (where.starts_with("absorbed by ")) return fmt::format("what the skin of the {} soaks up", after("absorbed by "));
  if (where.starts_with("shaded by ")) return fmt::format("the shadow of the {}", after("shaded by "));
  if (where.starts_with("back of ")) return fmt::format("light on the back of the {}", after("back of "));
  if (where.starts_with("lid of ")) return fmt::format("light on the lid of the {}", after("lid of "));
  return fmt::format("light on the {}", where);
}

/// Light that a lamp sends straight to a target is no loss.
bool goes_straight(const std::string& where) { return where.starts_with("straight to "); }

std::string loss_reason(const TraceFigures& figures) {
  const LedgerLine* largest = nullptr;
  for (const LedgerLine& line : figures.ledger) {
    const bool lands =
        std::any_of(figures.targets.begin(), figures.targets.end(), [&](const TargetFigures& t) { return t.name == line.where; });
    if (!lands && !goes_straight(line.where) && (largest == nullptr || line.power.value > largest->power.value)) largest = &line;
  }
  if (largest == nullptr || largest->power.value <= 0 || figures.aperture_power.value <= 0) return "";
  const double share = largest->power.value / figures.aperture_power.value;
  return fmt::format("The largest loss is {}: {} %.", loss_words(largest->where), rough_text(100 * share, 2));
}

/// What spreads a lamp's beam.
std::vector<std::string> lamp_lines(const Focusing& at, const Lamp& lamp, const Target& on, Units units) {
  std::vector<std::string> lines;
  const double size = lamp_size(lamp.shape), away = (lamp.pose.at - at.focus).norm();
  const double flight = (on.pose.at - at.mirror->pose.at).norm();
  if (away < 0.02 * at.focal_length) {
    lines.push_back(fmt::format(
        "From {} away, the bottom of the {} sees the lamp {} {}: about {} deg. Each spot there spreads its light "
        "by as much, which is "
        "{} at the {}.",
        length_text(at.focal_length, units), at.mirror->name, length_text(size, units),
        std::holds_alternative<LineLamp>(lamp.shape) ? "long" : "wide", rough_text(degrees(size / at.focal_length), 2),
        about_length(size / at.focal_length * flight, units), on.name));
  } else {
    lines.push_back(fmt::format("The lamp stands {} from the focus of the {}, so the light does not leave as one even beam.",
                                about_length(away, units), at.mirror->name));
  }
  const double slope = at.mirror->slope_error;
  if (slope > 0) {
    lines.push_back(fmt::format("A slope error of {} turns rays by twice as much: about {} of blur (rms) each way at the {}.",
                                milliradians_text(slope), about_length(2 * slope * flight, units), on.name));
  }
  return lines;
}

}  // namespace

std::vector<std::string> why_lines(const Scene& scene, const TraceFigures& figures, std::size_t target, Units units,
                                   const LightStory* story) {
  std::vector<std::string> lines;
  std::string comet;
  const Target& on = scene.targets.at(target);
  const Focusing at = focusing(scene);
  if (story != nullptr && target == 0) {
    lines = cost_lines(story->causes, on, at.mirror != nullptr ? at.mirror->name : scene.reflectors.front().name);
    for (std::string& line : curve_lines(scene.reflectors.front(), units)) lines.push_back(std::move(line));
    comet = comet_line(story->view, scene.sun, units);
    if (!comet.empty()) lines.push_back(comet);
  }
  if (at.mirror != nullptr && at.focal_length > 0 && scene.lamp) {
    lines = lamp_lines(at, *scene.lamp, on, units);
  } else if (at.mirror != nullptr && at.focal_length > 0) {
    const double away = (on.pose.at - at.focus).norm();
    std::string spot = away < 0.05 * at.focal_length ? spot_reason(at, scene.sun, units) : place_reason(at, on, away, units);
    if (!spot.empty()) lines.push_back(std::move(spot));
    if (scene.sun.aim_error > 0 && comet.empty()) lines.push_back(aim_reason(at, scene.sun, units));
  }
  const std::string loss = loss_reason(figures);
  if (!loss.empty()) lines.push_back(loss);
  return lines;
}

std::string wave_limit_note(const Scene& scene, const TraceFigures& figures, std::size_t target) {
  const std::optional<Estimate>& width = figures.targets[target].spot_width_50;
  if (!width) return "";
  constexpr double green = 550e-9, half_of_light = 1.07;
  const Reflector& mirror = scene.reflectors.front();
  const double distance = (scene.targets[target].pose.at - mirror.pose.at).norm();
  const double narrowest = half_of_light * green * distance / rim_width(mirror.shape);
  if (width->value >= 10 * narrowest) return "";
  return fmt::format(
      "Rays come to their end here: light is a wave, and half of it at the {} cannot be drawn into a circle narrower than about "
      "{} µm.",
      scene.targets[target].name, rough_text(narrowest * 1e6, 2));
}

}  // namespace dishwright
