// SPDX-License-Identifier: MIT
#include "report/trace/size_words.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "report/numbers/tape_words.h"

namespace dishwright {

namespace {

constexpr double foot = 20;  // widest mirror without a doubt [ft]

}  // namespace

std::string size_words(const SideView& view, Units units) {
  std::string out = fmt::format("Mirror {} wide", length_text(view.width, units));
  if (view.depth > 1e-6) out += fmt::format(", {} deep", tape_text(view.depth, units));
  if (view.focal_length && view.width > 0) {
    out += fmt::format("; focal length {}: f/D {}", length_text(*view.focal_length, units),
                       rough_text(*view.focal_length / view.width, 2));
    if (view.offset) return out + ".";
    // Seen from the focus, between the axis and the rim.
    const double rim = std::atan2(view.width / 2, *view.focal_length - view.depth) * 180 / std::numbers::pi;
    out += fmt::format(", rim angle {} deg", rough_text(rim, 2));
  }
  return out + ".";
}

std::string size_doubts(const SideView& view, Units units) {
  constexpr double metres_per_foot = 0.3048;
  std::string out;
  if (view.width > foot * metres_per_foot)
    out += fmt::format("Is a mirror {} wide meant? That is larger than a shop builds.", length_text(view.width, units));
  if (view.focal_length && *view.focal_length < view.depth)
    out += fmt::format("{}The focus lies below the rim: the target is hard to reach, and the rim shades it.",
                       out.empty() ? "" : " ");
  return out;
}

}  // namespace dishwright
