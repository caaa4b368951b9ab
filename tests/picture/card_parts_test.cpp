// SPDX-License-Identifier: MIT
// Tables and bars of a printed card, looked at dot by dot.
#include "picture/card_parts.h"

#include <doctest/doctest.h>

#include "approx.h"

using namespace dishwright;

namespace {

constexpr double dots_per_mm = 10;

/// Darkness of the dot at a place [mm], 0 … 255.
int ink_at(const Pixels& pixels, double x, double y) {
  const auto at = 4 * (static_cast<std::size_t>(y * dots_per_mm) * static_cast<std::size_t>(pixels.width) +
                       static_cast<std::size_t>(x * dots_per_mm));
  return 255 - pixels.rgba[at];
}

}  // namespace

TEST_CASE("a bar is as long as its share, beside its label or below it") {
  Pages pages(a4_page, "");
  const double end =
      draw_block(pages, {20, 20, 100, 0}, {"Shares", std::vector<CardShare>{{"half", 0.5}, {"none", 0}, {"all", 1}}});
  CHECK(end > 30);
  const double label = pages.text_width("none", card_text(7.5)) + 2, length = 100 - label - 14, first = 20 + 5 + 2;
  const Pixels pixels = pages.pixels(0, dots_per_mm);
  CHECK(ink_at(pixels, 20 + label + 0.49 * length, first) > 100);
  CHECK(ink_at(pixels, 20 + label + 0.51 * length, first) == 0);
  const double row = (end - 25) / 3;
  CHECK(ink_at(pixels, 20 + label + 0.02 * length, first + row) == 0);
  CHECK(ink_at(pixels, 20 + label + 0.98 * length, first + 2 * row) > 100);
  // A label that takes more than half of the box stands above its bar, which then has the whole width.
  draw_block(pages, {20, 100, 40, 0}, {"", std::vector<CardShare>{{"what the skin of it soaks up", 0.5}}});
  const Pixels below = pages.pixels(0, dots_per_mm);
  CHECK(ink_at(below, 39, 104.9) > 100);
  CHECK(ink_at(below, 41, 104.9) == 0);
}

TEST_CASE("a table grows by its rows, a list by its lines") {
  Pages pages(a4_page, "");
  const CardTable two{{{"a", "b"}, {"1", "2"}}}, three{{{"a", "b"}, {"1", "2"}, {"3", "4"}}};
  const Box box{20, 30, 80, 0};
  CHECK(draw_block(pages, box, {"Table", three}) - draw_block(pages, box, {"Table", two}) == testing::approx(3.7));
  const CardList list{{"short", "longer than one line of so narrow a box can be, by far"}};
  CHECK(draw_block(pages, {20, 30, 30, 0}, {"List", list}) > draw_block(pages, box, {"List", list}) + 3);
  CHECK(draw_block(pages, box, {"List", list}, 0.5) < draw_block(pages, box, {"List", list}));
}

TEST_CASE("a chart's line runs where its numbers say in a box of any size") {
  LineChart chart;
  chart.x_from = 0, chart.x_to = 10, chart.y_from = 0, chart.y_to = 10;
  chart.lines = {{"", {0, 10}, {7, 7}, {}}};
  for (const Box& box : {Box{20, 20, 90, 60}, Box{20, 20, 170, 120}}) {
    Pages pages(a4_page, "");
    draw_line_chart(pages, box, chart);
    const Pixels pixels = pages.pixels(0, dots_per_mm);
    // The frame's upper and lower side, on an upright line between two ticks; no tick stands at 7.
    const double x = box.x + 0.53 * box.width;
    double top = 0, bottom = 0, line = 0;
    for (double y = box.y; y < box.bottom(); y += 1 / dots_per_mm) {
      const int dark = ink_at(pixels, x, y);
      if (dark > 200) line = y;
      if (dark < 60) continue;
      if (top == 0) top = y;
      bottom = y;
    }
    CHECK(line == testing::approx(bottom - 0.7 * (bottom - top)).epsilon(0.01));
  }
}
