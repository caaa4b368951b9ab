// SPDX-License-Identifier: MIT
#include "report/compare/compare_verdict.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "report/numbers/number_text.h"
#include "report/numbers/provenance.h"
#include "report/numbers/text_layout.h"
#include "scene/shape_words.h"

namespace dishwright {

namespace {

constexpr double least_difference = 1e-6;

Estimate scaled(const Estimate& estimate, double scale) {
  Estimate out{estimate.value * scale, std::nullopt, "1"};
  if (estimate.std_error) out.std_error = *estimate.std_error * std::abs(scale);
  return out;
}

const TargetFigures& target_of(const Contestant& one) { return one.figures.targets.front(); }

bool by_lamp(const Contestant& one) { return one.figures.caught_share.has_value(); }

double share_of(const Contestant& one) { return ranked_share(one).value; }

/// "12.3 ± 0.1 percentage points".
std::string points_text(const Estimate& share) {
  Estimate points{100 * share.value, std::nullopt, "1"};
  if (share.std_error) points.std_error = 100 * *share.std_error;
  const std::string text = number_text(points, Units::si);
  return text + (text == "1" ? " percentage point" : " percentage points");
}

std::string listed(const Comparison& all, const Ranking& ranking) {
  std::string text;
  for (std::size_t i = 0; i < ranking.alike; ++i) {
    if (i > 0) text += i + 1 == ranking.alike ? " and " : ", ";
    text += called(all.contestants[ranking.order[i]]);
  }
  return text;
}

/// Share of a − share of b; a contestant without light counts as 0.
Estimate lead(const Comparison& all, std::size_t a, std::size_t b) {
  const bool lamp = by_lamp(all.contestants[a]);
  const auto pair = pair_difference(all, a, b, lamp ? "power" : "intercept");
  if (lamp && pair) return scaled(*pair, 1 / all.contestants[a].figures.aperture_power.value);
  return pair ? *pair : Estimate{share_of(all.contestants[a]) - share_of(all.contestants[b]), std::nullopt, "1"};
}

std::string catches(const Contestant& one) {
  return by_lamp(one) ? "of the lamp's light comes to the {} by its mirror" : "of the light from its mirror lands on the {}";
}

std::string close_call(const Comparison& all, const Ranking& ranking) {
  const std::size_t first = ranking.order[0];
  double apart = 0;
  for (std::size_t i = 1; i < ranking.alike; ++i) {
    const Estimate gap = lead(all, first, ranking.order[i]);
    apart = std::max(apart, std::abs(gap.value) + 2 * gap.std_error.value_or(0));
  }
  const std::string within = rough_text(100 * apart, 1);
  const std::string by = apart <= least_difference
                             ? "to the last digit that counts"
                             : fmt::format("to within {} percentage point{}", within, within == "1" ? "" : "s");
  const std::string same =
      by_lamp(all.contestants[first]) ? "bring the same share of the lamp's light to" : "catch the same share of the light on";
  return fmt::format("Too close to call with {} paths: {} {} the {}, {}, {}", grouped_whole(all.contestants[first].figures.paths),
                     listed(all, ranking), same, target_of(all.contestants[first]).name,
                     percent_text({share_of(all.contestants[first]), std::nullopt, "1"}), by);
}

}  // namespace

Estimate ranked_share(const Contestant& one) {
  const TargetFigures& target = target_of(one);
  if (by_lamp(one)) return scaled(target.power, 1 / one.figures.aperture_power.value);
  return target.intercept ? *target.intercept : Estimate{0, std::nullopt, "1"};
}

Ranking rank_by_share(const Comparison& all) {
  Ranking ranking;
  ranking.order.resize(all.contestants.size());
  std::iota(ranking.order.begin(), ranking.order.end(), std::size_t{0});
  std::stable_sort(ranking.order.begin(), ranking.order.end(),
                   [&](std::size_t a, std::size_t b) { return share_of(all.contestants[a]) > share_of(all.contestants[b]); });
  // Noisier ones may stand below one that is told apart: they count as alike only in an unbroken row from the top.
  while (ranking.alike < ranking.order.size()) {
    const Estimate gap = lead(all, ranking.order[0], ranking.order[ranking.alike]);
    if (gap.value > std::max(2 * gap.std_error.value_or(0), least_difference)) break;
    ++ranking.alike;
  }
  return ranking;
}

std::string called(const Contestant& one) { return called(one.name, one.rule); }

std::string called(const std::string& name, const std::string& rule) {
  if (rule.empty()) return "\"" + name + "\"";
  return the_shape(name);
}

std::string verdict(const Comparison& all) {
  const Ranking ranking = rank_by_share(all);
  const Contestant& first = all.contestants[ranking.order[0]];
  const std::string target = target_of(first).name;
  if (share_of(first) <= 0) return fmt::format("No light from a mirror reaches the {} in any of them.", target);
  const bool more = ranking.alike < ranking.order.size();
  const std::size_t next = more ? ranking.order[ranking.alike] : 0;
  if (ranking.alike > 1) {
    const std::string rest =
        more ? fmt::format("; {} {} {} less", called(all.contestants[next]), by_lamp(first) ? "brings" : "catches",
                           points_text(lead(all, ranking.order[0], next)))
             : "";
    return close_call(all, ranking) + rest + ".";
  }
  const std::string lands = fmt::format(fmt::runtime(catches(first)), target);
  return capital(fmt::format("{} {} the most: {} {}, {} more than from {}{}.", called(first),
                             by_lamp(first) ? "brings" : "catches", percent_text(ranked_share(first)), lands,
                             points_text(lead(all, ranking.order[0], next)), called(all.contestants[next]),
                             all.contestants.size() > 2 ? ", the next best" : ""));
}

}  // namespace dishwright
