// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>

#include "report/numbers/caution.h"
#include "report/numbers/sky_words.h"
#include "report/yard/burn_report.h"
#include "report/yard/yard_words.h"
#include "result/heat_levels.h"

namespace dishwright {

namespace {

Moment moment_of(const BurnDay& day, const BurnStep& step) { return {step.sun.seconds, day.day.offset}; }
std::string clock_of(const BurnDay& day, const BurnStep& step) { return clock_text(moment_of(day, step)); }

/// First and last time with that much light, and whether there are times with less between them.
struct Span {
  std::size_t first = 0, last = 0;
  bool broken = false;
};
std::optional<Span> span_over(const BurnDay& day, double level) {
  std::optional<Span> span;
  for (std::size_t k = 0; k < day.steps.size(); ++k) {
    if (!(day.steps[k].spot.irradiance > level)) continue;
    if (!span) span = Span{k, k, false};
    span->broken = span->broken || k > span->last + 1;
    span->last = k;
  }
  return span;
}

std::string span_words(const BurnDay& day, const Span& span) {
  if (span.first == span.last) return "about " + clock_of(day, day.steps[span.first]);
  return fmt::format("from {} to {}{}", clock_of(day, day.steps[span.first]), clock_of(day, day.steps[span.last]),
                     span.broken ? " (with breaks)" : "");
}

/// "3 ft 2 in E, 10 in N and 1 ft up", from the vertex.
std::string place_of(const Vector3& at, Units units) {
  constexpr double next_to = 0.02;
  std::vector<std::string> parts;
  if (std::abs(at.x()) > next_to)
    parts.push_back(fmt::format("{} {}", yard_text(std::abs(at.x()), units), at.x() > 0 ? "E" : "W"));
  if (std::abs(at.y()) > next_to)
    parts.push_back(fmt::format("{} {}", yard_text(std::abs(at.y()), units), at.y() > 0 ? "N" : "S"));
  parts.push_back(fmt::format("{} {}", yard_text(std::abs(at.z()), units), at.z() < 0 ? "below" : "above"));
  return fmt::format("{}", fmt::join(parts, ", "));
}

std::string brightest_words(const BurnDay& day, Units units) {
  const auto most = std::max_element(day.steps.begin(), day.steps.end(),
                                     [](const BurnStep& a, const BurnStep& b) { return a.spot.irradiance < b.spot.irradiance; });
  const BurnSpot& spot = most->spot;
  return fmt::format("Brightest at {}: {}, {} the vertex, {} above {}.", clock_of(day, *most), brightness_text(spot.irradiance),
                     place_of(spot.at, units), yard_text(spot.at.z() + day.parked.height, units),
                     day.parked.roof ? "the seat" : "the ground");
}

/// The brightest that one face gets in the day.
template <class Face>
const BurnStep* brightest_of(const BurnDay& day, const Face& face) {
  const BurnStep* best = nullptr;
  for (const BurnStep& step : day.steps) {
    if (face(step).irradiance > (best != nullptr ? face(*best).irradiance : 0)) best = &step;
  }
  return best;
}

std::string face_words(const BurnDay& day, const std::string& name, const BurnStep& step, const BurnSpot& spot) {
  return fmt::format("{} {} at {}", name, brightness_text(spot.irradiance), clock_of(day, step));
}

std::vector<std::string> faces_words(const BurnDay& day, Units units) {
  const bool closed = day.parked.roof.has_value();
  std::vector<std::string> out, walls;
  const auto ground = [](const BurnStep& step) -> const BurnSpot& { return step.ground; };
  if (const BurnStep* most = brightest_of(day, ground); most != nullptr && most->ground.irradiance >= pain_level)
    out.push_back(fmt::format("{}, {} from under the vertex.",
                              face_words(day, closed ? "The seat gets up to" : "The ground gets up to", *most, most->ground),
                              yard_text(std::hypot(most->ground.at.x(), most->ground.at.y()), units)));
  const auto roof = [](const BurnStep& step) -> const BurnSpot& { return step.roof; };
  if (const BurnStep* most = brightest_of(day, roof); closed && most != nullptr && most->roof.irradiance >= pain_level)
    out.push_back(face_words(day, fmt::format("A roof {} above the vertex gets up to", yard_text(*day.parked.roof, units)), *most,
                             most->roof) +
                  ".");
  for (std::size_t k = 0; k < wall_names.size(); ++k) {
    const auto wall = [k](const BurnStep& step) -> const BurnSpot& { return step.walls.at(k); };
    const BurnStep* most = brightest_of(day, wall);
    if (most != nullptr && wall(*most).irradiance >= pain_level)
      walls.push_back(face_words(day, std::string("on the ") + wall_names.at(k) + " side", *most, wall(*most)));
  }
  if (!walls.empty())
    out.push_back(
        fmt::format("A wall {} from the vertex gets up to: {}.", yard_text(day.parked.wall, units), fmt::join(walls, "; ")));
  return out;
}

/// How near the spot comes to the ground while it can set wood on fire.
std::string lowest_words(const BurnDay& day, Units units) {
  const BurnStep* lowest = nullptr;
  for (const BurnStep& step : day.steps) {
    if (step.spot.irradiance > ignition_level && (lowest == nullptr || step.spot.at.z() < lowest->spot.at.z())) lowest = &step;
  }
  if (lowest == nullptr) return "";
  const double height = std::max(0.0, lowest->spot.at.z() + day.parked.height);
  return fmt::format("While it can set wood on fire it comes within {} of {}, at {}.", yard_text(height, units, false),
                     day.parked.roof ? "the seat" : "the ground", clock_of(day, *lowest));
}

/// "-14 in", "0 in".
std::string signed_text(double metres, Units units) {
  const std::string size = yard_text(std::abs(metres), units);
  return metres < 0 && size != yard_text(0, units) ? "-" + size : size;
}

std::string behind_words(const BurnDay& day) {
  const auto behind = std::count_if(day.steps.begin(), day.steps.end(), [](const BurnStep& step) { return step.behind; });
  if (behind == 0) return "";
  if (static_cast<std::size_t>(behind) == day.steps.size())
    return "The sun is behind the mirror all that day: its bright side gets none.";
  const auto front = [](const BurnStep& step) { return !step.behind; };
  const auto first = std::find_if(day.steps.begin(), day.steps.end(), front);
  const auto last = std::find_if(day.steps.rbegin(), day.steps.rend(), front);
  return fmt::format("The sun is in front of the mirror from {} to {} only.", clock_of(day, *first), clock_of(day, *last));
}

}  // namespace

std::string parked_words(const BurnDay& day) {
  switch (day.asked.as) {
    case ParkedAs::face_up: return "left face up";
    case ParkedAs::in_vehicle: return "left face up in a vehicle";
    case ParkedAs::leaning:
    case ParkedAs::pointed: break;
  }
  return fmt::format("left leaning (its axis {} up, toward {})", degrees_to(day.elevation), azimuth_words(day.azimuth));
}

std::vector<std::string> burn_words(const BurnDay& day, Units units) {
  const std::string date = date_text(day.day);
  std::vector<std::string> out;
  const auto burns = span_over(day, burn_level), fire = span_over(day, ignition_level);
  if (!burns) {
    const auto spot = [](const BurnStep& step) -> const BurnSpot& { return step.spot; };
    const BurnStep* most = brightest_of(day, spot);
    out.push_back(fmt::format("On {}, {}: {}.", date, parked_words(day),
                              most == nullptr ? "no light comes off the mirror"
                                              : fmt::format("the light is never over {} (at {}); it dazzles",
                                                            brightness_text(most->spot.irradiance), clock_of(day, *most))));
  } else {
    std::string text = fmt::format("On {}, {}: the spot can burn skin {}", date, parked_words(day), span_words(day, *burns));
    if (fire) text += fmt::format(" and set wood on fire {}", span_words(day, *fire));
    out.push_back(text + ".");
    const Span& run = fire ? *fire : *burns;
    out.push_back(brightest_words(day, units));
    if (run.first != run.last)
      out.push_back(fmt::format("It runs from {} the vertex at {} to {} at {}.", place_of(day.steps[run.first].spot.at, units),
                                clock_of(day, day.steps[run.first]), place_of(day.steps[run.last].spot.at, units),
                                clock_of(day, day.steps[run.last])));
    if (std::string text_low = lowest_words(day, units); !text_low.empty()) out.push_back(std::move(text_low));
  }
  for (std::string& text : faces_words(day, units)) out.push_back(std::move(text));
  if (std::string behind = behind_words(day); !behind.empty()) out.push_back(std::move(behind));
  return out;
}

std::vector<std::vector<std::string>> burn_table(const BurnDay& day, Units units) {
  constexpr double hour = 3600;
  std::vector<std::vector<std::string>> rows = {{"clock", "sun up", "kW/m²", "east", "north", "over ground"}};
  if (day.parked.roof) rows[0].back() = "over seat";
  for (std::size_t k = 0; k < day.steps.size(); ++k) {
    const BurnStep& step = day.steps[k];
    const double clock = clock_seconds(moment_of(day, step), day.day);
    if (std::abs(std::remainder(clock, hour)) > day.asked.every / 2 - 1e-6 && day.asked.every < hour) continue;
    std::vector<std::string> row = {clock_of(day, step),
                                    fmt::format("{:.0f}", day.places[k].apparent_elevation * 180 / std::numbers::pi)};
    if (step.spot.irradiance > 0) {
      row.push_back(kilowatts(step.spot.irradiance));
      for (const double one : {step.spot.at.x(), step.spot.at.y(), step.spot.at.z() + day.parked.height})
        row.push_back(signed_text(one, units));
    } else {
      row.insert(row.end(), {step.behind ? "behind" : "none", "-", "-", "-"});
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<std::string> burn_notes(const BurnDay& day, Units units) {
  const bool closed = day.parked.roof.has_value();
  std::vector<std::string> out;
  out.push_back(
      fmt::format("Every {:.0f} minutes; {}; the vertex {} above the {}, {}.", day.asked.every / 60,
                  day.measured ? "the file's beam all day, also when the sun is low" : "the beam of a clear sky",
                  yard_text(day.parked.height, units), closed ? "seat" : "ground",
                  closed ? fmt::format("the sides {} away, the roof {} above; glass taken as open, which is an upper bound",
                                       yard_text(day.parked.wall, units), yard_text(*day.parked.roof, units))
                         : fmt::format("walls {} away", yard_text(day.parked.wall, units))));
  out.emplace_back(
      "Targets are taken away. Where the sun slants in, the true spot can be up to half as strong again. Left out: the stand, "
      "what "
      "else is in the way, light that bounces off the ground or glass.");
  return out;
}

void add_burn_json(const BurnDay& day, Json& out) {
  const auto of = [](double value, const char* unit) { return json_quantity(Estimate{value, std::nullopt, unit}); };
  const char* const kinds[] = {"face up", "leaning", "pointed", "in a vehicle"};
  Json parked;
  parked["as"] = kinds[static_cast<int>(day.asked.as)];
  parked["elevation"] = of(day.elevation, "rad"), parked["azimuth"] = of(day.azimuth, "rad");
  parked["above_ground"] = of(day.parked.height, "m"), parked["wall"] = of(day.parked.wall, "m");
  parked["roof"] = day.parked.roof ? of(*day.parked.roof, "m") : Json(nullptr);
  parked["beam"] = day.measured ? "measured" : "clear sky";
  out["parked"] = std::move(parked);
  const auto spot_json = [&](const BurnSpot& spot, Json& entry) {
    entry["irradiance"] = of(spot.irradiance, "W/m2");
    entry["place"] = nullptr;
    if (spot.irradiance > 0) entry["place"] = Json::array({of(spot.at.x(), "m"), of(spot.at.y(), "m"), of(spot.at.z(), "m")});
  };
  out["burn_track"] = Json::array();
  for (std::size_t k = 0; k < day.steps.size(); ++k) {
    const BurnStep& step = day.steps[k];
    Json entry;
    entry["time"] = moment_text(moment_of(day, step));
    entry["sun"] = sun_place_json(day.places[k]);
    entry["beam"] = of(step.sun.beam, "W/m2");
    entry["behind"] = step.behind;
    spot_json(step.spot, entry);
    spot_json(step.ground, entry["ground"]);
    for (std::size_t side = 0; side < wall_names.size(); ++side)
      spot_json(step.walls.at(side), entry["walls"][wall_names.at(side)]);
    if (day.parked.roof) spot_json(step.roof, entry["roof"]);
    out["burn_track"].push_back(std::move(entry));
  }
}

}  // namespace dishwright
