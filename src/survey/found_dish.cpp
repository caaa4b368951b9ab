// SPDX-License-Identifier: MIT
#include "survey/found_dish.h"

#include <cmath>
#include <functional>

#include "base/error.h"
#include "base/quantity.h"

namespace dishwright {

namespace {

using Formula = std::function<double(double width, double height, double depth)>;

double focal_length(double width, double height, double depth) { return width * width * width / (16 * depth * height); }
double rim_lean(double width, double height) { return std::acos(std::min(1.0, width / height)); }
/// From the axis to the middle of the rim: there the surface's chord slope y/(2f) is the rim plane's.
double middle(double width, double height, double depth) {
  return 2 * focal_length(width, height, depth) * std::tan(rim_lean(width, height));
}
/// From the focus to a point of the paraboloid at this distance from the axis: f + z.
double string_length(double f, double from_axis) { return f + from_axis * from_axis / (4 * f); }

/// The value with the tape's errors carried through by finite steps.
Estimate carried(const FoundMeasures& m, const Formula& formula, const std::string& unit) {
  const bool offset = m.height.has_value();
  const double w = m.width, h = m.height.value_or(m.width), d = m.depth, step = 1e-6 * m.depth, sigma = m.tape / std::sqrt(3.0);
  const double by_width =
      (formula(w + step, offset ? h : h + step, d) - formula(w - step, offset ? h : h - step, d)) / (2 * step);
  const double by_height = offset ? (formula(w, h + step, d) - formula(w, h - step, d)) / (2 * step) : 0;
  const double by_depth = (formula(w, h, d + step) - formula(w, h, d - step)) / (2 * step);
  const double error = sigma * std::sqrt(by_width * by_width + by_height * by_height + by_depth * by_depth);
  return {formula(w, h, d), m.tape > 0 ? std::optional<double>(error) : std::nullopt, unit};
}

std::string words(double length) { return format_quantity(length, Dimension::length, nullptr); }

void check(const FoundMeasures& m) {
  if (m.depth >= m.width) {
    throw InputError(
        "--depth " + words(m.depth) + " is as much as --width " + words(m.width) + " or more", "no dish is that deep",
        "check that width and depth are not swapped; the depth is measured inside, under a straightedge across the rim");
  }
  if (m.height && *m.height < m.width) {
    throw InputError("--height " + words(*m.height) + " is less than --width " + words(m.width),
                     "the rim of an offset dish is longer from top to bottom than from side to side", "swap the two");
  }
  if (m.height && *m.height > 2 * m.width) {
    throw InputError("--height " + words(*m.height) + " is more than twice --width " + words(m.width),
                     "the rim of an offset dish is a slightly long ellipse", "check both lengths and their units");
  }
  if (m.tape < 0 || m.tape >= m.depth / 2) {
    throw InputError("--tape " + words(m.tape) + " is no use for a depth of " + words(m.depth),
                     "the tape must be finer than half of the depth", "give what one length may be off by, such as 1/16in");
  }
}

void add_rim_of_offset(FoundDish& out, const FoundMeasures& m) {
  if (!out.offset) return;
  out.rim_lean = carried(
      m, [](double w, double l, double) { return rim_lean(w, l); }, "rad");
  out.clearance = carried(
      m, [](double w, double l, double d) { return middle(w, l, d) - w / 2; }, "m");
}

}  // namespace

FoundDish found_dish(const FoundMeasures& m) {
  check(m);
  FoundDish out;
  out.offset = m.height.has_value();
  out.focal_length = carried(m, focal_length, "m");
  const double h = m.height.value_or(m.width), tape = m.tape;
  const double h_low = out.offset ? h + tape : m.width - tape, h_high = out.offset ? h - tape : m.width + tape;
  out.low = {focal_length(m.width - tape, h_low, m.depth + tape), std::nullopt, "m"};
  out.high = {focal_length(m.width + tape, h_high, m.depth - tape), std::nullopt, "m"};
  out.focal_ratio = carried(
      m, [](double w, double l, double d) { return focal_length(w, l, d) / w; }, "1");
  if (out.focal_length.std_error.value_or(0) > well_known_focus * out.focal_length.value) {
    add_rim_of_offset(out, m);
    return out;
  }
  const auto string_to = [&](double across, double along) {
    return carried(
        m,
        [=](double w, double l, double d) {
          const double f = focal_length(w, l, d);
          return string_length(f, std::hypot(across * w / 2, middle(w, l, d) + along * w / 2));
        },
        "m");
  };
  if (!out.offset) {
    out.strings = {{"anywhere on the rim", carried(
                                               m, [](double w, double l, double d) { return focal_length(w, l, d) + d; }, "m")}};
    return out;
  }
  add_rim_of_offset(out, m);
  out.strings = {{"bottom of the rim (the edge nearest to the feed)", string_to(0, -1)},
                 {"top of the rim", string_to(0, 1)},
                 {"each side of the rim", string_to(1, 0)}};
  return out;
}

}  // namespace dishwright
