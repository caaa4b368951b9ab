// SPDX-License-Identifier: MIT
// Tables and bars of a printed card, looked at dot by dot.
#include "picture/page_card.h"

#include <doctest/doctest.h>

#include "approx.h"
#include "picture/page_chart.h"

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

TEST_CASE("a bar is as long as its share") {
  Pages pages(a4_page, "");
  const double end = draw_page_bars(pages, {20, 20, 100, 0}, "Shares", {{"half", 0.5}, {"none", 0}, {"all", 1}});
  CHECK(end > 30);
  const double label = pages.text_width("none", card_plain(7.5)) + 2, length = 100 - label - 14, first = 20 + 5 + 2;
  const Pixels pixels = pages.pixels(0, dots_per_mm);
  CHECK(ink_at(pixels, 20 + label + 0.49 * length, first) > 100);
  CHECK(ink_at(pixels, 20 + label + 0.51 * length, first) == 0);
  const double row = (end - 25) / 3;
  CHECK(ink_at(pixels, 20 + label + 0.02 * length, first + row) == 0);
  CHECK(ink_at(pixels, 20 + label + 0.98 * length, first + 2 * row) > 100);
}

TEST_CASE("a table grows by its rows, a list by its lines; both say how high they are") {
  Pages pages(a4_page, "");
  const std::vector<std::vector<std::string>> two = {{"a", "b"}, {"1", "2"}}, three = {{"a", "b"}, {"1", "2"}, {"3", "4"}};
  const Box box{20, 30, 80, 0};
  const double row = page_table(pages, box, "Table", three) - page_table(pages, box, "Table", two);
  CHECK(row == testing::approx(3.7));
  const std::vector<std::string> items = {"short", "longer than one line of so narrow a box can be, by far"};
  CHECK(page_list(pages, box, "List", items) - box.y == testing::approx(page_list_height(pages, 80, items)));
  CHECK(page_list_height(pages, 30, items) > page_list_height(pages, 80, items) + 3);
}

TEST_CASE("a chart's line runs where its numbers say") {
  Pages pages(a4_page, "");
  LineChart chart;
  chart.x_from = 0, chart.x_to = 10, chart.y_from = 0, chart.y_to = 10;
  chart.lines = {{"level", {0, 10}, {7, 7}, {}}};
  draw_page_chart(pages, {20, 20, 100, 80}, "Chart", chart);
  // Axes from 33 to 118 mm across, from 29.5 to 91 mm down; no tick stands at 7.
  const Pixels pixels = pages.pixels(0, dots_per_mm);
  const double y = 91 - 0.7 * (91 - 29.5);
  CHECK(ink_at(pixels, 71, y) > 150);
  CHECK(ink_at(pixels, 71, y - 1) < 60);
  CHECK(ink_at(pixels, 71, y + 1) < 60);
}
