// SPDX-License-Identifier: MIT
// Words beside the side view: sizes, rim angle by its closed form, doubts.
#include "report/trace/side_picture.h"

#include "report/trace/size_words.h"

#include <doctest/doctest.h>

using namespace dishwright;

namespace {

SideView dish(double width, double depth, std::optional<double> focal_length) {
  SideView view;
  view.width = width, view.depth = depth, view.focal_length = focal_length;
  return view;
}

}  // namespace

TEST_CASE("sizes: depth on the tape, f/D, and the rim angle atan(D/2 / (f - depth))") {
  // 48 in wide, f 24 in: depth 48²/(16 · 24) = 6 in; atan(24/18) = 53.1 deg.
  CHECK(size_words(dish(1.2192, 0.1524, 0.6096), Units::us) ==
        "Mirror 48 in wide, 6 in deep; focal length 24 in: f/D 0.5, rim angle 53 deg.");
  CHECK(size_words(dish(1.2, 0.15, 0.6), Units::si) ==
        "Mirror 1200 mm wide, 150 mm deep; focal length 600 mm: f/D 0.5, rim angle 53 deg.");
  CHECK(size_words(dish(1.2192, 0, std::nullopt), Units::us) == "Mirror 48 in wide.");
  SideView offset = dish(0.508, 0.2, 0.3048);
  offset.offset = true;
  CHECK(size_words(offset, Units::us) == "Mirror 20 in wide, 7 7/8 in deep; focal length 12 in: f/D 0.6.");
}

TEST_CASE("doubts: a mirror of 48 ft, a focus below the rim, and none for a dish as shops build it") {
  CHECK(size_doubts(dish(14.63, 1.8, 7.3), Units::us) == "Is a mirror 576 in wide meant? That is larger than a shop builds.");
  CHECK(size_doubts(dish(1.2, 0.9, 0.1), Units::si) ==
        "The focus lies below the rim: the target is hard to reach, and the rim shades it.");
  CHECK(size_doubts(dish(1.2, 0.15, 0.6), Units::us).empty());
}
