// SPDX-License-Identifier: MIT
#include "picture/map_page.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace dishwright;

namespace {

MapPage sample_page() {
  MapPanel panel;
  panel.heading = "Front, 6 in across";
  panel.x_label = "x [in]", panel.y_label = "y [in]";
  panel.columns = panel.rows = 64;
  panel.round = true;
  panel.face = panel.view = {-3, 3, -3, 3};
  panel.whole_name = "whole disk";
  for (int i = 0; i < 64 * 64; ++i) {
    const double x = (i % 64 + 0.5) / 64 * 6 - 3, y = (i / 64 + 0.5) / 64 * 6 - 3;
    panel.values.push_back(40 * std::exp(-(x * x + y * y) / 2));
  }
  MapPage page;
  page.title_block = {{"Project", "Kettle dish"}, {"Target", "kettle"}, {"Light", "sun"}, {"Sheet", "light map"}};
  page.question = "How much light reaches the kettle?";
  page.answer = "712.4 ± 0.6 W";
  page.panels = {panel};
  page.top = 40, page.beam = 0.85;
  page.numbers = {{"Peak", "40 kW/m²"}};
  page.why = {"The sun is not a point."};
  page.ledger = {{"kettle", 0.7}, {"missed", 0.3}};
  page.settings = {"seed 7"};
  return page;
}

/// Pixels in a box that are not white.
int ink(const Pixels& pixels, int x0, int y0, int x1, int y1) {
  int count = 0;
  for (int y = y0; y < y1; ++y) {
    for (int x = x0; x < x1; ++x) count += lightness(pixels.at(x, y)) < 97 ? 1 : 0;
  }
  return count;
}

bool same_in(const Pixels& a, const Pixels& b, int x0, int y0, int x1, int y1) {
  for (int y = y0; y < y1; ++y) {
    for (int x = x0; x < x1; ++x) {
      const Colour p = a.at(x, y), q = b.at(x, y);
      if (p.red != q.red || p.green != q.green || p.blue != q.blue) return false;
    }
  }
  return true;
}

}  // namespace

TEST_CASE("a card is 1200 × 900, opaque, and the same at every drawing") {
  const Pixels first = draw_map_page(sample_page()), second = draw_map_page(sample_page());
  CHECK(first.width == 1200);
  CHECK(first.height == 900);
  REQUIRE(first.rgba.size() == 1200U * 900U * 4U);
  CHECK(first.rgba == second.rgba);
  for (std::size_t i = 3; i < first.rgba.size(); i += 4000) CHECK(first.rgba[i] == 255);
}

TEST_CASE("every part of the card has its ink, the margin has none") {
  const Pixels pixels = draw_map_page(sample_page());
  CHECK(ink(pixels, 0, 0, 1200, 10) == 0);
  CHECK(ink(pixels, 0, 890, 1200, 900) == 0);
  CHECK(ink(pixels, 20, 15, 400, 70) > 500);       // title
  CHECK(ink(pixels, 20, 80, 800, 150) > 2000);     // question and answer
  CHECK(ink(pixels, 90, 190, 640, 720) > 20000);   // map
  CHECK(ink(pixels, 690, 170, 814, 780) > 5000);   // colour bar
  CHECK(ink(pixels, 836, 170, 1172, 780) > 2000);  // numbers, why, ledger
  CHECK(ink(pixels, 20, 803, 300, 880) > 100);     // settings
}

TEST_CASE("the ledger's bars are as long as their shares") {
  MapPage page = sample_page();
  page.numbers.clear(), page.why.clear();
  const Pixels pixels = draw_map_page(page);
  // Longest run of soft ink in each row of the words' column: 0.7 and 0.3 of its width.
  int longest[2] = {0, 0};
  for (int y = 170; y < 780; ++y) {
    int run = 0;
    for (int x = 838; x < 1170; ++x) {
      const double l = lightness(pixels.at(x, y));
      run = l > 30 && l < 45 ? run + 1 : 0;
      longest[y < 250 ? 0 : 1] = std::max(longest[y < 250 ? 0 : 1], run);
    }
  }
  CHECK(longest[0] == testing::approx(0.7 * 335).epsilon(0.03));
  CHECK(longest[1] == testing::approx(0.3 * 335).epsilon(0.05));
}

TEST_CASE("long words stay in their place") {
  MapPage page = sample_page();
  page.title_block[0].value = std::string(300, 'W');
  page.answer = std::string(300, 'W');
  CHECK(same_in(draw_map_page(sample_page()), draw_map_page(page), 402, 14, 1200, 74));
  CHECK(same_in(draw_map_page(sample_page()), draw_map_page(page), 1189, 0, 1200, 900));
}

TEST_CASE("a close-up brings a small picture of the whole face") {
  MapPage page = sample_page();
  page.panels[0].view = {-1, 1, -1, 1};
  const Pixels pixels = draw_map_page(page);
  // Under the shorter colour bar: frame, outline and spot.
  CHECK(ink(pixels, 690, 630, 814, 790) > 600);
  // The main map is the close-up: its corner, at 1.41 from the middle, is lit; in the whole it is empty.
  CHECK(lightness(pixels.at(100, 720)) < 85);
}

TEST_CASE("odd cards are drawn all the same") {
  MapPage page = sample_page();
  page.top = 0;
  page.panels[0].values.assign(64 * 64, 0);
  CHECK(ink(draw_map_page(page), 200, 400, 560, 520) > 500);  // says that no light arrives
  page = sample_page();
  page.panels.push_back(page.panels[0]);
  page.panels[1].round = false;
  page.panels[1].face = page.panels[1].view = {0, 18.85, 0, 5};
  page.panels[0].view = {-1, 1, -1, 1};
  CHECK(draw_map_page(page).height == 900);
  for (const double height : {0.05, 200.0}) {
    page = sample_page();
    page.panels[0].round = false;
    page.panels[0].face = {0, 6, 0, height};
    page.panels[0].view = {0, std::min(6.0, 1.25 * height), 0, std::min(height, 7.5)};
    CHECK(draw_map_page(page).height == 900);
  }
  page = sample_page();
  page.numbers.assign(40, {"label", "value"});
  page.title_block.clear(), page.settings.clear();
  page.question = "\xff\xfe <&> \t";
  CHECK(draw_map_page(page).height == 900);
}
