// SPDX-License-Identifier: MIT
#include "report/compare/compare_verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "report/numbers/figure_words.h"
#include "report/numbers/provenance.h"
#include "report/numbers/text_layout.h"
#include "scene/shape_words.h"

namespace dishwright {

namespace {

using Numbers = std::vector<std::size_t>;  // of contestants

constexpr double little_share = 0.05;       // below it the shares themselves are told of those that tie
constexpr double told_error = 0.0005;       // of a share: below it the first decimal of a per cent is sure
constexpr double rounding = 1e-9;           // 94 % and 93 % are one whole point apart
constexpr double least_power_apart = 0.01;  // of the larger one

Estimate scaled(const Estimate& estimate, double scale) {
  Estimate out{estimate.value * scale, std::nullopt, "1"};
  if (estimate.std_error) out.std_error = *estimate.std_error * std::abs(scale);
  return out;
}

const TargetFigures& target_of(const Contestant& one) { return one.figures.targets.front(); }

bool by_lamp(const Contestant& one) { return one.figures.caught_share.has_value(); }

double share_of(const Contestant& one) { return ranked_share(one).value; }

/// Per cent to one decimal, to two digits below 1; with the error where that is larger: "94 %", "28.6 ± 0.2 %".
std::string hundredths(const Estimate& share) {
  const double error = share.std_error.value_or(0);
  if (error >= told_error) return number_text({100 * share.value, 100 * error, "1"}, Units::si);
  const double percent = 100 * share.value;
  return std::abs(percent) < 1 ? rough_text(percent, 2) : exact_text(std::round(10 * percent) / 10);
}

/// "12.3 percentage points".
std::string points_text(const Estimate& share) {
  const std::string text = hundredths(share);
  return text + (text == "1" ? " percentage point" : " percentage points");
}

std::string listed(const Comparison& all, const Numbers& numbers) {
  std::string text;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    if (i > 0) text += i + 1 == numbers.size() ? " and " : ", ";
    text += called(all.contestants[numbers[i]]);
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

bool unclear(const Estimate& gap, double least) {
  return std::abs(gap.value) < std::max(least - rounding, 2 * gap.std_error.value_or(0));
}

bool tie(const Comparison& all, std::size_t a, std::size_t b) { return a == b || unclear(lead(all, a, b), least_share_apart); }

Numbers those_that_tie(const Ranking& ranking) {
  return {ranking.order.begin(), ranking.order.begin() + static_cast<std::ptrdiff_t>(ranking.alike)};
}

/// The first one behind those that tie at the top, and those that tie with it.
Numbers next_best(const Comparison& all, const Ranking& ranking) {
  Numbers out;
  for (std::size_t i = ranking.alike; i < ranking.order.size(); ++i) {
    if (out.empty() || tie(all, out.front(), ranking.order[i])) out.push_back(ranking.order[i]);
  }
  return out;
}

std::string catches(const Contestant& one) {
  return by_lamp(one) ? "of the lamp's light comes to the {} by its mirror" : "of the light from its mirror lands on the {}";
}

/// "12 %", or of little the share of each.
std::string shares_of(const Comparison& all, const Numbers& numbers) {
  const double most = share_of(all.contestants[numbers.front()]);
  if (most >= little_share) return "about " + fmt::format("{:.0f} %", 100 * most);
  std::string text;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    if (i > 0) text += i + 1 == numbers.size() ? " and " : ", ";
    text += rough_text(100 * share_of(all.contestants[numbers[i]]), 2) + " %";
  }
  return text;
}

/// Those at the top: alike for every use, or hidden by chance.
std::string tie_at_the_top(const Comparison& all, const Numbers& numbers) {
  const Contestant& first = all.contestants[numbers.front()];
  double apart = 0;
  bool hidden = false;
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    const Estimate gap = lead(all, numbers[0], numbers[i]);
    apart = std::max(apart, std::abs(gap.value) + 2 * gap.std_error.value_or(0));
    hidden = hidden || !unclear({gap.value, std::nullopt, "1"}, least_share_apart) ||
             2 * gap.std_error.value_or(0) > least_share_apart;
  }
  const std::string within = rough_text(100 * apart, 2);
  const std::string by = apart <= least_share_apart
                             ? "less than 1 percentage point apart"
                             : fmt::format("to within {} percentage point{}", within, within == "1" ? "" : "s");
  const std::string same =
      by_lamp(first) ? "bring the same share of the lamp's light to" : "catch the same share of the light on";
  return fmt::format(
      "{} {} the {}, {}, {}",
      hidden ? fmt::format("Too close to call with {} paths: {}", grouped_whole(first.figures.paths), listed(all, numbers))
             : capital(listed(all, numbers)),
      same, target_of(first).name, shares_of(all, numbers), by);
}

/// "; the sphere catches 3.3 percentage points less than the paraboloid": the next best, behind those that tie.
std::string behind_the_tie(const Comparison& all, const Ranking& ranking) {
  const Numbers next = next_best(all, ranking);
  if (next.empty()) return "";
  const std::size_t first = ranking.order[0];
  const bool lamp = by_lamp(all.contestants[first]), one = next.size() == 1;
  std::string text =
      fmt::format("; {} {} {} less than {}", listed(all, next), lamp ? (one ? "brings" : "bring") : (one ? "catches" : "catch"),
                  (one ? "" : "about ") + points_text(lead(all, first, next.front())), called(all.contestants[first]));
  Numbers also;  // a chain: it ties with one that ties with the first
  for (const std::size_t other : those_that_tie(ranking)) {
    if (other != first && tie(all, other, next.front())) also.push_back(other);
  }
  if (!also.empty()) text += fmt::format(" and cannot be told from {}", listed(all, also));
  return text;
}

/// A figure of all that tie, or nothing where one lacks it.
std::vector<Estimate> figures_of(const Comparison& all, const Numbers& numbers, Figure figure) {
  std::vector<Estimate> out;
  for (const std::size_t k : numbers) {
    const auto value = light_figure(target_of(all.contestants[k]), figure);
    if (!value || value->unit != light_figure(target_of(all.contestants[numbers[0]]), figure)->unit) return {};
    out.push_back(*value);
  }
  return out;
}

/// Those whose figure cannot be told from the best one (`sign` 1: the greatest, −1: the least), and the best of the rest.
struct Leaders {
  Numbers leaders;
  std::optional<std::size_t> next;  // place in the list
  std::size_t best = 0;             // place in the list
};
Leaders leaders_of(const Comparison& all, const Numbers& numbers, const FigureRow& row, const std::vector<Estimate>& values,
                   double sign, double least_part) {
  Leaders out;
  const auto better = [&](std::size_t a, std::size_t b) { return sign * values[a].value > sign * values[b].value; };
  for (std::size_t i = 1; i < values.size(); ++i) out.best = better(i, out.best) ? i : out.best;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double size = std::max(std::abs(values[i].value), std::abs(values[out.best].value));
    const auto gap = pair_difference(all, numbers[out.best], numbers[i], std::string(row.name));
    const Estimate apart = gap ? *gap : Estimate{values[out.best].value - values[i].value, std::nullopt, ""};
    if (i == out.best || unclear(apart, least_part * size)) {
      out.leaders.push_back(numbers[i]);
    } else if (!out.next || better(i, *out.next)) {
      out.next = i;
    }
  }
  return out;
}

std::string rounded(const Estimate& value, Units units) { return number_text({value.value, std::nullopt, value.unit}, units); }

std::string spot_sentence(const Comparison& all, const Numbers& numbers, Units units) {
  const std::vector<Estimate> values = figures_of(all, numbers, Figure::spot_width_90);
  if (values.empty()) return "";
  const Leaders found = leaders_of(all, numbers, row_of(Figure::spot_width_90), values, -1, least_part_apart);
  if (!found.next) return "Their spots are of one size.";
  const bool one = found.leaders.size() == 1;
  return fmt::format("Of these {} {} the smaller spot{}: 90 % of the light within {}, of {} within {}.",
                     listed(all, found.leaders), one ? "has" : "have", one ? "" : "s", rounded(values[found.best], units),
                     called(all.contestants[numbers[*found.next]]), rounded(values[*found.next], units));
}

std::string peak_sentence(const Comparison& all, const Numbers& numbers, Units units) {
  const std::vector<Estimate> values = figures_of(all, numbers, Figure::peak_irradiance);
  if (values.empty()) return "";
  const Leaders found = leaders_of(all, numbers, row_of(Figure::peak_irradiance), values, 1, least_part_apart);
  if (!found.next) return "Their brightest spots are alike.";
  const bool one = found.leaders.size() == 1;
  return fmt::format("{} {} the brighter spot{}: {} at most, {} {}.", capital(listed(all, found.leaders)), one ? "has" : "have",
                     one ? "" : "s", rounded(values[found.best], units), called(all.contestants[numbers[*found.next]]),
                     rounded(values[*found.next], units));
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
  // A noisier one may tie with the first though it stands below one that does not.
  const std::size_t first = ranking.order[0];
  const auto rest = std::stable_partition(ranking.order.begin(), ranking.order.end(),
                                          [&](std::size_t other) { return tie(all, first, other); });
  ranking.alike = static_cast<std::size_t>(rest - ranking.order.begin());
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
  if (ranking.alike > 1) return tie_at_the_top(all, those_that_tie(ranking)) + behind_the_tie(all, ranking) + ".";
  const Numbers next = next_best(all, ranking);
  const std::string lands = fmt::format(fmt::runtime(catches(first)), target);
  const std::string who = next.size() == 1 ? (all.contestants.size() > 2 ? ", the next best" : "") : ", the next best, which tie";
  return capital(fmt::format("{} {} the most: {} % {}, {} more than from {}{}.", called(first),
                             by_lamp(first) ? "brings" : "catches", hundredths(ranked_share(first)), lands,
                             points_text(lead(all, ranking.order[0], next.front())), listed(all, next), who));
}

std::string tie_words(const Comparison& all, Units units) {
  const Ranking ranking = rank_by_share(all);
  if (ranking.alike < 2 || share_of(all.contestants[ranking.order[0]]) <= 0) return "";
  const Numbers numbers = those_that_tie(ranking);
  return joined_sentences(spot_sentence(all, numbers, units), peak_sentence(all, numbers, units));
}

std::string power_words(const Comparison& all, Units units) {
  const Ranking ranking = rank_by_share(all);
  if (all.contestants.front().scene.lamp) return "";  // of a lamp's light all have the same to begin with
  Numbers everyone(all.contestants.size());
  std::iota(everyone.begin(), everyone.end(), std::size_t{0});
  std::vector<Estimate> watts;
  for (const Contestant& one : all.contestants) watts.push_back(target_of(one).power);
  const Leaders found = leaders_of(all, everyone, row_of(Figure::power), watts, 1, least_power_apart);
  const Numbers top = those_that_tie(ranking);
  if (std::all_of(top.begin(), top.end(),
                  [&](std::size_t k) { return std::find(found.leaders.begin(), found.leaders.end(), k) != found.leaders.end(); }))
    return "";
  const Contestant& one = all.contestants[everyone[found.best]];
  const std::string meets = fmt::format("{} of light meet its mirror", number_text(one.figures.aperture_power, units));
  if (found.leaders.size() > 1) return fmt::format("In watts the most comes from {}.", listed(all, found.leaders));
  return fmt::format("In watts the most comes from {}: {}; {}.", called(one), number_text(target_of(one).power, units), meets);
}

}  // namespace dishwright
