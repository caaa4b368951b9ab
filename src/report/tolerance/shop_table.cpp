// SPDX-License-Identifier: MIT
#include "report/tolerance/shop_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/numbers/tape_words.h"
#include "report/tolerance/tolerance_words.h"
#include "scene/mirror_surface.h"
#include "study/deviation.h"

namespace dishwright {

namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double slack = 1e-9;

/// Rounded down: tenths of a degree from 1 on, hundredths below.
std::string degrees_down(double radians) {
  const double degrees = radians / degree, step = degrees >= 1 ? 0.1 : 0.01, shown = std::floor(degrees / step + slack) * step;
  if (shown > 0) return fmt::format("{:.{}f} deg", shown, degrees >= 1 ? 1 : 2);
  return degrees > 0 ? "less than 0.01 deg" : "0 deg";
}
std::string degrees_up(double radians) { return exact_text(std::ceil(radians / degree * 100 - slack) / 100) + " deg"; }

/// Tenths of a per cent, so that 89.97 % is never shown as the 90 % that are wanted.
std::string share_down(double share) { return exact_text(std::floor(1000 * share + slack) / 10) + " %"; }

/// Of a thing that alone does not bring the wanted share: how far it comes.
std::string at_best(const ToleranceLimit& limit) {
  if (limit.curve.empty()) return "could not be tried";
  return share_down(limit.best.figure) + " at best";
}

/// One row from what is allowed and what is there, each told by `down` or `up`.
template <class Down, class Up>
ShopRow row_with(const ToleranceLimit& limit, const Down& down, const Up& up) {
  ShopRow row;
  const double may = limit.limit ? limit.limit->value : limit.searched, rest = may - limit.here;
  row.here = up(limit.here);
  if (!limit.limit && !limit.open) {
    row.may = at_best(limit), row.margin = "none";
  } else if (limit.open) {
    row.may = "any to " + down(may), row.margin = rest > 0 ? down(rest) + " or more" : "-";
  } else {
    row.may = down(may), row.margin = rest >= 0 ? down(rest) : "over by " + up(-rest);
  }
  return row;
}

ShopRow slope_row(const Tolerance& all, const ToleranceLimit& limit, Units units) {
  const double size = limit.limit ? limit.limit->value : limit.open ? limit.searched : limit.here;
  const double run = straightedge(size, rim_width(all.scene.reflectors.front().shape), units);
  ShopRow row = row_with(
      limit, [&](double slope) { return rise_down(slope * run, units); },
      [&](double slope) { return slope > 0 ? rise_up(slope * run, units) : std::string("true"); });
  row.question = fmt::format("surface slope over {}", run_text(run, units));
  if (limit.limit && limit.limit->value <= 0) row.may = "none at all";
  return row;
}

ShopRow aim_row(const ToleranceLimit& limit) {
  ShopRow row = row_with(
      limit, [](double angle) { return degrees_down(angle); },
      [](double angle) { return angle > 0 ? degrees_up(angle) : std::string("true"); });
  if (limit.limit && limit.limit->value > limit.here)
    row.margin += row.margin.starts_with("less") ? "" : fmt::format(" ({})", sun_time(limit.limit->value - limit.here));
  return row;
}

ShopRow place_row(const Tolerance& all, const ToleranceLimit& limit, Units units) {
  ShopRow row = row_with(
      limit, [&](double metres) { return tape_down(metres, units); }, [&](double metres) { return tape_up(metres, units); });
  row.here = "as drawn";
  // Too little where it stands, enough farther on.
  if (!limit.limit && !limit.open && limit.best.figure >= all.wanted)
    row.may = fmt::format("{} at {}", share_down(limit.best.figure), tape_text(limit.best.at, units));
  return row;
}

/// By the depth of the rim, which a rule measures; in per cent of the focal length where it has none.
ShopRow focal_row(const Tolerance& all, const ToleranceLimit& limit, Units units) {
  const ReflectorShape& shape = all.scene.reflectors.front().shape;
  const bool longer = limit.side == "longer";
  const double by = limit.limit ? limit.limit->value : limit.searched, now = depth_of(shape, 1),
               then = depth_of(shape, longer ? 1 + by : 1 - by);
  ShopRow row = row_with(
      limit, [](double share) { return share_down(share); }, [](double share) { return share_down(share); });
  row.question = limit_name(limit), row.here = "as drawn";
  if (now <= 0 || then <= 0) return row;
  row.question = longer ? "rim too shallow" : "rim too deep", row.here = tape_text(now, units, 32);
  if (!limit.limit && !limit.open) {
    const double best = depth_of(shape, longer ? 1 + limit.best.at : 1 - limit.best.at);
    if (limit.best.figure >= all.wanted && best > 0)
      row.may = fmt::format("{} at {}", share_down(limit.best.figure), tape_text(best, units));
    return row;
  }
  const std::string edge = longer ? tape_up(then, units) + " or more" : tape_down(then, units) + " or less";
  row.may = limit.open ? "any to " + (longer ? tape_up(then, units) : tape_down(then, units)) : edge;
  row.margin = tape_down(std::abs(now - then), units) + (limit.open ? " or more" : "");
  return row;
}

ShopRow petals_row(const ToleranceLimit& limit) {
  ShopRow row;
  row.may = limit.limit ? fmt::format("{:.0f} or more", limit.limit->value) : at_best(limit);
  row.here = limit.here > 0 ? fmt::format("{:.0f}", limit.here) : "-", row.margin = limit.limit ? "-" : "none";
  if (limit.here <= 0 || !limit.limit) return row;
  const double rest = limit.here - limit.limit->value;
  row.margin = rest >= 0 ? fmt::format("{:.0f}", rest) : fmt::format("{:.0f} too few", -rest);
  return row;
}

ShopRow tile_row(const ToleranceLimit& limit, Units units) {
  ShopRow row = row_with(
      limit, [&](double metres) { return tape_down(metres, units); }, [&](double metres) { return tape_up(metres, units); });
  if (limit.limit) row.may += " or less";
  if (limit.here <= 0) row.here = "-", row.margin = limit.limit || limit.open ? "-" : "none";
  return row;
}

ShopRow row_of_limit(const Tolerance& all, const ToleranceLimit& limit, Units units) {
  if (limit.key == "focal_length_error") return focal_row(all, limit, units);
  if (limit.key == "slope_error") return slope_row(all, limit, units);
  ShopRow row = limit.key.starts_with("aim_")     ? aim_row(limit)
                : limit.key.starts_with("offset") ? place_row(all, limit, units)
                : limit.key == "petals"           ? petals_row(limit)
                                                  : tile_row(limit, units);
  row.question = limit_name(limit);
  return row;
}

/// The file's own way of the aim says no more than across and along do.
bool told_by_its_parts(const Tolerance& all, const ToleranceLimit& limit) {
  if (limit.key != "aim_error") return false;
  bool one_way = false;
  for (const ToleranceLimit& other : all.limits) {
    if (other.key != "aim_across" && other.key != "aim_along") continue;
    one_way = one_way || other.here < 1e-9;
  }
  return one_way;
}

bool any_of_key(const Tolerance& all, const char* key) {
  return std::any_of(all.limits.begin(), all.limits.end(), [&](const ToleranceLimit& limit) { return limit.key == key; });
}

std::string part_words(const Tolerance& all, double part, const Estimate& shift, const std::string& way, Units units) {
  const ToleranceBudget& b = *all.budget;
  const double slope = part * b.slope_alone.value,
               run = straightedge(slope, rim_width(all.scene.reflectors.front().shape), units);
  return fmt::format("{} over a {} run of surface slope, {} of aim, and the {} {} {}", rise_down(slope * run, units),
                     run_text(run, units), degrees_down(part * b.aim_alone.value), all.scene.targets[all.target].name,
                     tape_down(part * shift.value, units), way);
}

}  // namespace

std::vector<ShopRow> shop_rows(const Tolerance& all, Units units) {
  std::vector<ShopRow> rows;
  for (const ToleranceLimit& limit : all.limits) {
    if (!told_by_its_parts(all, limit)) rows.push_back(row_of_limit(all, limit, units));
  }
  return rows;
}

std::vector<std::vector<std::string>> shop_cells(const Tolerance& all, Units units) {
  std::vector<std::vector<std::string>> cells = {{"", "you may have", "you are here", "margin"}};
  for (const ShopRow& row : shop_rows(all, units)) cells.push_back({row.question, row.may, row.here, row.margin});
  return cells;
}

std::vector<std::string> shop_notes(const Tolerance& all) {
  std::vector<std::string> notes = {
      "Slope: how far one end of a straightedge may stand off where the skin should touch it, as a mean (rms) over the whole "
      "surface.",
      fmt::format("Right, left, up, down: as seen from the sun, from where the {} is drawn. Minutes: until the sun, at its "
                  "fastest (15 deg an hour), has used up the rest of the aim. Rounded to the safe side.",
                  all.scene.targets[all.target].name)};
  if (any_of_key(all, "petals") || any_of_key(all, "tile"))
    notes.emplace_back("Petals: flat sheet bent one way. Tiles: flat squares with gaps of 1/20 of a tile.");
  const bool missed = std::any_of(all.limits.begin(), all.limits.end(), [](const ToleranceLimit& limit) {
    return !limit.limit && !limit.open && !limit.curve.empty();
  });
  if (missed)
    notes.push_back(fmt::format(
        "Per cent: as drawn that is too little; this is the best share that the one thing alone brings, and where. Wanted: {}.",
        wanted_text(all)));
  return notes;
}

std::string budget_sentence(const Tolerance& all, Units units) {
  if (!all.budget) return "";
  const ToleranceBudget& b = *all.budget;
  const bool aside = b.aside_is_harder();
  const Estimate part = aside ? b.aside->fraction : b.fraction, shift = aside ? b.aside->alone : b.along_alone;
  return fmt::format(
      "All three at once: {}. That is {:.0f} % of what each may have while the other two are nil; the three were traced "
      "together, at equal parts of their limits. The textbook rule (root sum square of three equal parts) would say {:.0f} %.",
      part_words(all, part.value, shift, aside ? "toward the sun's side" : "away from the mirror", units),
      std::floor(100 * part.value), 100 * b.by_root_sum_square);
}

std::string width_sentence(const Tolerance& all, Units units) {
  if (!all.needed) return "";
  const NeededWidth& need = *all.needed;
  const TargetShape& shape = all.scene.targets[all.target].shape;
  const bool band = is_band(shape), missed = need.share <= all.wanted;
  const std::string word = shape_word(shape), share = exact_text(100 * need.share) + " %";
  if (!need.width)
    return missed ? fmt::format("A wider {} would not do: none up to {} wide catches {}.", word, tape_down(need.searched, units),
                                share)
                  : "";
  return fmt::format("{} a {} {} wide{}: it catches {} with all else as the file has it.", missed ? "Or" : "For a margin take",
                     word, tape_up(*need.width, units), band ? ", as long as this one" : "", share);
}

}  // namespace dishwright
