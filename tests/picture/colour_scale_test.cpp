// SPDX-License-Identifier: MIT
// The ink scale is even to the eye, in colour and on a photocopy.
#include "picture/colour_scale.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using dishwright::Colour;
using dishwright::ink_colour;
using dishwright::lightness;

namespace {

/// sRGB → OKLab (B. Ottosson, 2020), written out anew from the published matrices for the way in.
struct Lab {
  double l, a, b;
};
Lab oklab(const Colour& c) {
  const auto linear = [](int v) { return v / 255.0 <= 0.04045 ? v / 255.0 / 12.92 : std::pow((v / 255.0 + 0.055) / 1.055, 2.4); };
  const double r = linear(c.red), g = linear(c.green), b = linear(c.blue);
  const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s, 1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

/// What a copier makes of a colour: luma of the coded channels (ITU-R BT.601).
double copier_grey(const Colour& c) { return 0.299 * c.red + 0.587 * c.green + 0.114 * c.blue; }

}  // namespace

TEST_CASE("lightness: white, black, middle grey") {
  // sRGB 119 is the middle grey of L* = 50.03 (from the defining formulas of IEC 61966-2-1 and CIE 15).
  CHECK(lightness({255, 255, 255}) == dishwright::testing::approx(100).epsilon(1e-6));
  CHECK(lightness({0, 0, 0}) == dishwright::testing::approx(0));
  CHECK(lightness({119, 119, 119}) == dishwright::testing::approx(50.03).epsilon(2e-4));
}

TEST_CASE("no light is white paper, the top is near black, and what is outside is clamped") {
  const Colour none = ink_colour(0), top = ink_colour(1);
  CHECK((none.red == 255 && none.green == 255 && none.blue == 255));
  CHECK(lightness(top) == dishwright::testing::approx(10).epsilon(0.05));
  CHECK(lightness(ink_colour(-3)) == lightness(none));
  CHECK(lightness(ink_colour(7)) == lightness(top));
  CHECK(lightness(ink_colour(std::nan(""))) == lightness(none));
}

TEST_CASE("lightness falls evenly from 100 to 10") {
  // An 8-bit step is up to 0.4 of L*; a kink or a wrong control point is off by several.
  for (int i = 0; i <= 200; ++i) CHECK(std::fabs(lightness(ink_colour(i / 200.0)) - (100 - 90 * i / 200.0)) < 0.5);
}

TEST_CASE("a copier keeps the order and the steps") {
  double last = 256;
  std::vector<double> steps;
  for (int i = 0; i <= 20; ++i) {
    const double grey = copier_grey(ink_colour(i / 20.0));
    if (i > 0) steps.push_back(last - grey);
    last = grey;
  }
  CHECK(*std::min_element(steps.begin(), steps.end()) > 7);
  CHECK(*std::max_element(steps.begin(), steps.end()) < 17);
}

TEST_CASE("equal steps of light look equal: no band and no flat stretch") {
  std::vector<double> steps;
  for (int i = 0; i < 32; ++i) {
    const Lab p = oklab(ink_colour(i / 32.0)), q = oklab(ink_colour((i + 1) / 32.0));
    steps.push_back(std::hypot(p.l - q.l, p.a - q.a, p.b - q.b));
  }
  double mean = 0;
  for (const double step : steps) mean += step / 32;
  CHECK(*std::min_element(steps.begin(), steps.end()) > 0.6 * mean);
  CHECK(*std::max_element(steps.begin(), steps.end()) < 1.7 * mean);
}

TEST_CASE("the hues pass from straw through brick to plum") {
  const Colour straw = ink_colour(0.15), brick = ink_colour(0.62), plum = ink_colour(0.83);
  CHECK((straw.red > straw.green && straw.green > straw.blue + 40));
  CHECK((brick.red > 2 * brick.green && brick.red > 2 * brick.blue));
  CHECK((plum.red > plum.green && plum.blue > plum.green));
}
