// SPDX-License-Identifier: MIT
#include "report/compare/compare_widths.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/numbers/tape_words.h"

namespace dishwright {

namespace {

const TargetFigures& target_of(const Contestant& one) { return one.figures.targets.front(); }

}  // namespace

bool has_widths(const Contestant& one) {
  const std::string& shape = target_of(one).shape;
  return shape == "disk" || shape == "rectangle" || shape == "pot";
}

std::string widened(const Comparison& all) {
  const std::string& shape = target_of(all.contestants.front()).shape;
  const bool alike = std::all_of(all.contestants.begin(), all.contestants.end(),
                                 [&](const Contestant& one) { return has_widths(one) && target_of(one).shape == shape; });
  return !alike ? "" : shape == "pot" ? "pot" : shape == "disk" ? "plate" : "strip";
}

std::optional<Estimate> width_for_most(const Contestant& one) {
  const auto& curve = target_of(one).share_curve;
  if (!curve) return std::nullopt;
  double width_before = 0, sure_before = 0;
  for (std::size_t i = 0; i < curve->width.size(); ++i) {
    const double width = curve->width[i], sure = curve->share[i] - 2 * curve->std_error[i];
    if (sure >= most_of_the_light) {
      const double part = sure > sure_before ? (most_of_the_light - sure_before) / (sure - sure_before) : 1;
      return Estimate{width_before + std::clamp(part, 0.0, 1.0) * (width - width_before), std::nullopt, "m"};
    }
    width_before = width, sure_before = sure;
  }
  return std::nullopt;
}

std::string width_words(const Comparison& all, Units units) {
  const std::string what = widened(all);
  if (what.empty()) return "";
  std::string widths, never;
  for (const Contestant& one : all.contestants) {
    const auto width = width_for_most(one);
    std::string& list = width ? widths : never;
    list += (list.empty() ? "" : ", ") + one.name + (width ? " " + tape_up(width->value, units) : "");
  }
  const std::string share = exact_text(100 * most_of_the_light) + " % of the mirror's light";
  const std::string not_one = never.empty() ? "" : fmt::format("; no width will do for {}", never);
  if (all.contestants.front().scene.lamp && !widths.empty())
    return fmt::format("{} falls within a {} this wide: {}{}.", share, what == "strip" ? "band" : "circle", widths, not_one);
  if (widths.empty()) return fmt::format("No {} catches {}, however wide: {}.", what, share, never);
  return fmt::format("{} needs a {} this wide, centred on its spot: {}{}.", share, what, widths, not_one);
}

}  // namespace dishwright
