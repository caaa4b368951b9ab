// SPDX-License-Identifier: MIT
#include "report/tolerance/tolerance_words.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "report/numbers/tape_words.h"
#include "report/waves/wave_words.h"
#include "scene/mirror_surface.h"
#include "study/deviation.h"

namespace dishwright {

namespace {

constexpr double sun_rate = std::numbers::pi / 12 / 60;  // [rad/min] 15 degrees an hour, the most the sun moves

Estimate in_milliradians(const Estimate& estimate) {
  Estimate out{1e3 * estimate.value, std::nullopt, "mrad"};
  if (estimate.std_error) out.std_error = 1e3 * *estimate.std_error;
  return out;
}

std::string value_text(const std::string& key, const Estimate& value, Units units) {
  if (key == "slope_error") return number_text(in_milliradians(value), units) + " rms";
  if (key == "focal_length_error") return percent_text(value);
  if (key == "petals") return fmt::format("{:.0f} petals", value.value);
  return number_text(value, units);
}

/// Of waves: rms or peak, surface or way, and lengths in wavelengths too.
std::string wave_value_text(const Tolerance& all, const std::string& key, const Estimate& value, Units units) {
  const ReflectorShape& shape = all.scene.reflectors.front().shape;
  double metres = value.value;
  std::string text = value_text(key, value, units);
  if (key == "surface_rms") text += " rms";
  if (key == "aim_error") return text;
  if (key == "waviness") text += " from the middle to a crest";
  if (key == "focal_length_error") {
    const std::optional<Vector3> focus = own_focus(shape);
    if (!focus) return text;
    metres *= focus->norm();
    text += " = " + number_text({metres, std::nullopt, "m"}, units);
  }
  return fmt::format("{} ({} wavelengths)", text, rough_text(metres / all.waves->wavelength(), 3));
}

std::string shown_value(const Tolerance& all, const std::string& key, const Estimate& value, Units units) {
  return all.waves ? wave_value_text(all, key, value, units) : value_text(key, value, units);
}

/// What a limit of a wave means on the bench; empty where there is no more to say.
std::string wave_shop_words(const Tolerance& all, const ToleranceLimit& limit, Units units) {
  const double value = limit.limit->value;
  if (limit.key == "surface_rms")
    return "further random bumps, short against the dish, counted as half of the error of the way; on a shallow dish that is "
           "their "
           "rms height from the true surface";
  if (limit.key == "waviness") {
    const Reflector& mirror = all.scene.reflectors.front();
    const double period = mirror.flaws.waviness ? mirror.flaws.waviness->period : rim_width(mirror.shape) / 6;
    return fmt::format("waves {} from crest to crest may be {} high from trough to crest", tape_text(period, units),
                       tape_down(2 * value, units));
  }
  return "";
}

std::string gain_verdict(const Tolerance& all) {
  const WaveTolerance& waves = *all.waves;
  const std::string target = all.scene.targets[all.target].name, unit = all.scene.radio ? "dBi" : "dB";
  if (!waves.gain) return fmt::format("No: nothing arrives at the {}.", target);
  const double lost = waves.true_gain.value_or(*waves.gain) - *waves.gain;
  const std::string against = lost >= 0.05   ? fmt::format("{} less than", level_text(lost))
                              : lost > -0.05 ? "as much as"
                                             : fmt::format("{} more than", level_text(-lost));
  return fmt::format("{}: as the file has it the gain at the {} is {}, {} the true dish has; a loss of {} is allowed.",
                     all.holds() ? "Yes" : "No", target, level_text(waves.gain, unit), against, exact_text(all.wanted) + " dB");
}

}  // namespace

std::string unit_of(const std::string& key) {
  if (key == "slope_error" || key.starts_with("aim_")) return "rad";
  return key == "focal_length_error" || key == "petals" ? "1" : "m";
}

std::string way_words(const std::string& side) {
  if (side == "+x") return "to the right";
  if (side == "-x") return "to the left";
  return side == "+y" ? "up" : side == "-y" ? "down" : side;
}

std::string sun_time(double radians) {
  const double minutes = radians / sun_rate;
  if (minutes >= 2) return fmt::format("{:.0f} min", std::floor(minutes));
  const double seconds = std::floor(minutes * 60);
  return seconds > 0 ? fmt::format("{:.0f} s", seconds) : "less than 1 s";
}

double depth_of(ReflectorShape shape, double factor) {
  return scale_focal_length(shape, factor) ? rim_depth(shape).value_or(0) : 0;
}

std::string limit_name(const ToleranceLimit& limit) {
  if (limit.key == "slope_error") return "surface slope error";
  if (limit.key == "surface_rms") return "random bumps";
  if (limit.key == "waviness") return "waves in the surface";
  if (limit.key == "aim_error") return "aim error";
  if (limit.key == "aim_across") return "aim across the trough";
  if (limit.key == "aim_along") return "aim along the trough";
  if (limit.key.starts_with("offset")) return "target " + way_words(limit.side);
  if (limit.key == "focal_length_error")
    return "focal length too " + (limit.side == "longer" ? std::string("long") : std::string("short"));
  return limit.key == "petals" ? "petals" : "flat tile";
}

std::string wanted_text(const Tolerance& all) {
  return all.waves ? exact_text(all.wanted) + " dB" : exact_text(100 * all.wanted) + " %";
}

std::string tolerance_question(const Tolerance& all, Units units) {
  const std::string target = all.scene.targets[all.target].name;
  if (all.waves)
    return fmt::format(
        "At {} (wavelength {}) a loss of {} is allowed at the {}. How far each thing may go while all else stays as the file "
        "has it:",
        frequency_text(all.waves->frequency), length_text(all.waves->wavelength(), units), wanted_text(all), target);
  return fmt::format(
      "Wanted: {} of the mirror's light on the {}. How far each thing may go while all else stays as the file has it:",
      wanted_text(all), target);
}

std::string limit_text(const Tolerance& all, const ToleranceLimit& limit, Units units) {
  const Estimate end{limit.searched, std::nullopt, unit_of(limit.key)};
  if (limit.limit) return (limit.at_least ? "at least " : "up to ") + shown_value(all, limit.key, *limit.limit, units);
  if (limit.open) return "no limit up to " + shown_value(all, limit.key, end, units);
  if (limit.curve.empty()) return "could not be tried";
  if (all.waves) return "too great a loss from the start";
  const Estimate best{limit.best.figure, limit.best.std_error > 0 ? std::optional(limit.best.std_error) : std::nullopt, "1"};
  const std::string place = value_text(limit.key, {limit.best.at, std::nullopt, unit_of(limit.key)}, units);
  return best.value >= all.wanted ? fmt::format("too little at 0; {} at {}", percent_text(best), place)
                                  : fmt::format("not reachable: best is {} at {}", percent_text(best), place);
}

std::string limit_in_shop_words(const Tolerance& all, const ToleranceLimit& limit, Units units) {
  if (!limit.limit) return "";
  const double value = limit.limit->value;
  if (all.waves && (limit.key == "surface_rms" || limit.key == "waviness" || limit.key == "aim_error"))
    return wave_shop_words(all, limit, units);
  if (limit.key == "slope_error") {
    const double run = straightedge(value, rim_width(all.scene.reflectors.front().shape), units);
    return fmt::format("{} over a {} run (rms over the whole surface)", rise_down(value * run, units), run_text(run, units));
  }
  if (limit.key.starts_with("aim_"))
    return fmt::format("from a true aim the sun takes {} to use this up, at its fastest (15 deg an hour)", sun_time(value));
  if (limit.key == "offset_along" || limit.key == "offset_across") {
    const std::string size = tape_down(value, units);
    return fmt::format("target bracket {}{} {}", size.starts_with("less") ? "" : "within ", size, way_words(limit.side));
  }
  if (limit.key == "focal_length_error") {
    const ReflectorShape& shape = all.scene.reflectors.front().shape;
    const double now = depth_of(shape, 1), then = depth_of(shape, limit.side == "longer" ? 1 + value : 1 - value);
    if (now <= 0 || then <= 0) return "";
    const bool longer = limit.side == "longer";
    return fmt::format("the rim {} deep at {}, where the plan says {}", longer ? "no less" : "no more",
                       longer ? tape_up(then, units) : tape_down(then, units), tape_text(now, units, 32));
  }
  if (limit.key == "tile") return fmt::format("flat squares of {} at most, with gaps of 1/20 of a tile", tape_down(value, units));
  return "flat sheet bent one way; this many pieces or more";
}

std::vector<std::string> tolerance_sentences(const Tolerance& all, Units units) {
  std::vector<std::string> out;
  for (const ToleranceLimit& limit : all.limits) {
    const std::string words = limit_in_shop_words(all, limit, units);
    out.push_back(fmt::format("{}: {}{}", limit_name(limit), limit_text(all, limit, units), words.empty() ? "" : "; " + words));
  }
  return out;
}

std::string tolerance_verdict(const Tolerance& all) {
  if (all.waves) return gain_verdict(all);
  const std::string target = all.scene.targets[all.target].name, has = percent_text(all.share), wanted = wanted_text(all);
  const double margin = std::abs(all.share.value - all.wanted), error = all.share.std_error.value_or(0);
  if (margin < 2 * error)
    return fmt::format("Too close to call: as the file has it the {} catches {} of the mirror's light, and {} are wanted.",
                       target, has, wanted);
  return all.holds()
             ? fmt::format("Yes: as the file has it the {} catches {} of the mirror's light; {} are wanted.", target, has, wanted)
             : fmt::format("No: as the file has it the {} catches {} of the mirror's light; {} are wanted.", target, has, wanted);
}

}  // namespace dishwright
