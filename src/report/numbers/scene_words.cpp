// SPDX-License-Identifier: MIT
#include "report/numbers/scene_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace dishwright {

namespace {

std::string percent(double share) { return percent_text({share, std::nullopt, "1"}); }

std::string disc_words(const Sun& sun) {
  if (sun.half_angle == 0) return "a point in the sky";
  std::string size = "disc half angle " + milliradians_text(sun.half_angle);
  switch (sun.disc) {
    case DiscProfile::uniform: return size + ", even";
    case DiscProfile::limb_darkened: return size + ", darker toward its edge";
    case DiscProfile::aureole: return size + ", with " + percent(sun.aureole_share) + " of the light from the glow around it";
  }
  return size;
}

std::string shape_words(const ReflectorShape& shape, Units units) {
  const auto length = [units](double metres) { return length_text(metres, units); };
  const LengthWords say{
      length, [units](double metres) { return rough_text(metres * lengths_per_metre(units), 2) + " " + length_unit(units); },
      [units](const Vector3& place) { return place_words(place, units); }};
  return std::visit(
      [&](const auto& s) {
        std::string out = fmt::format("{}, {} wide", s.words.word, length(rim_width(shape)));
        if constexpr (requires { s.length; }) {
          if (s.length > 0) out += fmt::format(", {} long", length(s.length));
        }
        if constexpr (requires { s.depth; }) out += fmt::format(", {} deep", length(s.depth));
        // Of tiles it is the frame that has one.
        if constexpr (
            requires { s.focal_length; } && !requires { s.frame; })
          out += ", focal length " + length(s.focal_length);
        if constexpr (requires { s.radius; })
          out += fmt::format(", radius {} (focus at half of it, {})", length(s.radius), length(s.radius / 2));
        if constexpr (requires { s.clearance; }) out += fmt::format(", near edge {} from the axis", length(s.clearance));
        if constexpr (requires { s.near_focus; })
          out += fmt::format(", foci {} and {} from its vertex", length(s.near_focus), length(s.far_focus));
        if constexpr (requires { s.details(say); }) out += s.details(say);
        if (hole_width(shape) > 0) out += fmt::format(", hole {} wide", length(hole_width(shape)));
        return out;
      },
      shape);
}

/// What is wrong with the shape, each thing in a few words; empty where it is true.
std::string flaw_words(const Flaws& flaws, Units units) {
  std::string out;
  const auto length = [&](double metres) { return length_text(metres, units); };
  const auto focal = [&](const char* axis, double sag) {
    if (sag != 0)
      out +=
          fmt::format("; focal length along {} {} % {}", axis, exact_text(100 * std::abs(sag)), sag > 0 ? "longer" : "shorter");
  };
  focal("x", flaws.sag_x);
  focal("y", flaws.sag_y);
  const auto hangs = [&](const char* where, double sag) {
    if (sag != 0) out += fmt::format("; rim {} {} too {}", where, length(std::abs(sag)), sag > 0 ? "low" : "high");
  };
  if (flaws.rim_sag_x == flaws.rim_sag_y) {
    hangs("all round", flaws.rim_sag_x);
  } else {
    hangs("along x", flaws.rim_sag_x);
    hangs("along y", flaws.rim_sag_y);
  }
  if (flaws.twist != 0) out += "; twisted by " + degrees_text(flaws.twist);
  if (flaws.waviness) {
    out += fmt::format("; waves {} from crest to crest, {} high", length(flaws.waviness->period),
                       length(2 * flaws.waviness->amplitude));
    if (flaws.waviness->direction != 0) out += fmt::format(", turned by {}", degrees_text(flaws.waviness->direction));
  }
  if (flaws.scallop)
    out += fmt::format("; skin hangs through by {} between {} ribs", length(flaws.scallop->depth), flaws.scallop->ribs);
  if (flaws.dents.size() == 1) {
    const Dent& dent = flaws.dents.front();
    out += fmt::format("; a {} {} wide, {} {}", dent.depth > 0 ? "dent" : "bump", length(dent.width),
                       length(std::abs(dent.depth)), dent.depth > 0 ? "deep" : "high");
  }
  if (flaws.roughness)
    out += fmt::format("; bumps of {} rms, {} in reach", length(flaws.roughness->rms), length(flaws.roughness->correlation));
  if (flaws.dents.size() > 1) out += fmt::format("; {} dents", flaws.dents.size());
  return out;
}

bool is_turned(const Pose& pose) { return !pose.turn.isIdentity(1e-12); }

std::string all_flaw_words(const Reflector& reflector, Units units) {
  std::string out = flaw_words(reflector.flaws, units);
  if (const auto* facets = std::get_if<Facets>(&reflector.shape); facets != nullptr && facets->tilt_error > 0)
    out += fmt::format("; tiles lean by {} rms", milliradians_text(facets->tilt_error));
  return out;
}

std::string pose_words(const Pose& pose, Units units) {
  return (pose.at.isZero(1e-12) ? "" : "; vertex at " + place_words(pose.at, units)) + (is_turned(pose) ? "; turned" : "");
}

}  // namespace

std::string scene_title(const Scene& scene, const std::string& otherwise) {
  return scene.title.empty() ? otherwise : scene.title;
}

std::string side_words(double direction) {
  const double quarters = direction / (std::numbers::pi / 2);
  const double nearest = std::round(quarters);
  if (std::abs(quarters - nearest) > 1e-9) return degrees_text(direction) + " from +x toward +y";
  const char* sides[] = {"+x (right)", "+y (up)", "-x (left)", "-y (down)"};
  return sides[((static_cast<long>(nearest) % 4) + 4) % 4];
}

std::string place_words(const Vector3& point, Units units) {
  const double scale = lengths_per_metre(units);
  const double largest = point.cwiseAbs().maxCoeff() * scale;
  // Four digits of the largest coordinate; the same step for all three, so that small ones do not look more exact.
  const int decimals = largest > 0 ? std::clamp(3 - static_cast<int>(std::floor(std::log10(largest))), 0, 6) : 0;
  const double step = std::pow(10.0, -decimals);
  const auto text = [&](double metres) { return exact_text(std::round(metres * scale / step) * step); };
  return fmt::format("x {}, y {}, z {} {}", text(point.x()), text(point.y()), text(point.z()), length_unit(units));
}

std::string sun_words(const Sun& sun) {
  std::string out = fmt::format("{} W/m² on a surface that faces it; {}", exact_text(sun.beam), disc_words(sun));
  if (sun.aim_error == 0) return out + "; aimed straight at it";
  return out +
         fmt::format("; aim off by {}, the sun leans toward {}", degrees_text(sun.aim_error), side_words(sun.aim_direction));
}

std::string lamp_power_words(const Lamp& lamp) {
  return fmt::format("{} {}", exact_text(lamp.power), lamp.in_lumens ? "lm" : "W");
}

std::string lamp_words(const Lamp& lamp, Units units) {
  std::string out = fmt::format(
      "{}, {} {}, gives {}; centre at {}", shape_word(lamp.shape), length_text(lamp_size(lamp.shape), units),
      std::holds_alternative<LineLamp>(lamp.shape) ? "long" : "wide", lamp_power_words(lamp), place_words(lamp.pose.at, units));
  return out + (is_turned(lamp.pose) ? "; turned" : "");
}

std::string reflector_words(const Reflector& reflector, Units units) {
  std::string out = shape_words(reflector.shape, units);
  out += fmt::format("; {}sends back {} of the light", reflector.finish.empty() ? "" : reflector.finish + ", ",
                     percent(reflector.reflectance));
  if (reflector.dirt > 0) out += fmt::format(" (with {} lost to dirt)", percent(reflector.dirt));
  out += all_flaw_words(reflector, units);
  out += reflector.slope_error == 0 ? "; no slope error" : "; slope error " + milliradians_text(reflector.slope_error) + " rms";
  if (reflector.specular_spread > 0)
    out += "; the skin spreads each ray by " + milliradians_text(reflector.specular_spread) + " rms";
  return out + pose_words(reflector.pose, units);
}

std::string wave_mirror_words(const Reflector& reflector, Units units) {
  return fmt::format("{}; sends back {} of the power{}{}", shape_words(reflector.shape, units),
                     percent(reflector.wave_reflectance), all_flaw_words(reflector, units), pose_words(reflector.pose, units));
}

std::string mirror_words(const Scene& scene, const Reflector& reflector, Units units) {
  return scene.is_wave() ? wave_mirror_words(reflector, units) : reflector_words(reflector, units);
}

std::string target_words(const Target& target, Units units) {
  const auto length = [units](double metres) { return length_text(metres, units); };
  std::string out = std::visit(
      [&](const auto& s) {
        std::string words = fmt::format("{}, {} wide", s.word, length(s.width));
        if constexpr (requires { s.length; }) words += fmt::format(", {} long", length(s.length));
        constexpr bool stands = requires { s.height; };
        if constexpr (stands) words += fmt::format(", {} high", length(s.height));
        return words + (stands ? ", base centre at " : ", centre at ");
      },
      target.shape);
  if (is_point(target.shape)) out = "point without a body at ";
  out += place_words(target.pose.at, units);
  if (is_turned(target.pose)) out += "; turned";
  const bool casts = target.shades || is_point(target.shape);
  return out + (casts ? "" : "; casts no shadow on its way in");
}

std::string mirrors_words(const Scene& scene) {
  return scene.reflectors.size() == 1 ? "the " + scene.reflectors[0].name : "the mirrors";
}

std::string power_range_words(const Scene& scene, const TargetFigures& target) {
  if (!target.power_range) return "";
  std::vector<std::string> finishes;
  for (const Reflector& mirror : scene.reflectors) {
    if (!mirror.finish.empty() && std::find(finishes.begin(), finishes.end(), mirror.finish) == finishes.end())
      finishes.push_back(mirror.finish);
  }
  // Outward to two digits: a common range is known no better.
  const auto [dull, bright] = *target.power_range;
  const double step = dull > 0 ? std::pow(10.0, std::floor(std::log10(dull)) - 1) : 1;
  const std::string from = exact_text(std::floor(dull / step * (1 + 1e-9)) * step),
                    to = exact_text(std::ceil(bright / step * (1 - 1e-9)) * step);
  return fmt::format("{} to {} {} for {}", from, to, target.power.unit,
                     finishes.size() == 1 ? finishes.front() : "these finishes");
}

}  // namespace dishwright
