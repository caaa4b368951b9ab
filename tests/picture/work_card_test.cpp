// SPDX-License-Identifier: MIT
#include "picture/work_card.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace dishwright;

namespace {

WorkCard sample_card() {
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
  MapPicture map;
  map.panels = {panel};
  map.top = 40, map.beam = 0.85;
  WorkCard card;
  card.title = {{"Project", "Kettle dish"}, {"Target", "kettle"}, {"Light", "sun"}, {"Sheet", "light map"}};
  card.question = "How much light reaches the kettle?";
  card.answer = "712.4 ± 0.6 W";
  card.pictures = {{map}};
  card.numbers = {{"", std::vector<CardEntry>{{"Peak", "40 kW/m²"}}},
                  {"Where the light went", std::vector<CardShare>{{"kettle", 0.7}, {"missed", 0.3}}, false, true}};
  card.why = {"The sun is not a point."};
  card.settings = {"seed 7"};
  return card;
}

MapPicture& map_in(WorkCard& card) { return std::get<MapPicture>(card.pictures[0].what); }
MapPanel& panel_in(WorkCard& card) { return map_in(card).panels[0]; }

Pixels card_pixels(const WorkCard& card) { return card_pages(card, screen_page).pixels(0, screen_dots); }

/// Pixels in a box that are not white.
int inked(const Pixels& pixels, int x0, int y0, int x1, int y1) {
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
  const Pixels first = card_pixels(sample_card()), second = card_pixels(sample_card());
  CHECK(first.width == 1200);
  CHECK(first.height == 900);
  REQUIRE(first.rgba.size() == 1200U * 900U * 4U);
  CHECK(first.rgba == second.rgba);
  for (std::size_t i = 3; i < first.rgba.size(); i += 4000) CHECK(first.rgba[i] == 255);
}

TEST_CASE("every part of the card has its ink, the margin has none") {
  const Pixels pixels = card_pixels(sample_card());
  CHECK(inked(pixels, 0, 0, 1200, 10) == 0);
  CHECK(inked(pixels, 0, 890, 1200, 900) == 0);
  CHECK(inked(pixels, 20, 15, 400, 70) > 500);       // title
  CHECK(inked(pixels, 20, 80, 800, 150) > 2000);     // question and answer
  CHECK(inked(pixels, 90, 190, 640, 720) > 20000);   // map
  CHECK(inked(pixels, 690, 170, 814, 780) > 5000);   // colour bar
  CHECK(inked(pixels, 836, 170, 1172, 780) > 2000);  // numbers, why, ledger
  CHECK(inked(pixels, 20, 803, 300, 880) > 100);     // settings
}

TEST_CASE("long words stay in their place") {
  WorkCard card = sample_card();
  card.title[0].value = std::string(300, 'W');
  card.answer = std::string(300, 'W');
  CHECK(same_in(card_pixels(sample_card()), card_pixels(card), 402, 14, 1200, 74));
  CHECK(same_in(card_pixels(sample_card()), card_pixels(card), 1189, 0, 1200, 900));
}

TEST_CASE("a close-up brings a small picture of the whole face") {
  WorkCard card = sample_card();
  panel_in(card).view = {-1, 1, -1, 1};
  const Pixels pixels = card_pixels(card);
  // Under the shorter colour bar: frame, outline and spot.
  CHECK(inked(pixels, 690, 630, 814, 790) > 600);
  // The main map is the close-up: its corner, at 1.41 from the middle, is lit; in the whole it is empty.
  CHECK(lightness(pixels.at(100, 720)) < 85);
}

TEST_CASE("odd cards are drawn all the same") {
  WorkCard card = sample_card();
  map_in(card).top = 0;
  panel_in(card).values.assign(64 * 64, 0);
  CHECK(inked(card_pixels(card), 200, 400, 560, 520) > 500);  // says that no light arrives
  card = sample_card();
  map_in(card).panels.push_back(panel_in(card));
  map_in(card).panels[1].round = false;
  map_in(card).panels[1].face = map_in(card).panels[1].view = {0, 18.85, 0, 5};
  panel_in(card).view = {-1, 1, -1, 1};
  CHECK(card_pixels(card).height == 900);
  for (const double height : {0.05, 200.0}) {
    card = sample_card();
    panel_in(card).round = false;
    panel_in(card).face = {0, 6, 0, height};
    panel_in(card).view = {0, std::min(6.0, 1.25 * height), 0, std::min(height, 7.5)};
    CHECK(card_pixels(card).height == 900);
  }
  card = sample_card();
  card.title.clear(), card.settings.clear(), card.pictures.clear();
  card.question = "\xff\xfe <&> \t";
  CHECK(card_pixels(card).height == 900);
}

TEST_CASE("many numbers get smaller type and stay above the foot; bars come only where room is left") {
  WorkCard card = sample_card();
  card.settings.clear();
  const auto soft_bars = [](const Pixels& pixels) {  // the longest run of soft ink in the column of words
    int longest = 0;
    for (int y = 170; y < 780; ++y) {
      for (int x = 838, run = 0; x < 1170; ++x) {
        const double l = lightness(pixels.at(x, y)), below = lightness(pixels.at(x, y + 3));
        run = l > 35 && l < 46 && below > 35 && below < 46 ? run + 1 : 0;
        longest = std::max(longest, run);
      }
    }
    return longest;
  };
  CHECK(soft_bars(card_pixels(card)) > 80);
  card.numbers[0].body = std::vector<CardEntry>(22, {"label", "value"});
  const Pixels pixels = card_pixels(card);
  CHECK(soft_bars(pixels) < 30);
  CHECK(inked(pixels, 836, 796, 1172, 880) == 0);
  CHECK(inked(pixels, 836, 700, 1172, 780) > 100);
}

TEST_CASE("an answer that is too long for a headline wraps in smaller type") {
  WorkCard card = sample_card();
  const Pixels headline = card_pixels(card);
  card.answer =
      "The paraboloid catches the most: 100 % of the light from its mirror lands on the plate, 3.296 ± 0.011 points more.";
  const Pixels sentence = card_pixels(card);
  CHECK(inked(headline, 26, 146, 800, 162) == 0);
  CHECK(inked(sentence, 26, 146, 300, 162) > 200);   // a second line
  CHECK(inked(sentence, 1176, 80, 1186, 162) == 0);  // within the frame
}

TEST_CASE("a drawing of a card says for those who listen what it asks and answers") {
  WorkCard card = sample_card();
  card.name = "Kettle dish: map";
  const std::string svg = card_pages(card, screen_page).svg(0);
  CHECK(svg.find("<title>Kettle dish: map</title>") != std::string::npos);
  CHECK(svg.find("<desc>How much light reaches the kettle? 712.4 ± 0.6 W</desc>") != std::string::npos);
}

// ---- For print ----

namespace {

WorkCard printed_card() {
  WorkCard card = sample_card();
  card.pictures = {card.pictures[0], card.pictures[0]};
  panel_in(card).heading.clear();
  card.verdicts = {{"pass", "it will do", CardVerdict::Ground::outline}, {"fail", "it will not", CardVerdict::Ground::dark}};
  card.numbers = {{"Left list", CardList{{"one", "two"}}},
                  {"Right table", CardTable{{{"a", "b"}, {"1", "2"}}}},
                  {"Spare list", CardList{{"there is room for this"}}, true, true}};
  card.notes = {"A note."}, card.cautions = {"Never look in."};
  return card;
}

/// Rows of a sheet [mm] from the first to the last that have ink.
std::pair<double, double> inked_rows(const Pixels& pixels, double dots) {
  std::pair<double, double> rows{-1, -1};
  for (int y = 0; y < pixels.height; ++y) {
    if (inked(pixels, 0, y, pixels.width, y + 1) == 0) continue;
    if (rows.first < 0) rows.first = y / dots;
    rows.second = y / dots;
  }
  return rows;
}

}  // namespace

TEST_CASE("a printed card keeps to its margins on both papers, its settings at the foot") {
  for (const PageSize& paper : {letter_page, a4_page}) {
    const Pages pages = card_pages(printed_card(), paper);
    CHECK(pages.count() == 1);
    const Pixels pixels = pages.pixels(0, 4);
    CHECK(pixels.height == std::lround(4 * paper.height));
    const auto [first, last] = inked_rows(pixels, 4);
    CHECK(first == testing::approx(12).epsilon(0.05));
    CHECK(last < paper.height - 12);
    CHECK(last > paper.height - 15);
    CHECK(inked(pixels, 0, 0, 46, pixels.height) == 0);
    CHECK(inked(pixels, static_cast<int>(4 * (paper.width - 11.5)), 0, pixels.width, pixels.height) == 0);
  }
}

TEST_CASE("a short answer stands in the line of its question, a long one below") {
  WorkCard card = printed_card();
  card.question = "Is it good?";
  const auto right_of_question = [&] { return inked(card_pages(card, letter_page).pixels(0, 4), 640, 108, 816, 128); };
  CHECK(right_of_question() > 20);
  card.answer =
      "It is good for every use that was asked for, and for some that were not, as far as the readings can show it at all.";
  CHECK(right_of_question() == 0);
  CHECK(inked(card_pages(card, letter_page).pixels(0, 4), 48, 138, 400, 158) > 100);
}

TEST_CASE("words that do not fit go on to a next sheet, spare ones are left out, pictures shrink by half at most") {
  WorkCard card = printed_card();
  const auto items = [&](std::size_t count) {
    std::get<CardList>(card.numbers[0].body).items.assign(count, "an item of the list");
    return card_pages(card, letter_page);
  };
  CHECK(items(10).count() == 1);
  // As many as leave no room for the spare one, with the pictures as small as they get.
  std::size_t most = 10;
  while (items(most + 1).count() == 1) ++most;
  CHECK(most < 60);
  CHECK(most > 20);
  const Pages two = items(most + 1);
  REQUIRE(two.count() == 2);
  CHECK(inked_rows(two.pixels(0, 4), 4).second < letter_page.height - 12);
  CHECK(inked_rows(two.pixels(1, 4), 4).first > 11);
}

TEST_CASE("a picture of height 0 gets all that the words leave") {
  WorkCard card = printed_card();
  double height = 0;
  card.pictures = {{Drawing{[&](Pages&, const Box& box) { height = box.height; }}, "", 1, 0}};
  card_pages(card, letter_page);
  const double on_letter = height;
  card_pages(card, a4_page);
  CHECK(height - on_letter == testing::approx(a4_page.height - letter_page.height).epsilon(0.05));
  CHECK(on_letter > 100);
}
